// Faces and what is taken out of them: joint faces, glued areas, holes.
#include <catch2/catch.hpp>
#include <cmath>
#include <numbers>

#include "bar.hpp"
#include "support/random_design.hpp"

using namespace haftwright;
using test::bar;
using test::drilled_mm3;
using test::part;
using test::pin_at;
using test::scale_mm3;
using test::steel_mm3;
using test::volume;

namespace {

constexpr double kPi = std::numbers::pi;

double tan_deg(double degrees) {
  return std::tan(degrees * kPi / 180);
}

const Bond& bond(const SideLayout& side, const std::string& name) {
  const auto found = std::ranges::find(side.bonds, name, &Bond::name);
  INFO("no bond called " << name);
  REQUIRE(found != side.bonds.end());
  return *found;
}

/// Area common to two circles of radius r whose centres lie d apart.
double lens_mm2(double r, double d) {
  return 2 * r * r * std::acos(d / (2 * r)) - d / 2 * std::sqrt(4 * r * r - d * d);
}

}  // namespace

TEST_CASE("a slanted and raked joint meets a plain bar where its plane says") {
  Design design = bar();
  design.left.joints[0] = {40, 25, 15, {}};
  const Handle handle = lay_out(design);
  const JointLine& line = handle.left.joints[0].lines[0];
  const double slant = tan_deg(25);
  const double rake = tan_deg(15);
  CHECK(glm::distance(line.spine.inner, Vec3(40 + 10 * slant, 10, 2)) < 1e-9);
  CHECK(glm::distance(line.belly.inner, Vec3(40 - 10 * slant, -10, 2)) < 1e-9);
  CHECK(glm::distance(line.spine.outer, Vec3(40 + 10 * slant + 8 * rake, 10, 10)) < 1e-9);
  CHECK(glm::distance(line.belly.outer, Vec3(40 - 10 * slant + 8 * rake, -10, 10)) < 1e-9);
  CHECK(line.spine.outer_s_mm == Approx(8).epsilon(1e-12));
  CHECK(line.face_area_mm2 == Approx(20 * 8 * std::sqrt(1 + slant * slant + rake * rake)).epsilon(1e-9));
  CHECK(bond(handle.left, "left joint 1: front piece to rear piece").area_mm2 == line.face_area_mm2);
}

TEST_CASE("strips lie evenly about the joint's place, each as thick as it is square to it") {
  Design design = bar();
  design.left.joints[0] = {40, 20, -10, {{"g10", 0.8}, {"brass_c36000", 0.4}}};
  const Handle handle = lay_out(design);
  const std::vector<JointLine>& lines = handle.left.joints[0].lines;
  REQUIRE(lines.size() == 3);
  const Vec3 normal = glm::normalize(Vec3(1, -tan_deg(20), -tan_deg(-10)));
  // From any point of one face to the next, seen along the normal.
  CHECK(glm::dot(normal, lines[1].spine.inner - lines[0].belly.outer) == Approx(0.8).epsilon(1e-9));
  CHECK(glm::dot(normal, lines[2].belly.inner - lines[1].spine.outer) == Approx(0.4).epsilon(1e-9));
  CHECK((lines[0].plane.x0_mm + lines[2].plane.x0_mm) / 2 == Approx(40).epsilon(1e-12));
  const Part& strip = part(handle.left, PartKind::spacer, 1);
  CHECK(strip.front == lines[1].plane);
  CHECK(strip.rear == lines[2].plane);
  CHECK(strip.name == "left joint 1 spacer 2");
  CHECK(part(handle.left, PartKind::piece, 1).front == lines[2].plane);
  bond(handle.left, "left joint 1: front piece to spacer 1");
  bond(handle.left, "left joint 1: spacer 1 to spacer 2");
  bond(handle.left, "left joint 1: spacer 2 to rear piece");
}

TEST_CASE("on a tapered tang a joint's face is the parallelogram between its ends") {
  for (const double slant : {-30.0, 0.0, 18.0})
    for (const double rake : {-20.0, 0.0, 12.0}) {
      Design design = bar();
      design.tang.thickness_front_mm = 6;
      design.tang.thickness_butt_mm = 3;
      design.left.joints[0] = {50, slant, rake, {}};
      const JointLine line = lay_out(design).left.joints[0].lines[0];
      const Vec3 across = line.spine.inner - line.belly.inner;
      const Vec3 up = line.belly.outer - line.belly.inner;
      INFO("slant " << slant << ", rake " << rake);
      CHECK(line.face_area_mm2 == Approx(glm::length(glm::cross(across, up))).epsilon(1e-9));
    }
}

