// The layout against closed forms and conservation; what joint lines are.
#include <catch2/catch.hpp>
#include <cmath>
#include <numbers>

#include "bar.hpp"
#include "support/nearly.hpp"
#include "support/random_design.hpp"

using namespace haftwright;

using test::bar;
using test::piece_mm3;
using test::scale_mm3;
using test::steel_mm3;
using test::volume;

namespace {

constexpr double kPi = std::numbers::pi;

}  // namespace

TEST_CASE("box pieces, slanted and raked joints, spacer strips: volumes by hand") {
  Design design = bar();
  CHECK(piece_mm3(design, 0) == Approx(40 * 20 * 8).epsilon(1e-9));
  CHECK(piece_mm3(design, 1) == Approx(60 * 20 * 8).epsilon(1e-9));
  // A slant about the axis takes on one half what it gives on the other.
  design.left.joints[0].slant_deg = 25;
  CHECK(piece_mm3(design, 0) == Approx(40 * 20 * 8).epsilon(1e-9));
  // A rake adds a wedge as long as the side is thick.
  design.left.joints[0].slant_deg = 0;
  design.left.joints[0].rake_deg = 30;
  const double wedge = std::tan(30 * kPi / 180) * 8 * 8 / 2 * 20;
  CHECK(piece_mm3(design, 0) == Approx(40 * 20 * 8 + wedge).epsilon(1e-9));
  // A strip's thickness is measured square to the joint: along x it takes more.
  design.left.joints[0].spacers = {{"vulcanized_fibre", 0.5}};
  const double along_x = 0.5 / std::cos(30 * kPi / 180);
  CHECK(volume(design, PartKind::spacer, 0).whole_mm3 == Approx(along_x * 20 * 8).epsilon(1e-9));
}

TEST_CASE("liners, butt allowance, round-over and crown: volumes by hand") {
  Design design = bar();
  design.left.liners = {{"vulcanized_fibre", 1.5}};
  CHECK(volume(design, PartKind::liner, 0).whole_mm3 == Approx(100 * 20 * 1.5).epsilon(1e-9));
  CHECK(scale_mm3(design) == Approx(100 * 20 * 6.5).epsilon(1e-9));
  design = bar();
  design.left.butt_proud_mm = 2;
  CHECK(scale_mm3(design) == Approx(102 * 20 * 8).epsilon(1e-9));
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
  CHECK(scale_mm3(design) == Approx(100 * (20 * 8 - (20 * r - under_circle))).epsilon(1e-8));
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
  CHECK(handle.tang_slope == test::nearly(-0.04));
  const double lean = std::atan(0.02);  // of each face
  for (const HoleLayer& layer : handle.pins[0].layers) {
    CHECK(layer.rim_semi_minor_mm == test::nearly(layer.diameter_mm / 2));
    CHECK(layer.rim_semi_major_mm == test::nearly(layer.diameter_mm / 2 / std::cos(lean)));
    CHECK(std::abs(layer.rim_centre.z) == test::nearly((6 - 0.04 * 20) / 2));
    CHECK(Vec2(layer.rim_centre) == pin.at_mm);
    CHECK(layer.length_mm() == test::nearly(layer.kind == HoleLayer::Kind::tang ? 5.2 : 8.0));
  }
  CHECK(handle.pins[0].length_mm == test::nearly(5.2 + 16));
  // Mean thickness from x = -10 to 100 is 6 - 0.04 x 45; the hole goes through 5.2 mm of it.
  CHECK(steel_mm3(design) == Approx(110 * 20 * (6 - 0.04 * 45) - kPi * 2.6 * 2.6 * 5.2).epsilon(1e-9));
  CHECK(volume(design, PartKind::piece, 0).drilled_mm3 == Approx(kPi * 2.55 * 2.55 * 8).epsilon(1e-6));
  CHECK(handle.left.bonds.front().area_mm2 ==
        Approx((40 * 20 - kPi * 2.6 * 2.6) / std::cos(lean)).epsilon(1e-9));
}

TEST_CASE("random designs: parts make up the whole, nothing is lost or counted twice") {
  for (std::uint64_t seed = 0; seed < 2000; ++seed) {
    INFO("seed " << seed);
    const Design design = test::random_design(seed);
    const Handle handle = lay_out(design);
    const HandleVolumes volumes = volumes_of(design, handle);
    for (const Which which : {Which::left, Which::right}) {
      const SideLayout& side = handle.side(which);
      REQUIRE(volumes.side(which).parts.size() == side.parts.size());
      double sum = 0;
      for (std::size_t i = 0; i < side.parts.size(); ++i) {
        const PartVolume& volume = volumes.side(which).parts[i];
        REQUIRE(std::isfinite(volume.whole_mm3));
        CHECK(volume.whole_mm3 > 0);
        CHECK(volume.drilled_mm3 >= 0);
        CHECK(volume.drilled_mm3 < volume.whole_mm3);
        if (side.parts[i].kind != PartKind::liner) sum += volume.whole_mm3;
      }
      CHECK(sum == Approx(volumes.side(which).scale_mm3).epsilon(1e-6));
      for (const Bond& bond : side.bonds) CHECK(bond.area_mm2 >= 0);
    }
    CHECK(volumes.tang_mm3 > 0);
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
          for (std::size_t i = 1; i < line.on_surface.size(); ++i)
            CHECK(glm::distance(line.on_surface[i - 1], line.on_surface[i]) <= 1);
          CHECK(glm::distance(line.on_surface.front(), line.belly.outer) < 1e-6);
          CHECK(glm::distance(line.on_surface.back(), line.spine.outer) < 1e-6);
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
