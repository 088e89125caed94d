// The layout against closed forms, conservation, symmetry, and an independent sum over columns.
#include <algorithm>
#include <catch2/catch.hpp>
#include <cmath>
#include <functional>
#include <numbers>

#include "haftwright/design/starters.hpp"
#include "haftwright/design/validate.hpp"
#include "haftwright/handle/lay_out.hpp"
#include "support/random_design.hpp"

using namespace haftwright;

namespace {

constexpr double kPi = std::numbers::pi;

/// A 100 x 20 mm bar of steel, flat sides 8 mm thick with sharp edges, two pieces parted at x = 40, no pins.
Design bar() {
  Design design = starter_design({{{-10, -10}, 0}, {{100, -10}, 0}, {{100, 10}, 0}, {{-10, 10}, 0}}, 4,
                                 LengthUnit::millimetre);
  design.pins.clear();
  design.left.liners.clear();
  design.left.joints[0] = {40, 0, 0, {}};
  design.left.finish = {{{0, 8}}, std::nullopt, 0, 0};
  return design;
}

const Part& part(const SideLayout& side, PartKind kind, std::size_t index) {
  return *std::find_if(side.parts.begin(), side.parts.end(),
                       [&](const Part& p) { return p.kind == kind && p.index == index; });
}

double piece_mm3(const Design& design, std::size_t index) {
  return part(lay_out(design).left, PartKind::piece, index).volume_mm3;
}

std::string refused_field(const Design& design) {
  try {
    lay_out(design);
  } catch (const InputError& error) {
    return error.problems().front().field;
  }
  return "was laid out";
}

}  // namespace

TEST_CASE("box pieces, slanted and raked joints, spacer strips: volumes by hand") {
  Design design = bar();
  CHECK(piece_mm3(design, 0) == Approx(40 * 20 * 8).epsilon(1e-9));
  CHECK(piece_mm3(design, 1) == Approx(60 * 20 * 8).epsilon(1e-9));
  // A slant about the axis takes on one half what it gives on the other.
  design.left.joints[0].slant_deg = 25;
  CHECK(piece_mm3(design, 0) == Approx(40 * 20 * 8).epsilon(1e-9));
  // A rake adds a wedge as long as the side is thick. Raked planes are integrated row by row: 4e-7 off here,
  // and 6e-6 of a half-millimetre strip.
  design.left.joints[0].slant_deg = 0;
  design.left.joints[0].rake_deg = 30;
  const double wedge = std::tan(30 * kPi / 180) * 8 * 8 / 2 * 20;
  CHECK(piece_mm3(design, 0) == Approx(40 * 20 * 8 + wedge).epsilon(1e-6));
  // A strip's thickness is measured square to the joint: along x it takes more.
  design.left.joints[0].spacers = {{"vulcanized_fibre", 0.5}};
  const Handle handle = lay_out(design);
  const double along_x = 0.5 / std::cos(30 * kPi / 180);
  CHECK(part(handle.left, PartKind::spacer, 0).volume_mm3 == Approx(along_x * 20 * 8).epsilon(1e-5));
}

TEST_CASE("liners, butt allowance, round-over and crown: volumes by hand") {
  Design design = bar();
  design.left.liners = {{"vulcanized_fibre", 1.5}};
  Handle handle = lay_out(design);
  CHECK(part(handle.left, PartKind::liner, 0).volume_mm3 == Approx(100 * 20 * 1.5).epsilon(1e-9));
  CHECK(handle.left.scale_volume_mm3 == Approx(100 * 20 * 6.5).epsilon(1e-9));
  design = bar();
  design.left.butt_proud_mm = 2;
  CHECK(lay_out(design).left.scale_volume_mm3 == Approx(102 * 20 * 8).epsilon(1e-9));
  // Far from the corners a round-over takes (1 - pi/4) r^2 off each long edge.
  design = bar();
  design.left.finish.round_over_mm = 3;
  design.left.joints = {{20, 0, 0, {}}, {60, 0, 0, {}}};
  design.left.pieces.push_back(design.left.pieces[0]);
  CHECK(piece_mm3(design, 1) == Approx(40 * (20 * 8 - 2 * (1 - kPi / 4) * 9)).epsilon(1e-5));
  // A crown takes what lies over the circle: the mean drop of a segment 20 wide.
  design = bar();
  const double r = 30;
  design.left.finish.crown_radius_mm = r;
  const double under_circle = 10 * std::sqrt(r * r - 100) + r * r * std::asin(10 / r);
  CHECK(lay_out(design).left.scale_volume_mm3 ==
        Approx(100 * (20 * 8 - (20 * r - under_circle))).epsilon(1e-8));
}