TEST_CASE("a raked front face overhangs or falls back by a wedge; liners follow it down") {
  for (const double rake : {-25.0, 25.0}) {
    Design design = bar();
    design.left.front = {0, 0, rake};
    design.left.liners = {{"g10", 2}};
    const Handle handle = lay_out(design);
    const double lean = tan_deg(rake);
    INFO("rake " << rake);
    CHECK(scale_mm3(design) == Approx(20 * (100 * 6 - lean * 6 * 6 / 2)).epsilon(1e-9));
    // s runs from -2 to 0 in the liner: the face there lies 2 tan(rake) to 0 ahead of its place.
    const Part& liner = part(handle.left, PartKind::liner, 0);
    CHECK(volume(design, PartKind::liner, 0).whole_mm3 == Approx(20 * 2 * (100 + lean)).epsilon(1e-9));
    CHECK(liner.inner_face_area_mm2 == Approx(20 * (100 + 2 * lean)).epsilon(1e-9));
    CHECK(bond(handle.left, "left tang to liner 1").area_mm2 == Approx(20 * (100 + 2 * lean)).epsilon(1e-9));
    CHECK(handle.left.front_spine.outer.x == Approx(6 * lean).epsilon(1e-9));
    CHECK(handle.left.front_spine.inner.x == Approx(0).margin(1e-9));
    CHECK(part(handle.left, PartKind::piece, 0).plan_bounds.low.x ==
          Approx(std::min(0.0, 6 * lean)).margin(1e-9));
  }
}

TEST_CASE("glued areas leave out holes, cutouts and what stands proud of the tang") {
  Design design = bar();
  design.left.liners = {{"g10", 1}, {"vulcanized_fibre", 0.5}};
  design.left.butt_proud_mm = 1;
  design.tang.cutouts = {{{{60, -4}, 0}, {{80, -4}, 0}, {{80, 4}, 0}, {{60, 4}, 0}}};
  design.tang.holes = {{"old", {30, 0}, 7}};
  design.pins = {pin_at({20, 2}, 4, 4.2)};
  design.pins[0].liner_hole.diameter_mm = 4.4;
  design.pins[0].tang_hole.diameter_mm = 4.1;
  const SideLayout left = lay_out(design).left;
  const auto disc = [](double diameter) { return kPi / 4 * diameter * diameter; };
  CHECK(bond(left, "left tang to liner 1").area_mm2 ==
        Approx(100 * 20 - 20 * 8 - disc(7) - disc(4.4)).epsilon(1e-12));
  CHECK(bond(left, "left liner 1 to liner 2").area_mm2 == Approx(101 * 20 - disc(4.4)).epsilon(1e-12));
  CHECK(bond(left, "left liner 2 to front piece").area_mm2 == Approx(40 * 20 - disc(4.4)).epsilon(1e-12));
  CHECK(bond(left, "left liner 2 to rear piece").area_mm2 == Approx(61 * 20).epsilon(1e-12));
  CHECK(left.bonds.size() == 5);
  CHECK(volume(design, PartKind::liner, 1).drilled_mm3 == Approx(0.5 * disc(4.4)).epsilon(1e-12));
  // Without liners every piece lies on the steel, and none of it where it stands proud.
  design.left.liners.clear();
  const SideLayout bare = lay_out(design).left;
  CHECK(bond(bare, "left tang to front piece").area_mm2 ==
        Approx(40 * 20 - disc(7) - disc(4.2)).epsilon(1e-12));
  CHECK(bond(bare, "left tang to rear piece").area_mm2 == Approx(60 * 20 - 20 * 8).epsilon(1e-12));
}

