// Volumes against sums made in another way: plain columns on rows along x, not the layout's integrals.
#include <catch2/catch.hpp>
#include <cmath>
#include <numbers>

#include "bar.hpp"
#include "haftwright/geometry/outline_ops.hpp"
#include "support/random_design.hpp"

using namespace haftwright;

namespace {

constexpr double kPi = std::numbers::pi;

/// The part of a column of height `top` over p that lies between a part's planes.
double column_mm(const Part& part, Vec2 p, double top) {
  double low = 0;
  double high = std::max(0.0, top);
  const auto keep_behind = [&](const CutPlane& plane, double sign) {
    const double at_foot = sign * plane.behind_mm(p.x, p.y, 0);
    const double at_top = sign * plane.behind_mm(p.x, p.y, top);
    if (at_foot <= 0 && at_top <= 0) high = low;
    if (at_foot > 0 && at_top <= 0) high = std::min(high, top * at_foot / (at_foot - at_top));
    if (at_foot <= 0 && at_top > 0) low = std::max(low, top * at_foot / (at_foot - at_top));
  };
  keep_behind(part.front, 1);
  if (!part.to_butt) keep_behind(part.rear, -1);
  return std::max(0.0, high - low);
}

/// Node i of n on [0, 1], crowding toward both ends, and its weight.
struct Crowded {
  Crowded(int i, int n) {
    const double angle = kPi * (i + 0.5) / n;
    at = (1 - std::cos(angle)) / 2;
    weight = std::sin(angle) * std::sin(kPi / (2 * n));  // these sum up to 1
  }
  double at;
  double weight;
};

/// Volume of every piece and strip, summed over rows. Rows, and the columns in them, crowd toward walls and
/// planes, where heights change fast.
std::vector<double> summed_mm3(const SideLayout& side, const std::vector<const Part*>& parts) {
  constexpr int kRows = 1200;
  constexpr int kColumns = 24;  // between two neighbouring planes or walls
  std::vector<double> sums(parts.size(), 0);
  const Bounds& bounds = side.edge.bounds();
  for (int i = 0; i < kRows; ++i) {
    const Crowded row(i, kRows);
    const double y = bounds.low.y + bounds.size().y * row.at;
    const double height = bounds.size().y * row.weight;
    std::vector<double> breaks;
    for (const Crossing& wall : crossings(side.edge, {0, y}, {1, 0})) breaks.push_back(wall.point.x);
    const double last = breaks.back();
    breaks.push_back(last - side.surface.shape().round_over_mm);
    for (const Part* part : parts)
      for (double s = 0, step = 0; step < 4; ++step) {
        breaks.push_back(std::min(last, part->front.x_at(y, s)));
        s = std::max(0.0, side.scale_height_mm({part->front.x_at(y, s), y}));
        if (step == 0) s /= 2;  // the middle of a wedge, then its end as nearly as two steps find it
      }
    std::ranges::sort(breaks);
    for (std::size_t b = 0; b + 1 < breaks.size(); ++b) {
      const double width = breaks[b + 1] - breaks[b];
      if (width < 1e-9) continue;
      for (int k = 0; k < kColumns; ++k) {
        const Crowded column(k, kColumns);
        const Vec2 p{breaks[b] + width * column.at, y};
        const double area = width * column.weight * height;
        const double top = side.scale_height_mm(p);
        if (top <= 0) continue;
        for (std::size_t n = 0; n < parts.size(); ++n) sums[n] += area * column_mm(*parts[n], p, top);
      }
    }
  }
  return sums;
}

}  // namespace

TEST_CASE("every piece and strip agrees with a sum over columns") {
  for (std::uint64_t seed = 0; seed < 25; ++seed) {
    const Design design = test::random_design(seed);
    const Handle handle = lay_out(design);
    const HandleVolumes volumes = volumes_of(design, handle);
    for (const Which which : {Which::left, Which::right}) {
      const SideLayout& side = handle.side(which);
      std::vector<const Part*> parts;
      for (const Part& part : side.parts)
        if (part.kind != PartKind::liner) parts.push_back(&part);
      const std::vector<double> sums = summed_mm3(side, parts);
      for (std::size_t n = 0; n < parts.size(); ++n) {
        INFO("seed " << seed << ", " << parts[n]->name);
        // As near as the sums themselves come: four times the rows halve what is off and more.
        const bool strip = parts[n]->kind == PartKind::spacer;
        const auto place = static_cast<std::size_t>(parts[n] - side.parts.data());
        CHECK(volumes.side(which).parts[place].whole_mm3 == Approx(sums[n]).epsilon(strip ? 2e-4 : 1e-4));
      }
    }
  }
}
