// What holes take out where they overlap each other, an edge or an opening: closed forms, and counting of
// points.
#include <catch2/catch.hpp>
#include <cmath>
#include <numbers>

#include "bar.hpp"
#include "support/random.hpp"

using namespace haftwright;
using test::bar;
using test::drilled_mm3;
using test::pin_at;
using test::steel_mm3;
using test::volume;

namespace {

constexpr double kPi = std::numbers::pi;

/// Area of a circle beyond a chord at the distance d from its centre; from the circular sector less its
/// triangle.
double segment_mm2(double r, double d) {
  return r * r * std::acos(d / r) - d * std::sqrt(r * r - d * d);
}
/// Area common to two circles whose centres lie d apart: two segments over the common chord.
double lens_mm2(double r1, double r2, double d) {
  const double chord = (d * d + r1 * r1 - r2 * r2) / (2 * d);
  return segment_mm2(r1, chord) + segment_mm2(r2, d - chord);
}

struct Hole {
  Vec2 at;
  double radius;
};

/// Two pins, not in line with an axis, whose holes overlap by `lens`.
struct Pair {
  double r1 = 3;
  double r2 = 2.2;
  Vec2 first{60, 0};
  Vec2 second{62.4, 1.8};  // 3 mm away
  double lens = lens_mm2(3, 2.2, 3);
  double both = kPi * (3 * 3 + 2.2 * 2.2);
};

}  // namespace

TEST_CASE("two holes that overlap take out their union, once, from wood, liner, steel and glue") {
  const Pair pair;
  Design design = bar();
  design.left.liners = {{"g10", 1.5}};
  design.pins = {pin_at(pair.first, 5.9, 2 * pair.r1), pin_at(pair.second, 4.3, 2 * pair.r2)};
  const double taken = pair.both - pair.lens;
  const Handle handle = lay_out(design);
  CHECK(volume(design, PartKind::piece, 1).drilled_mm3 == Approx(taken * 6.5).epsilon(1e-5));
  CHECK(volume(design, PartKind::liner, 0).drilled_mm3 == Approx(taken * 1.5).epsilon(1e-12));
  CHECK(steel_mm3(design) == Approx((110 * 20 - taken) * 4).epsilon(1e-12));
  for (const Bond& bond : handle.left.bonds) {
    if (bond.name == "left tang to liner 1") CHECK(bond.area_mm2 == Approx(2000 - taken).epsilon(1e-12));
    if (bond.name == "left liner 1 to rear piece")
      CHECK(bond.area_mm2 == Approx(1200 - taken).epsilon(1e-12));
  }
  // Two equal holes 3 mm apart in 8 mm of wood.
  design = bar();
  design.pins = {pin_at({60, 0}, 5.9, 6), pin_at({63, 0}, 5.9, 6)};
  CHECK(volume(design, PartKind::piece, 1).drilled_mm3 ==
        Approx(8 * (18 * kPi - lens_mm2(3, 3, 3))).epsilon(1e-5));
  // One inside the other.
  design.pins[1] = pin_at({60.5, 0.3}, 2.9, 3);
  CHECK(volume(design, PartKind::piece, 1).drilled_mm3 == Approx(8 * 9 * kPi).epsilon(1e-5));
}

