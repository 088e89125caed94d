// Shallow marks: L and R, the way to the front, and where clamps go.
#include <algorithm>
#include <cmath>

#include "plan.hpp"

namespace haftwright::guide {
namespace {

constexpr double kLetterHeightMm = 8;
constexpr double kStrokeMm = 1.5;
constexpr double kGridMm = 1;

Outline polygon(const std::vector<Vec2>& points, Vec2 at, bool mirrored) {
  std::vector<Node> chain;
  for (Vec2 p : points) chain.push_back({at + Vec2{mirrored ? -p.x : p.x, p.y}, 0});
  return Outline(std::move(chain));
}

Outline bar(Vec2 low, Vec2 high, Vec2 at, bool mirrored) {
  return polygon({low, {high.x, low.y}, high, {low.x, high.y}}, at, mirrored);
}

std::vector<Outline> letter_l(Vec2 at) {
  const double h = kLetterHeightMm / 2;
  return {polygon({{-2, -h},
                   {2, -h},
                   {2, -h + kStrokeMm},
                   {-2 + kStrokeMm, -h + kStrokeMm},
                   {-2 + kStrokeMm, h},
                   {-2, h}},
                  at, false)};
}

/// Mirrored, since it is read from the other side. Bars overlap so that they become one pocket.
std::vector<Outline> letter_r(Vec2 at) {
  const double h = kLetterHeightMm / 2;
  const double w = kStrokeMm;
  return {bar({-2, -h}, {-2 + w, h}, at, true), bar({-2, h - w}, {2, h}, at, true),
          bar({-2, -w / 2}, {2, w / 2}, at, true), bar({2 - w, -w / 2}, {2, h}, at, true),
          polygon({{2 - 1.2 * w, -h}, {2 + 0.2 * w, -h}, {1.2 * w - 0.6, 0}, {-0.6, 0}}, at, true)};
}

std::vector<Outline> arrow(Vec2 at) {
  return {polygon({{-5, 0}, {-1, -3}, {-1, -0.75}, {5, -0.75}, {5, 0.75}, {-1, 0.75}, {-1, 3}}, at, false)};
}

/// The place on the plate where a disc has most room, clear of everything cut or standing there.
Vec2 roomiest(const DrillGuide& guide, const std::vector<Disc>& taken) {
  const Bounds& bounds = guide.plate.bounds();
  Vec2 best = guide.plate.moments().centroid;
  double best_gap = -HUGE_VAL;
  for (double x = bounds.low.x + kGridMm / 2; x < bounds.high.x; x += kGridMm) {
    for (double y = bounds.low.y + kGridMm / 2; y < bounds.high.y; y += kGridMm) {
      const Disc here{{x, y}, 0};
      double gap = std::min(edge_gap_mm(here, guide.plate), gap_to_all_mm(here, guide));
      for (const Disc& disc : taken) gap = std::min(gap, gap_mm(here, disc));
      if (gap > best_gap + 1e-9) {
        best = here.at;
        best_gap = gap;
      }
    }
  }
  return best;
}

}  // namespace

void add_marks(DrillGuide& guide) {
  std::vector<Disc> taken;
  for (Vec2 land : guide.clamp_lands) taken.push_back({land, guide.clamp_land_mm / 2});
  const Vec2 letter_at = roomiest(guide, taken);
  taken.push_back({letter_at, kLetterHeightMm / 2 + 1});
  const Vec2 arrow_at = roomiest(guide, taken);
  for (bool on_left : {true, false}) {
    guide.marks.push_back(
        {GuideMark::Kind::letter, on_left, on_left ? letter_l(letter_at) : letter_r(letter_at)});
    guide.marks.push_back({GuideMark::Kind::front_arrow, on_left, arrow(arrow_at)});
    for (Vec2 land : guide.clamp_lands)
      guide.marks.push_back(
          {GuideMark::Kind::clamp_land, on_left, {circle({land, guide.clamp_land_mm / 2})}});
  }
}

}  // namespace haftwright::guide