TEST_CASE("holes that overlap each other, a cutout or the tang's end are taken out once") {
  Design design = bar();
  design.left.joints.clear();
  design.left.pieces.resize(1);
  const double whole = 110 * 20 * 4;
  const double disc = kPi * 9;
  design.tang.holes = {{"a", {50, 0}, 6}, {"b", {54, 0}, 6}};
  CHECK(steel_mm3(design) == Approx(whole - 4 * (2 * disc - lens_mm2(3, 4))).epsilon(1e-5));
  design.tang.holes = {{"a", {50, 0}, 6}, {"b", {50.5, 0.5}, 3}};  // the second inside the first
  CHECK(steel_mm3(design) == Approx(whole - 4 * disc).epsilon(1e-12));
  design.tang.holes = {{"a", {100, 0}, 6}};  // half of it off the end
  CHECK(steel_mm3(design) == Approx(whole - 4 * disc / 2).epsilon(1e-5));
  design.tang.holes = {{"a", {60, 0}, 6}};
  design.tang.cutouts = {{{{60, -5}, 0}, {{80, -5}, 0}, {{80, 5}, 0}, {{60, 5}, 0}}};
  CHECK(steel_mm3(design) == Approx(whole - 4 * (20 * 10 + disc / 2)).epsilon(1e-5));
}

TEST_CASE("a hole across a joint takes its share of the face and of each part") {
  Design design = bar();
  const double radius = 2.5;
  constexpr int kSteps = 20000;
  for (const double rake : {0.0, 30.0, -30.0})
    for (const double off : {0.0, 1.2, 2.4, 2.6}) {
      design.left.joints[0] = {40, 0, rake, {{"g10", 0.6}}};
      design.pins = {pin_at({40 + off, 1}, 4.8, 2 * radius)};
      const SideLayout left = lay_out(design).left;
      INFO("rake " << rake << ", off " << off);
      const double lean = tan_deg(rake);
      // The chords of the hole along a plane parallel to the joint, summed up its height.
      const auto chords_mm2 = [&](double x0) {
        double face = 0;
        for (int i = 0; i < kSteps; ++i) {
          const double from_axis = x0 + 8 * (i + 0.5) / kSteps * lean - (40 + off);
          face += 2 * std::sqrt(std::max(0.0, radius * radius - from_axis * from_axis)) * 8 / kSteps;
        }
        return face;
      };
      const std::vector<JointLine>& lines = left.joints[0].lines;
      for (const JointLine& line : lines)
        CHECK(line.drilled_area_mm2 ==
              Approx(chords_mm2(line.plane.x0_mm) * std::hypot(1, lean)).epsilon(1e-4).margin(1e-6));
      CHECK(drilled_mm3(design) == Approx(kPi * radius * radius * 8).epsilon(1e-3));
      constexpr int kPlanes = 100;
      const double from = lines[0].plane.x0_mm;
      const double step = (lines[1].plane.x0_mm - from) / kPlanes;
      double strip = 0;
      for (int i = 0; i < kPlanes; ++i) strip += chords_mm2(from + (i + 0.5) * step) * step;
      CHECK(volume(design, PartKind::spacer, 0).drilled_mm3 == Approx(strip).epsilon(5e-3).margin(5e-3));
    }
}

TEST_CASE("a part's bounds and greatest height hold all of it") {
  for (std::uint64_t seed = 0; seed < 60; ++seed) {
    const Handle handle = lay_out(test::random_design(seed));
    for (const Which which : {Which::left, Which::right}) {
      const SideLayout& side = handle.side(which);
      for (const Part& p : side.parts) {
        if (p.kind == PartKind::liner) continue;
        INFO("seed " << seed << ", " << p.name);
        const Bounds& box = p.plan_bounds;
        double highest = 0;
        bool inside = true;
        for (double x = box.low.x - 2; x < box.high.x + 2; x += 0.5)
          for (double y = box.low.y - 2; y < box.high.y + 2; y += 0.5) {
            const double top = side.scale_height_mm({x, y});
            if (top <= 0 || p.front.behind_mm(x, y, top) < 0) continue;
            if (!p.to_butt && p.rear.behind_mm(x, y, top) > 0) continue;
            highest = std::max(highest, top);
            inside = inside && x >= box.low.x - 0.01 && x <= box.high.x + 0.01 && y >= box.low.y - 0.01 &&
                     y <= box.high.y + 0.01;
          }
        CHECK(inside);
        CHECK(highest <= p.s_high_mm + 1e-3);
        // The grid steps over narrow strips, and may just miss the top of a piece.
        if (p.kind == PartKind::piece) CHECK(p.s_high_mm <= highest + 0.3);
      }
    }
  }
}