TEST_CASE("a hole through a tapered tang has an ellipse for a rim") {
  Design design = bar();
  design.tang.thickness_front_mm = 6;
  design.tang.thickness_butt_mm = 2;
  Pin pin;
  pin.name = "a";
  pin.at_mm = {20, 3};
  pin.stock.nominal_mm = 5;
  pin.scale_hole.diameter_mm = 5.1;
  pin.tang_hole.diameter_mm = 5.2;
  design.pins = {pin};
  const Handle handle = lay_out(design);
  CHECK(handle.tang_slope == Approx(-0.04));
  const double lean = std::atan(0.02);  // of each face
  for (const HoleLayer& layer : handle.pins[0].layers) {
    CHECK(layer.rim_semi_minor_mm == Approx(layer.diameter_mm / 2));
    CHECK(layer.rim_semi_major_mm == Approx(layer.diameter_mm / 2 / std::cos(lean)));
    CHECK(std::abs(layer.rim_centre.z) == Approx((6 - 0.04 * 20) / 2));
    CHECK(Vec2(layer.rim_centre) == pin.at_mm);
    CHECK(layer.length_mm() == Approx(layer.kind == HoleLayer::Kind::tang ? 5.2 : 8.0));
  }
  CHECK(handle.pins[0].length_mm == Approx(5.2 + 16));
  // Mean thickness from x = -10 to 100 is 6 - 0.04 x 45; the hole goes through 5.2 mm of it.
  CHECK(handle.tang_volume_mm3 == Approx(110 * 20 * (6 - 0.04 * 45) - kPi * 2.6 * 2.6 * 5.2).epsilon(1e-9));
  const Part& front = part(handle.left, PartKind::piece, 0);
  CHECK(front.drilled_mm3 == Approx(kPi * 2.55 * 2.55 * 8).epsilon(1e-6));
  CHECK(handle.left.bonds.front().area_mm2 ==
        Approx((40 * 20 - kPi * 2.6 * 2.6) / std::cos(lean)).epsilon(1e-3));
}

TEST_CASE("random designs: parts make up the whole, nothing is lost or counted twice") {
  for (std::uint64_t seed = 0; seed < 2000; ++seed) {
    INFO("seed " << seed);
    const Handle handle = lay_out(test::random_design(seed));
    for (const Which which : {Which::left, Which::right}) {
      const SideLayout& side = handle.side(which);
      double sum = 0;
      for (const Part& p : side.parts) {
        REQUIRE(std::isfinite(p.volume_mm3));
        CHECK(p.volume_mm3 > 0);
        CHECK(p.drilled_mm3 >= 0);
        CHECK(p.drilled_mm3 < p.volume_mm3);
        if (p.kind != PartKind::liner) sum += p.volume_mm3;
      }
      CHECK(sum == Approx(side.scale_volume_mm3).epsilon(1e-6));
      for (const Bond& bond : side.bonds) CHECK(bond.area_mm2 >= 0);
    }
    CHECK(handle.tang_volume_mm3 > 0);
  }
}

TEST_CASE("joint lines lie on their planes and on the finished surface") {
  for (std::uint64_t seed = 0; seed < 200; ++seed) {
    INFO("seed " << seed);
    const Handle handle = lay_out(test::random_design(seed));
    for (const Which which : {Which::left, Which::right}) {
      const SideLayout& side = handle.side(which);
      const auto s_of = [&](Vec3 p) {
        return std::abs(p.z) - handle.tang_thickness_mm(p.x) / 2 - side.liner_total_mm;
      };
      for (const JointLayout& joint : side.joints)
        for (const JointLine& line : joint.lines) {
          for (const Vec3& p : line.on_surface) {
            CHECK(std::abs(line.plane.behind_mm(p.x, p.y, s_of(p))) < 1e-6);
            if (side.edge.depth_mm(Vec2(p)) > 1e-6)
              CHECK(std::abs(side.scale_height_mm(Vec2(p)) - s_of(p)) < 1e-5);
          }
          for (const LineEnd& end : {line.spine, line.belly}) {
            CHECK(std::abs(s_of(end.inner)) < 1e-9);
            CHECK(std::abs(side.edge.depth_mm(Vec2(end.inner))) < 1e-6);
            CHECK(std::abs(side.edge.depth_mm(Vec2(end.outer))) < 1e-6);
            CHECK(std::abs(s_of(end.outer) - end.outer_s_mm) < 1e-6);
            CHECK(std::abs(line.plane.behind_mm(end.outer.x, end.outer.y, end.outer_s_mm)) < 1e-6);
          }
          CHECK(line.spine.inner.y > line.belly.inner.y);
        }
    }
  }
}

