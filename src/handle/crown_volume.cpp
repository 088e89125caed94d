#include "crown_volume.hpp"

#include "numeric.hpp"

namespace haftwright::layout {
namespace {

/// Integral of the thickness from the curve's first knot to x.
class SummedThickness {
 public:
  explicit SummedThickness(const std::vector<MonotoneCubic::Station>& stations)
      : curve_(stations), knots_(curve_.knots()) {
    for (std::size_t i = 1; i < knots_.size(); ++i)
      sums_.push_back(sums_.back() + span(knots_[i - 1], knots_[i]));
  }

  double at(double x) const {
    const auto next = std::ranges::upper_bound(knots_, x);
    const std::size_t i = next == knots_.begin() ? 0 : static_cast<std::size_t>(next - knots_.begin()) - 1;
    return sums_[i] + span(knots_[i], x);
  }
  const std::vector<double>& knots() const { return knots_; }

 private:
  /// Within one span the thickness is cubic, which three nodes integrate exactly.
  double span(double from, double to) const {
    return integrate(kGauss3, from, to, [&](double x) { return curve_.value(x); });
  }

  MonotoneCubic curve_;
  std::vector<double> knots_;
  std::vector<double> sums_{0};
};

/// Integral from the crest to y of how far the crown drops across.
double summed_drop(const SurfaceShape& shape, double y) {
  if (!shape.crown_radius_mm) return 0;
  const double r = *shape.crown_radius_mm;
  const double v = std::clamp(y - shape.crest_y_mm, -r, r);
  return r * v - (v * std::sqrt(r * r - v * v) + r * r * std::asin(v / r)) / 2;
}

/// Where to divide an edge, from 0 to 1: short stretches, and at the knots along a line.
std::vector<double> divisions(const Edge& edge, const std::vector<double>& knots) {
  constexpr double kLongestStretch_mm = 6;
  constexpr double kWidestStretch = 0.3;
  const double pieces =
      std::ceil(std::max(edge.length() / kLongestStretch_mm, std::abs(edge.sweep) / kWidestStretch));
  std::vector<double> at;
  for (double i = 0; i <= pieces; ++i) at.push_back(i / pieces);
  if (!edge.is_arc() && edge.to.x != edge.from.x)
    for (const double knot : knots) {
      const double t = (knot - edge.from.x) / (edge.to.x - edge.from.x);
      if (t > 0 && t < 1) at.push_back(t);
    }
  std::ranges::sort(at);
  return at;
}

}  // namespace

double crown_volume_mm3(const SurfaceShape& shape, const std::vector<Outline>& region) {
  const SummedThickness thickness(shape.thickness_mm);
  double volume = 0;
  for (const Outline& outline : region)
    for (const Edge& edge : outline.edges()) {
      const double length = edge.length();
      const auto rate = [&](double t) {
        const Vec2 p = edge.point(t);
        const Vec2 step = edge.direction(t) * length;
        return thickness.at(p.x) * step.y + summed_drop(shape, p.y) * step.x;
      };
      const std::vector<double> at = divisions(edge, thickness.knots());
      for (std::size_t i = 0; i + 1 < at.size(); ++i) volume += integrate(kGauss5, at[i], at[i + 1], rate);
    }
  return volume;
}

}  // namespace haftwright::layout
