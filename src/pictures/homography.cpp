#include "homography.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>
#include <utility>

namespace haftwright::pictures {
namespace {

constexpr std::size_t kFree = 8;
using Row = std::array<double, kFree>;
using Matrix = std::array<Row, kFree>;

/// Pivots this much smaller than the largest mean that the pairs leave a direction open.
constexpr double kLeastPivot = 1e-12;
constexpr int kMostSteps = 20;
/// Covers the second order with room to spare: tests with random views needed less than half of it.
constexpr double kCurved = 10;

/// The inverse, by elimination with pivots; nothing for a matrix without one.
std::optional<Matrix> inverse_of(Matrix a) {
  Matrix out{};
  for (std::size_t i = 0; i < kFree; ++i) out[i][i] = 1;
  double largest = 0;
  for (std::size_t column = 0; column < kFree; ++column) {
    std::size_t pivot = column;
    for (std::size_t r = column + 1; r < kFree; ++r)
      if (std::abs(a[r][column]) > std::abs(a[pivot][column])) pivot = r;
    std::swap(a[pivot], a[column]);
    std::swap(out[pivot], out[column]);
    const double value = a[column][column];
    largest = std::max(largest, std::abs(value));
    if (!(std::abs(value) > kLeastPivot * largest)) return {};
    for (std::size_t k = 0; k < kFree; ++k) {
      a[column][k] /= value;
      out[column][k] /= value;
    }
    for (std::size_t r = 0; r < kFree; ++r) {
      if (r == column) continue;
      const double times = a[r][column];
      for (std::size_t k = 0; k < kFree; ++k) {
        a[r][k] -= times * a[column][k];
        out[r][k] -= times * out[column][k];
      }
    }
  }
  return out;
}

Row times(const Matrix& a, const Row& x) {
  Row out{};
  for (std::size_t i = 0; i < kFree; ++i)
    for (std::size_t k = 0; k < kFree; ++k) out[i] += a[i][k] * x[k];
  return out;
}

/// How both coordinates of the result change with the eight free values, m[8] being 1.
std::array<Row, 2> by_values(const Homography& map, Vec2 p) {
  const double depth = map.depth(p);
  const Vec2 to = map(p);
  return {Row{p.x / depth, p.y / depth, 1 / depth, 0, 0, 0, -to.x * p.x / depth, -to.x * p.y / depth},
          Row{0, 0, 0, p.x / depth, p.y / depth, 1 / depth, -to.y * p.x / depth, -to.y * p.y / depth}};
}

/// Moves points so that their middle is 0 and their mean distance from it the square root of 2.
template <class Get>
std::optional<Homography> scaling(std::span<const Pair> pairs, Get get) {
  const auto count = static_cast<double>(pairs.size());
  Vec2 middle{0, 0};
  for (const Pair& pair : pairs) middle += get(pair) / count;
  double distance = 0;
  for (const Pair& pair : pairs) distance += glm::distance(get(pair), middle) / count;
  if (!(distance > 0) || !std::isfinite(distance)) return {};
  const double by = std::numbers::sqrt2 / distance;
  return Homography{{by, 0, -by * middle.x, 0, by, -by * middle.y, 0, 0, 1}};
}

void add_square(Matrix& sum, const Row& row) {
  for (std::size_t i = 0; i < kFree; ++i)
    for (std::size_t k = 0; k < kFree; ++k) sum[i][k] += row[i] * row[k];
}
void add_scaled(Row& sum, const Row& row, double by) {
  for (std::size_t i = 0; i < kFree; ++i) sum[i] += by * row[i];
}

/// The direct linear transformation with m[8] = 1: the middle of the pairs, 0, is seen, so that m[8] is not
/// 0.
std::optional<Homography> linear_fit(const std::vector<Pair>& pairs) {
  Matrix squares{};
  Row right{};
  for (const auto& [from, to] : pairs) {
    const Row x{from.x, from.y, 1, 0, 0, 0, -to.x * from.x, -to.x * from.y};
    const Row y{0, 0, 0, from.x, from.y, 1, -to.y * from.x, -to.y * from.y};
    add_square(squares, x);
    add_square(squares, y);
    add_scaled(right, x, to.x);
    add_scaled(right, y, to.y);
  }
  const auto inverse = inverse_of(squares);
  if (!inverse) return {};
  const Row values = times(*inverse, right);
  Homography map;
  std::copy(values.begin(), values.end(), map.m.begin());
  return map;
}

double cost_of(const Homography& map, const std::vector<Pair>& pairs) {
  double sum = 0;
  for (const auto& [from, to] : pairs) {
    const Vec2 off = map(from) - to;
    sum += glm::dot(off, off);
  }
  return sum;
}

struct Normal {
  Matrix squares{};
  Row right{};
};
Normal normal_of(const Homography& map, const std::vector<Pair>& pairs) {
  Normal normal;
  for (const auto& [from, to] : pairs) {
    const Vec2 off = to - map(from);
    const auto rows = by_values(map, from);
    add_square(normal.squares, rows[0]);
    add_square(normal.squares, rows[1]);
    add_scaled(normal.right, rows[0], off.x);
    add_scaled(normal.right, rows[1], off.y);
  }
  return normal;
}

/// Gauss-Newton, as long as it gets better.
void refine(Homography& map, const std::vector<Pair>& pairs) {
  double cost = cost_of(map, pairs);
  for (int i = 0; i < kMostSteps; ++i) {
    const Normal normal = normal_of(map, pairs);
    const auto inverse = inverse_of(normal.squares);
    if (!inverse) return;
    const Row step = times(*inverse, normal.right);
    Homography next = map;
    for (std::size_t k = 0; k < kFree; ++k) next.m[k] += step[k];
    const double next_cost = cost_of(next, pairs);
    if (!(next_cost < cost)) return;
    const bool done = cost - next_cost < 1e-14 * cost;
    map = next;
    cost = next_cost;
    if (done) return;
  }
}

/// The largest stretch of a 2 x 2 matrix given by its columns.
double largest_stretch(Vec2 a, Vec2 b) {
  const double sum = glm::dot(a, a) + glm::dot(b, b);
  const double area = cross(a, b);
  return std::sqrt((sum + std::sqrt(std::max(0.0, sum * sum - 4 * area * area))) / 2);
}

}  // namespace

std::array<Vec2, 2> Homography::derivatives(Vec2 p) const {
  const double w = depth(p);
  const Vec2 to = (*this)(p);
  return {(Vec2{m[0], m[3]} - m[6] * to) / w, (Vec2{m[1], m[4]} - m[7] * to) / w};
}

double Homography::determinant() const {
  return m[0] * (m[4] * m[8] - m[5] * m[7]) - m[1] * (m[3] * m[8] - m[5] * m[6]) +
         m[2] * (m[3] * m[7] - m[4] * m[6]);
}

Homography Homography::inverse() const {
  const double d = determinant();
  return {{(m[4] * m[8] - m[5] * m[7]) / d, (m[2] * m[7] - m[1] * m[8]) / d, (m[1] * m[5] - m[2] * m[4]) / d,
           (m[5] * m[6] - m[3] * m[8]) / d, (m[0] * m[8] - m[2] * m[6]) / d, (m[2] * m[3] - m[0] * m[5]) / d,
           (m[3] * m[7] - m[4] * m[6]) / d, (m[1] * m[6] - m[0] * m[7]) / d,
           (m[0] * m[4] - m[1] * m[3]) / d}};
}

Homography operator*(const Homography& first, const Homography& second) {
  Homography out;
  for (std::size_t r = 0; r < 3; ++r)
    for (std::size_t c = 0; c < 3; ++c) {
      out.m[3 * r + c] = 0;
      for (std::size_t k = 0; k < 3; ++k) out.m[3 * r + c] += first.m[3 * r + k] * second.m[3 * k + c];
    }
  return out;
}

std::optional<HomographyFit> fit_homography(std::span<const Pair> pairs) {
  if (pairs.size() < 4) return {};
  const auto from_scaled = scaling(pairs, [](const Pair& pair) { return pair.from; });
  const auto to_scaled = scaling(pairs, [](const Pair& pair) { return pair.to; });
  if (!from_scaled || !to_scaled) return {};
  std::vector<Pair> scaled;
  for (const Pair& pair : pairs) scaled.push_back({(*from_scaled)(pair.from), (*to_scaled)(pair.to)});
  auto map = linear_fit(scaled);
  if (!map) return {};
  refine(*map, scaled);
  const auto inverse = inverse_of(normal_of(*map, scaled).squares);
  if (!inverse || map->determinant() == 0) return {};
  HomographyFit fit{to_scaled->inverse() * *map * *from_scaled, *from_scaled, *to_scaled, *map, {}};
  for (const Pair& pair : scaled)
    for (const Row& row : by_values(*map, pair.from)) fit.follow.push_back(times(*inverse, row));
  return fit;
}

double HomographyFit::largest_shift(Vec2 from, double shift) const {
  const auto rows = by_values(scaled, from_scaled(from));
  double sum = 0;
  for (std::size_t i = 0; i + 1 < follow.size(); i += 2) {
    std::array<Vec2, 2> columns{};
    for (std::size_t k = 0; k < kFree; ++k) {
      columns[0] += Vec2{rows[0][k], rows[1][k]} * follow[i][k];
      columns[1] += Vec2{rows[0][k], rows[1][k]} * follow[i + 1][k];
    }
    sum += largest_stretch(columns[0], columns[1]);
  }
  // Shifts are small beside the spread of the pairs, but not infinitely so: what the derivative leaves out is
  // of the order of the shift over the spread, times the shift.
  const double beside_spread = shift * to_scaled.m[0];
  return sum * shift * (1 + kCurved * beside_spread);
}

}  // namespace haftwright::pictures
