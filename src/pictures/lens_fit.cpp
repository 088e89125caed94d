#include "lens_fit.hpp"

#include <cmath>

#include "homography.hpp"

namespace haftwright::pictures {
namespace {

// No lens that keeps its picture in one piece bows it more; a fisheye is no lens for measuring.
constexpr double kMostBow = 0.2;
// Places are not known better than this, however well they happen to agree.
constexpr double kLeastNoise_px = 0.1;
// What the model with one number leaves of real lenses, as a share of what it corrects. From own judgement.
constexpr double kModelShare = 0.1;
constexpr std::size_t kEnoughMarks = 6;

/// Squares of distances from the line that fits best.
double off_line(const Lens& lens, const std::vector<Vec2>& edge) {
  Vec2 middle{0, 0};
  std::vector<Vec2> straight;
  for (const Vec2 px : edge) {
    straight.push_back(lens.straightened(px));
    middle += straight.back() / static_cast<double>(edge.size());
  }
  double xx = 0, xy = 0, yy = 0;
  for (const Vec2 p : straight) {
    const Vec2 d = p - middle;
    xx += d.x * d.x;
    xy += d.x * d.y;
    yy += d.y * d.y;
  }
  return (xx + yy - std::hypot(xx - yy, 2 * xy)) / 2;
}

class Cost {
 public:
  Cost(const SquaringInput& input, Vec2 centre_px, double unit_px)
      : input_(input), lens_{0, centre_px, unit_px} {
    if (input.marks.size() >= kEnoughMarks) free_ += 2 * static_cast<double>(input.marks.size()) - 8;
    for (const auto& edge : input.straight_edges_px) free_ += static_cast<double>(edge.size()) - 2;
  }

  double degrees_of_freedom() const { return free_ - 1; }

  double operator()(double k1) const {
    Lens lens = lens_;
    lens.k1 = k1;
    double sum = 0;
    for (const auto& edge : input_.straight_edges_px) sum += off_line(lens, edge);
    if (input_.marks.size() < kEnoughMarks) return sum;
    std::vector<Pair> pairs;
    for (const Mark& mark : input_.marks) pairs.push_back({mark.at_mm, lens.straightened(mark.at_px)});
    const auto fit = fit_homography(pairs);
    if (!fit) return sum;
    for (const Pair& pair : pairs) {
      const Vec2 off = fit->map(pair.from) - pair.to;
      sum += glm::dot(off, off);
    }
    return sum;
  }

 private:
  const SquaringInput& input_;
  Lens lens_;
  double free_ = 0;
};

/// The least place by golden section.
double least_place(const Cost& cost, double low, double high) {
  const double part = (std::sqrt(5.0) - 1) / 2;
  double a = high - part * (high - low);
  double b = low + part * (high - low);
  double at_a = cost(a);
  double at_b = cost(b);
  while (high - low > 1e-6) {
    if (at_a < at_b) {
      high = b;
      b = a;
      at_b = at_a;
      a = high - part * (high - low);
      at_a = cost(a);
    } else {
      low = a;
      a = b;
      at_a = at_b;
      b = low + part * (high - low);
      at_b = cost(b);
    }
  }
  return (low + high) / 2;
}

}  // namespace

std::optional<LensFit> fit_lens(const SquaringInput& input, Vec2 centre_px, double unit_px) {
  const Cost cost(input, centre_px, unit_px);
  if (cost.degrees_of_freedom() < 1) return {};
  const double k1 = least_place(cost, -kMostBow, kMostBow);
  constexpr double step = 1e-3;
  const double least = cost(k1);
  const double bend = (cost(k1 + step) - 2 * least + cost(k1 - step)) / (step * step);
  if (!(bend > 0)) return {};
  const double noise_px = std::max(kLeastNoise_px, std::sqrt(least / cost.degrees_of_freedom()));
  // The variance of a least squares estimate: twice the noise's over the cost's second derivative.
  const double deviation = noise_px * std::sqrt(2 / bend);
  const LensFit fit{k1, 2 * deviation + kModelShare * std::abs(k1)};
  // A vague finding serves only where it shows that the lens bows more than was taken for granted.
  if (2 * deviation >= std::max(input.lens_bow_share, std::abs(k1) - input.lens_bow_share)) return {};
  return fit;
}

}  // namespace haftwright::pictures
