// What a handle asks of the wood: closed forms, and every piece inside its blank.
#include "haftwright/cutting/needs.hpp"

#include <catch2/catch.hpp>
#include <cmath>

#include "haftwright/geometry/outline_ops.hpp"
#include "haftwright/handle/lay_out.hpp"
#include "support/designs.hpp"
#include "support/nearly.hpp"
#include "support/random_design.hpp"
#include "support/seeds.hpp"

using namespace haftwright;
using test::nearly;

namespace {

/// How far inside a convex counter-clockwise polygon a point lies; negative outside.
double inside_mm(const std::vector<Vec2>& polygon, Vec2 p) {
  double least = 1e9;
  for (std::size_t i = 0; i < polygon.size(); ++i) {
    const Vec2 along = polygon[(i + 1) % polygon.size()] - polygon[i];
    const Vec2 from = p - polygon[i];
    least = std::min(least, (along.x * from.y - along.y * from.x) / std::hypot(along.x, along.y));
  }
  return least;
}

/// Places of a piece's body at height s: its finished plan between its two planes, by dense trying.
template <class Visit>
void each_place(const Part& part, const SideLayout& side, double s, Visit&& visit) {
  const Bounds box = side.edge.bounds();
  for (int i = 0; i <= 60; ++i)
    for (int j = 0; j <= 12; ++j) {
      const Vec2 p = box.low + box.size() * Vec2(i / 60.0, j / 12.0);
      if (side.edge.depth_mm(p) < 0 || part.front.behind_mm(p.x, p.y, s) < 0) continue;
      if (!part.to_butt && part.rear.behind_mm(p.x, p.y, s) > 0) continue;
      visit(p);
    }
}

}  // namespace

TEST_CASE("a blank between square joints is the piece and its allowances") {
  Design design = test::starter();
  design.left.joints[0].slant_deg = design.left.joints[0].rake_deg = 0;
  design.left.joints[0].spacers.clear();
  design.left.front = {};
  design.left.liners.clear();
  for (Pin& pin : design.pins) pin.liner_hole = {};
  const Handle handle = lay_out(design);
  const Needs needs = needs_of(design, handle);
  REQUIRE(needs.pieces.size() == 4);
  const PieceNeed& front = needs.pieces[0];
  const double place = design.left.joints[0].place_mm;
  const Bounds plan = handle.left.parts[0].inner_face.front().bounds();
  REQUIRE(front.outline.size() == 4);
  double low_x = 1e9, high_x = -1e9, low_y = 1e9, high_y = -1e9;
  for (const Vec2 p : front.outline) {
    low_x = std::min(low_x, p.x);
    high_x = std::max(high_x, p.x);
    low_y = std::min(low_y, p.y);
    high_y = std::max(high_y, p.y);
  }
  CHECK(low_x == nearly(-design.rules.blank_joint_allowance_mm));
  CHECK(high_x == nearly(place + design.rules.blank_joint_allowance_mm));
  CHECK(low_y == nearly(plan.low.y - design.rules.blank_outline_allowance_mm));
  CHECK(high_y == nearly(plan.high.y + design.rules.blank_outline_allowance_mm));
  CHECK(front.thickness_mm ==
        nearly(handle.left.parts[0].s_high_mm + design.rules.blank_thickness_allowance_mm));
  CHECK(needs.mates.size() == 2);
  CHECK(needs.pins.size() == design.pins.size());
  CHECK(needs.pins[0].length_mm == nearly(handle.pins[0].length_mm + 3));
}

TEST_CASE("a raked joint asks for what it reaches over through the whole rough thickness") {
  Design design = test::starter();
  design.left.joints[0].spacers.clear();
  design.left.joints[0].slant_deg = 0;
  design.left.joints[0].rake_deg = 0;
  const auto reach = [](const Design& d) {
    const Needs needs = needs_of(d, lay_out(d));
    double high = -1e9;
    for (const Vec2 p : needs.pieces[0].outline) high = std::max(high, p.x);
    return std::pair(high, needs.pieces[0].thickness_mm);
  };
  const auto [square, thick] = reach(design);
  design.left.joints[0].rake_deg = 20;
  const auto raked = reach(design);
  CHECK(raked.first - square == nearly(raked.second * std::tan(20 * std::acos(-1.0) / 180)));
  design.left.joints[0].rake_deg = -20;
  CHECK(reach(design).first == nearly(square));
}

TEST_CASE("every place of a piece lies inside its blank, the allowances all round it") {
  const test::Seeds seeds =
      test::seeds_to_try("HAFTWRIGHT_BLANKS", {.few = 20, .usual = 150, .all = 2000}, 0);
  std::size_t places = 0;
  for (std::uint64_t seed = seeds.first; seed < seeds.first + seeds.count; ++seed) {
    const Design design = test::random_design(seed);
    const Handle handle = lay_out(design);
    const Needs needs = needs_of(design, handle);
    INFO("seed " << seed);
    std::size_t index = 0;
    for (const SideLayout* side : {&handle.left, &handle.right})
      for (const Part& part : side->parts) {
        if (part.kind != PartKind::piece) continue;
        const PieceNeed& need = needs.pieces.at(index++);
        REQUIRE(need.name == part.name);
        const double room =
            std::min(design.rules.blank_joint_allowance_mm, design.rules.blank_outline_allowance_mm);
        double least = 1e9;
        for (const double share : {0.0, 0.5, 1.0})
          each_place(part, *side, share * part.s_high_mm, [&](Vec2 p) {
            least = std::min(least, inside_mm(need.outline, p));
            ++places;
          });
        REQUIRE(least >= room - 1e-9);
      }
    REQUIRE(index == needs.pieces.size());
  }
  CHECK(places > 100 * seeds.count);
}

TEST_CASE("a typed blank is at hand, and sheets are as large as what is cut from them") {
  Design design = test::starter();
  design.left.pieces[0].blank.length_mm = 60;
  CHECK_FALSE(needs_of(design, lay_out(design)).pieces[0].at_hand);
  design.left.pieces[0].blank.width_mm = 40;
  const Handle handle = lay_out(design);
  const Needs needs = needs_of(design, handle);
  CHECK(needs.pieces[0].at_hand);
  CHECK_FALSE(needs.pieces[1].at_hand);
  REQUIRE(needs.sheets.size() == 4);
  const SheetNeed& liner = needs.sheets[0];
  CHECK(liner.kind == PartKind::liner);
  const Bounds plan = handle.left.finished.bounds();
  CHECK(liner.outline[2].x - liner.outline[0].x ==
        nearly(plan.size().x + 2 * design.rules.blank_outline_allowance_mm));
  CHECK(needs.sheets[1].kind == PartKind::spacer);
  CHECK(needs.sheets[1].thickness_mm == design.left.joints[0].spacers[0].thickness_mm);
}
