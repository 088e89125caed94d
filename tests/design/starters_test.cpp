#include <catch2/catch.hpp>
#include <numbers>

#include "haftwright/design/starters.hpp"
#include "haftwright/design/validate.hpp"
#include "haftwright/geometry/outline_ops.hpp"
#include "support/random.hpp"

using namespace haftwright;

namespace {

constexpr double kPi = std::numbers::pi;

/// What rounding a corner of interior angle `angle` takes away: two tangents less the sector between them.
double corner_loss_mm2(double angle, double radius) {
  return radius * radius * (1 / std::tan(angle / 2) - (kPi - angle) / 2);
}

/// Area between a chord and its arc.
double segment_mm2(double chord, double rise) {
  const double radius = (chord * chord / 4 + rise * rise) / (2 * rise);
  const double sweep = 2 * std::asin(chord / (2 * radius));
  return radius * radius / 2 * (sweep - std::sin(sweep));
}

double height_at(const Outline& outline, double x) {
  const auto across = crossings(outline, {x, 0}, {0, 1});
  REQUIRE(across.size() == 2);
  return across[1].along_mm - across[0].along_mm;
}

std::string refusal(const StraightTang& tang) {
  try {
    starter_outline(tang);
  } catch (const std::invalid_argument& error) {
    return error.what();
  }
  return "accepted";
}

std::string refusal(const BowedTang& tang) {
  try {
    starter_outline(tang);
  } catch (const std::invalid_argument& error) {
    return error.what();
  }
  return "accepted";
}

/// Largest turn, in radians, where a rounding meets what it rounds: both ends of every arc of that radius.
double largest_kink(const Outline& outline, double radius) {
  double kink = 0;
  const auto& edges = outline.edges();
  for (std::size_t i = 0; i < edges.size(); ++i) {
    const Edge& edge = edges[i];
    if (!edge.is_arc() || std::abs(edge.radius - radius) > 1e-6) continue;
    const Edge& before = edges[(i + edges.size() - 1) % edges.size()];
    const Edge& after = edges[(i + 1) % edges.size()];
    kink = std::max(kink, std::abs(cross(before.direction(1), edge.direction(0))));
    kink = std::max(kink, std::abs(cross(edge.direction(1), after.direction(0))));
  }
  return kink;
}

}  // namespace

TEST_CASE("a straight tang has the area its measurements say") {
  test::Random random(11);
  for (int i = 0; i < 300; ++i) {
    StraightTang tang;
    tang.length_mm = random.between(60, 200);
    tang.front_height_mm = random.between(15, 35);
    tang.butt_height_mm = random.between(15, 35);
    tang.ricasso_mm = random.between(0, 15);
    tang.butt_corner_mm = random.chance(0.2) ? 0 : random.between(1, 7);
    const Outline outline(starter_outline(tang));
    const double slope = (tang.butt_height_mm - tang.front_height_mm) / tang.length_mm;
    const double blade_height = tang.front_height_mm - slope * tang.ricasso_mm;
    const double trapezium = (tang.length_mm + tang.ricasso_mm) * (blade_height + tang.butt_height_mm) / 2;
    const double belly_angle = kPi / 2 - std::atan(slope);
    const double lost = corner_loss_mm2(kPi / 2, tang.butt_corner_mm) +
                        (tang.butt_corner_mm > 0 ? corner_loss_mm2(belly_angle, tang.butt_corner_mm) : 0);
    CHECK(outline.area_mm2() == Approx(trapezium - lost).epsilon(1e-12));
    CHECK(outline.bounds().high.x == Approx(tang.length_mm).epsilon(1e-12));
    CHECK(outline.bounds().low.x == Approx(-tang.ricasso_mm).margin(1e-12));
    if (tang.ricasso_mm > 0) CHECK(height_at(outline, 0) == Approx(tang.front_height_mm).epsilon(1e-12));
    if (tang.butt_corner_mm > 0) CHECK(largest_kink(outline, tang.butt_corner_mm) < 1e-9);
  }
}

TEST_CASE("a bowed tang is its chords with a segment added and a segment taken away") {
  test::Random random(12);
  for (int i = 0; i < 300; ++i) {
    BowedTang tang;
    tang.length_mm = random.between(80, 200);
    tang.front_height_mm = random.between(18, 30);
    tang.butt_height_mm = random.between(18, 34);
    tang.spine_rise_mm = random.between(0.1, 4);
    tang.belly_rise_mm = random.between(0.1, 4);
    tang.ricasso_mm = 0;
    tang.butt_corner_mm = 0;
    const Outline square(starter_outline(tang));
    const double drop = tang.butt_height_mm - tang.front_height_mm;
    const double wanted = tang.length_mm * (tang.front_height_mm + tang.butt_height_mm) / 2 +
                          segment_mm2(tang.length_mm, tang.spine_rise_mm) -
                          segment_mm2(std::hypot(tang.length_mm, drop), tang.belly_rise_mm);
    CHECK(square.area_mm2() == Approx(wanted).epsilon(1e-11));

    tang.ricasso_mm = random.between(2, 12);
    tang.butt_corner_mm = random.between(1, 8);
    const Outline rounded(starter_outline(tang));
    CHECK(largest_kink(rounded, tang.butt_corner_mm) < 1e-9);
    CHECK(rounded.bounds().high.x == Approx(tang.length_mm).epsilon(1e-12));
    CHECK(height_at(rounded, 0) == Approx(tang.front_height_mm).epsilon(1e-12));
    // Every place of the rounded outline lies on the square one or inside it.
    for (const Vec2 p : polyline(rounded, 0.05))
      if (p.x > 0) CHECK(square.depth_mm(p) > -1e-9);
  }
}