TEST_CASE("overlapping holes across a joint take out their union from its face and from each piece") {
  for (const double rake : {0.0, 20.0}) {
    INFO("rake " << rake);
    Design design = bar();
    design.left.joints[0] = {40, 10, rake, {}};
    design.pins = {pin_at({40, 0}, 5.9, 6), pin_at({42.4, 1.8}, 4.3, 4.4)};
    const std::vector<Hole> holes{{{40, 0}, 3}, {{42.4, 1.8}, 2.2}};
    const SideLayout left = lay_out(design).left;
    const CutPlane& plane = left.joints[0].lines[0].plane;
    double front_mm3 = 0;
    double rear_mm3 = 0;
    double face_mm2 = 0;
    constexpr int kSteps = 800;
    constexpr int kLevels = 40;
    const auto drilled = [&](Vec2 p) {
      return std::ranges::any_of(holes, [&](const Hole& h) { return glm::distance(p, h.at) < h.radius; });
    };
    for (int i = 0; i < kSteps; ++i)
      for (int k = 0; k < kSteps; ++k) {
        const Vec2 p{36 + 10 * (i + 0.5) / kSteps, -4 + 8 * (k + 0.5) / kSteps};
        if (!drilled(p)) continue;
        const double s = rake == 0 ? (plane.behind_mm(p.x, p.y, 0) < 0 ? 8 : 0)
                                   : std::clamp(plane.behind_mm(p.x, p.y, 0) / plane.tan_rake, 0.0, 8.0);
        const double cell = 80.0 / kSteps / kSteps;
        (rake == 0 ? front_mm3 : rear_mm3) += cell * s;  // below the plane it is the rear piece
        (rake == 0 ? rear_mm3 : front_mm3) += cell * (8 - s);
      }
    for (int k = 0; k < 4000; ++k)
      for (int j = 0; j < kLevels; ++j) {
        const double y = -4 + 8 * (k + 0.5) / 4000;
        const double s = 8 * (j + 0.5) / kLevels;
        if (drilled({plane.x_at(y, s), y})) face_mm2 += 8.0 / 4000 * 8 / kLevels;
      }
    face_mm2 *= std::sqrt(1 + plane.tan_slant * plane.tan_slant + plane.tan_rake * plane.tan_rake);
    CHECK(volume(design, PartKind::piece, 0).drilled_mm3 == Approx(front_mm3).epsilon(1e-3));
    CHECK(volume(design, PartKind::piece, 1).drilled_mm3 == Approx(rear_mm3).epsilon(1e-3));
    CHECK(left.joints[0].lines[0].drilled_area_mm2 == Approx(face_mm2).epsilon(1e-3));
    const double union_mm2 = kPi * (9 + 4.84) - lens_mm2(3, 2.2, 3);
    CHECK(drilled_mm3(design) == Approx(8 * union_mm2).epsilon(1e-5));
  }
}

TEST_CASE("holes over the tang's edge and over openings take out exactly what is there") {
  Design design = bar();
  // 1 mm within a straight edge.
  design.tang.holes = {{"a", {50, 9}, 6}};
  CHECK(steel_mm3(design) == Approx(4 * (2200 - 9 * kPi + segment_mm2(3, 1))).epsilon(1e-13));
  // Over a corner: a quarter of it.
  design.tang.holes = {{"a", {100, 10}, 6}};
  CHECK(steel_mm3(design) == Approx(4 * (2200 - 9 * kPi / 4)).epsilon(1e-13));
  // Over a round butt.
  design.tang.outline = {{{-10, -10}, 0}, {{90, -10}, 1}, {{90, 10}, 0}, {{-10, 10}, 0}};
  design.tang.holes = {{"a", {98, 0}, 6}};
  CHECK(steel_mm3(design) == Approx(4 * (2000 + 50 * kPi - lens_mm2(10, 3, 8))).epsilon(1e-13));
  // Half over a cutout whose edge runs through its centre, in a tapered tang: the centroid of a half circle
  // lies 4 r / (3 pi) from its edge.
  design = bar();
  design.tang.thickness_front_mm = 5;
  design.tang.thickness_butt_mm = 3;
  design.tang.cutouts = {{{{60, -5}, 0}, {{80, -5}, 0}, {{80, 5}, 0}, {{60, 5}, 0}}};
  design.tang.holes = {{"a", {60, 0}, 6}};
  const auto thick = [](double x) { return 5 - 0.02 * x; };
  CHECK(steel_mm3(design) ==
        Approx(2200 * thick(45) - 200 * thick(70) - 4.5 * kPi * thick(60 - 4 / kPi)).epsilon(1e-13));
}