TEST_CASE("a mirrored design has the same numbers on both sides") {
  for (std::uint64_t seed = 0; seed < 200; ++seed) {
    Design design = test::random_design(seed);
    design.right = {};
    INFO("seed " << seed);
    const Handle handle = lay_out(design);
    REQUIRE(handle.left.parts.size() == handle.right.parts.size());
    for (std::size_t i = 0; i < handle.left.parts.size(); ++i) {
      CHECK(handle.left.parts[i].volume_mm3 == handle.right.parts[i].volume_mm3);
      CHECK(handle.left.parts[i].drilled_mm3 == handle.right.parts[i].drilled_mm3);
    }
    for (std::size_t i = 0; i < handle.left.joints.size(); ++i) {
      const LineEnd& left = handle.left.joints[i].lines.front().spine;
      const LineEnd& right = handle.right.joints[i].lines.front().spine;
      CHECK(left.outer == Vec3(right.outer.x, right.outer.y, -right.outer.z));
    }
    // Laid out as a side of its own instead of as a mirror image, the right side is the same.
    Design spelt_out = design;
    spelt_out.right.finish = design.left.finish;
    spelt_out.right.finish->crest_y_mm = std::nextafter(design.left.finish.crest_y_mm, 1e3);
    const Handle other = lay_out(spelt_out);
    CHECK(other.right.scale_volume_mm3 == Approx(handle.right.scale_volume_mm3).epsilon(1e-6));
  }
}

TEST_CASE("volumes agree with a plain sum over columns") {
  for (const std::uint64_t seed : {1, 5, 13, 27}) {
    const Design design = test::random_design(seed);
    const Handle handle = lay_out(design);
    const SideLayout& side = handle.left;
    constexpr double kStep = 0.1;
    double sum = 0;
    const Bounds& bounds = side.edge.bounds();
    for (double x = bounds.low.x + kStep / 2; x < bounds.high.x; x += kStep)
      for (double y = bounds.low.y + kStep / 2; y < bounds.high.y; y += kStep) {
        if (!side.edge.contains({x, y})) continue;
        const double top = side.scale_height_mm({x, y});
        // The part of the column behind the front face; its height is linear in s.
        const double at_foot = side.front.behind_mm(x, y, 0);
        const double at_top = side.front.behind_mm(x, y, top);
        double share = at_foot > 0 && at_top > 0 ? 1 : 0;
        if ((at_foot > 0) != (at_top > 0))
          share = std::max(at_foot, at_top) / (std::abs(at_foot) + std::abs(at_top));
        sum += share * top * kStep * kStep;
      }
    INFO("seed " << seed);
    CHECK(side.scale_volume_mm3 == Approx(sum).epsilon(1e-3));
  }
}

TEST_CASE("what can't be laid out is refused with its field") {
  Design design = bar();
  design.left.joints = {{40, 30, 0, {}}, {44, -30, 0, {}}};  // cross at the belly
  design.left.pieces.push_back(design.left.pieces[0]);
  CHECK(refused_field(design).rfind("sides.left.joints[", 0) == 0);
  design = bar();
  design.left.joints[0].place_mm = 150;
  CHECK(refused_field(design).rfind("sides.left.joints[0]", 0) == 0);
  design = bar();
  design.left.front.place_mm = 120;
  CHECK(refused_field(design).rfind("sides.left.front", 0) == 0);
  design = bar();
  design.left.finish.round_over_mm = 8.5;
  CHECK(refused_field(design).rfind("sides.left.finish", 0) == 0);
  design = bar();
  design.left.liners = {{"g10", 7.95}};
  design.left.finish.round_over_mm = 0.5;
  CHECK(refused_field(design) != "was laid out");
  design = bar();
  design.left.finish.crown_radius_mm = 5;
  CHECK(refused_field(design).rfind("sides.left.finish", 0) == 0);
}