TEST_CASE("a bow of nothing is the straight tang") {
  BowedTang bowed;
  bowed.spine_rise_mm = bowed.belly_rise_mm = 0;
  const StraightTang straight{bowed.length_mm, bowed.front_height_mm, bowed.butt_height_mm,
                              bowed.butt_corner_mm, bowed.ricasso_mm};
  CHECK(starter_outline(bowed) == starter_outline(straight));
}

TEST_CASE("a half round butt is no shorter for its edge of no length") {
  const StraightTang tang{100, 24, 24, 12, 5};
  const Outline outline(starter_outline(tang));
  CHECK(outline.area_mm2() == Approx(93 * 24 + kPi * 144 / 2).epsilon(1e-7));
  CHECK(outline.edges().size() == 5);
}

TEST_CASE("a measurement that makes no shape is named") {
  const auto names = [](const std::string& why, const char* key) {
    return why.find(key) != std::string::npos;
  };
  CHECK(names(refusal(StraightTang{.length_mm = 0}), "length_mm"));
  CHECK(names(refusal(StraightTang{.length_mm = std::nan("")}), "length_mm"));
  CHECK(names(refusal(StraightTang{.front_height_mm = -1}), "front_height_mm"));
  CHECK(names(refusal(StraightTang{.butt_height_mm = 0}), "butt_height_mm"));
  CHECK(names(refusal(StraightTang{.butt_corner_mm = -1}), "butt_corner_mm"));
  CHECK(names(refusal(StraightTang{.butt_corner_mm = 15}), "butt_corner_mm"));
  CHECK(names(refusal(StraightTang{.length_mm = 5}), "butt_corner_mm"));
  CHECK(names(refusal(StraightTang{.ricasso_mm = -0.1}), "ricasso_mm"));
  CHECK(names(refusal(StraightTang{.length_mm = 20, .butt_height_mm = 200, .ricasso_mm = 18}),
              "front_height_mm"));
  CHECK(names(refusal(BowedTang{.spine_rise_mm = 40}), "spine_rise_mm"));
  CHECK(names(refusal(BowedTang{.belly_rise_mm = -1}), "belly_rise_mm"));
  CHECK(names(refusal(BowedTang{.ricasso_mm = 50}), "ricasso_mm"));
  CHECK(names(refusal(BowedTang{.butt_corner_mm = 16}), "butt_corner_mm"));
}

TEST_CASE("whatever a starter accepts is an outline") {
  test::Random random(13);
  int made = 0;
  for (int i = 0; i < 4000; ++i) {
    const BowedTang tang{random.between(1, 200), random.between(1, 60), random.between(1, 60),
                         random.between(0, 20),  random.between(0, 20), random.between(0, 20),
                         random.between(0, 20)};
    std::vector<Node> chain;
    try {
      chain = starter_outline(tang);
    } catch (const std::invalid_argument&) {
      continue;
    }
    ++made;
    const auto fault = find_fault(chain);
    CAPTURE(tang.length_mm, tang.front_height_mm, tang.butt_height_mm, tang.spine_rise_mm, tang.belly_rise_mm,
            tang.butt_corner_mm, tang.ricasso_mm);
    CHECK_FALSE(fault.has_value());
  }
  CHECK(made > 1000);
}

TEST_CASE("a tang with holes gets its pins through those that may be meant for pins") {
  Tang tang;
  tang.outline = starter_outline(StraightTang{});
  tang.holes = {{"", {-4, 0}, 3, "ahead of the front face"},
                {"", {20, 2}, 3.2, "front"},
                {"", {45, 0}, 1, "pilot"},
                {"", {60, -1}, 4, "middle"},
                {"", {75, 0}, 12, "for weight"},
                {"", {95, 0}, 3.2, "rear"}};
  const Design design = starter_design(tang, {}, LengthUnit::millimetre);
  CHECK(validate(design).empty());
  REQUIRE(design.pins.size() == 3);
  CHECK(design.pins[0].at_mm == Vec2{20, 2});
  CHECK(design.pins[1].existing_tang_hole == design.tang.holes[3].id);
  CHECK(design.pins[1].stock.nominal_mm == Approx(3.9));
  CHECK(design.pins[1].scale_hole.actual_mm() == 4);
  // Of the two ways between them the one nearer to the usual third of the length.
  CHECK(design.left.joints[0].place_mm == Approx(40));
}

TEST_CASE("without such holes pins keep to the steel") {
  Tang tang;
  // Bent so much that the axis leaves it.
  tang.outline = {{{0, -12}, 0.5}, {{110, -12}, 0}, {{110, 12}, -0.5}, {{0, 12}, 0}};
  const Outline outline(tang.outline);
  Design design = starter_design(tang, {}, LengthUnit::millimetre);
  CHECK(validate(design).empty());
  REQUIRE(design.pins.size() == 3);
  for (const Pin& pin : design.pins) CHECK(outline.depth_mm(pin.at_mm) > 5);
  const Vec2 middle = design.pins[1].at_mm;
  tang.cutouts = {{{middle + Vec2{-3, -3}, 0}, {middle + Vec2{3, -3}, 0}, {middle + Vec2{0, 3}, 0}}};
  design = starter_design(tang, {}, LengthUnit::millimetre);
  CHECK(design.pins.size() == 2);
  CHECK(validate(design).empty());
}