TEST_CASE("random clusters of holes over random edges agree with counted points") {
  test::Random random(11);
  for (int round = 0; round < 10; ++round) {
    INFO("round " << round);
    Design design = bar();
    const double bulge = random.between(-0.4, 0.4);
    design.tang.outline = {{{-10, -10}, 0}, {{90, -10}, bulge}, {{95, 10}, 0}, {{-10, 10}, 0}};
    design.tang.cutouts = {{{{80, -4}, 0.5}, {{86, -3}, 0}, {{84, 4}, -0.2}}};
    design.tang.holes.clear();
    for (int i = 0; i < 4; ++i)
      design.tang.holes.push_back({std::string(1, static_cast<char>('a' + i)),
                                   {random.between(78, 94), random.between(-9, 9)},
                                   random.between(3, 9)});
    const Outline tang(design.tang.outline);
    const Outline cutout(design.tang.cutouts[0]);
    const double left_mm2 = steel_mm3(design) / 4;
    double counted = 0;
    constexpr int kSteps = 800;
    for (int i = 0; i < kSteps; ++i)
      for (int k = 0; k < kSteps; ++k) {
        const Vec2 p{72 + 28 * (i + 0.5) / kSteps, -15 + 30 * (k + 0.5) / kSteps};
        if (std::ranges::none_of(design.tang.holes, [&](const TangHole& h) {
              return glm::distance(p, h.at_mm) < h.diameter_mm / 2;
            }))
          continue;
        if (tang.contains(p) && !cutout.contains(p)) counted += 28.0 * 30 / kSteps / kSteps;
      }
    const double drilled = tang.area_mm2() - cutout.area_mm2() - left_mm2;
    CHECK(drilled == Approx(counted).epsilon(3e-3));
  }
}

TEST_CASE("a strip wholly inside a liner hole has no glue, not less than none") {
  Design design = bar();
  design.left.liners = {{"brass_c26000", 0.4}};
  design.left.joints[0].spacers = {{"vulcanized_fibre", 0.4}};
  for (const double slant : {0.0, 7.0, 23.0}) {
    design.left.joints[0].slant_deg = slant;
    design.pins = {pin_at({38.55, -0.17}, 5, 5)};
    design.pins[0].liner_hole.diameter_mm = 51;
    for (const Bond& bond : lay_out(design).left.bonds) {
      INFO("slant " << slant << ", " << bond.name);
      CHECK(bond.area_mm2 >= 0);
      if (bond.name == "left liner 1 to joint 1 spacer 1") CHECK(bond.area_mm2 == Approx(0).margin(1e-9));
    }
  }
}

TEST_CASE("the wood that a hole over the edge, in the round-over or beside the front face takes out") {
  Design design = bar();
  design.left.finish = {{{0, 8}, {100, 6}}, 40.0, 1, 2.5};
  design.left.front.rake_deg = -15;
  for (const Vec2 at :
       {Vec2{70, 6.2}, Vec2{70, -8.5}, Vec2{97.4, 0.5}, Vec2{98, -8.4}, Vec2{2.6, 0}, Vec2{41, 7}}) {
    INFO("at " << at.x << ", " << at.y);
    design.pins = {pin_at(at, 4.9, 5)};
    const SideLayout left = lay_out(design).left;
    // Columns on a fine grid: what lies behind the front face, under the surface.
    constexpr int kSteps = 1000;
    double counted = 0;
    for (int i = 0; i < kSteps; ++i)
      for (int k = 0; k < kSteps; ++k) {
        const Vec2 p = at + Vec2{5 * ((i + 0.5) / kSteps - 0.5), 5 * ((k + 0.5) / kSteps - 0.5)};
        if (glm::distance(p, at) >= 2.5) continue;
        const double top = std::max(0.0, left.scale_height_mm(p));
        const double foot = std::clamp(left.front.behind_mm(p.x, p.y, 0) / left.front.tan_rake, 0.0, top);
        counted += (top - foot) * 25 / kSteps / kSteps;
      }
    CHECK(drilled_mm3(design) == Approx(counted).epsilon(1e-4));
  }
}
