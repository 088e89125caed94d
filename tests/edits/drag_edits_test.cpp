// Edits that follow a hand: through a point, settling near something, nudged.
#include <catch2/catch.hpp>
#include <cmath>
#include <numbers>

#include "haftwright/design/validate.hpp"
#include "haftwright/edits/edits.hpp"
#include "haftwright/edits/nudge.hpp"
#include "haftwright/geometry/outline.hpp"
#include "haftwright/handle/lay_out.hpp"
#include "support/designs.hpp"
#include "support/nearly.hpp"
#include "support/random.hpp"
#include "support/random_design.hpp"

namespace haftwright {
namespace {

using test::Random;

constexpr double kDegrees = 180 / std::numbers::pi;

Side side_of(const Design& design, Which side) {
  return side == Which::left ? design.left : design.right_side();
}

/// x of a joint's middle plane.
double x_at(const Joint& joint, double y, double s) {
  return joint.place_mm + y * std::tan(joint.slant_deg / kDegrees) + s * std::tan(joint.rake_deg / kDegrees);
}

Edge edge_of(const std::vector<Node>& chain, std::size_t node) {
  return Edge(chain[node].at, chain[(node + 1) % chain.size()].at, chain[node].bulge);
}

Design with_cutout() {
  Design design = test::starter();
  design.tang.cutouts = {{{{60, -3}, 0}, {{66, -3}, 0}, {{66, 3}, 0}, {{60, 3}, 0}}};
  return design;
}

}  // namespace

TEST_CASE("a joint turned by hand goes through the hand and keeps its place") {
  Random random(5);
  int tried = 0;
  for (std::uint64_t seed = 1; seed <= 60; ++seed) {
    const Design design = test::random_design(seed);
    for (const Which side : {Which::left, Which::right}) {
      const std::vector<Joint> joints = side_of(design, side).joints;
      for (std::size_t i = 0; i < joints.size(); ++i, ++tried) {
        const double sign = random.chance(0.5) ? 1 : -1;
        const Vec3 hand{joints[i].place_mm + random.between(-4, 4), sign * random.between(1, 14),
                        random.between(1, 9)};
        CAPTURE(seed, i);
        const Edited slanted = slant_joint_through(design, side, i, hand);
        REQUIRE(slanted);
        const Joint slant = side_of(*slanted, side).joints[i];
        CHECK(x_at(slant, hand.y, hand.z) == Approx(hand.x).margin(1e-9));
        CHECK(slant.place_mm == joints[i].place_mm);
        CHECK(slant.rake_deg == joints[i].rake_deg);
        const Edited raked = rake_joint_through(design, side, i, hand);
        REQUIRE(raked);
        const Joint rake = side_of(*raked, side).joints[i];
        CHECK(x_at(rake, hand.y, hand.z) == Approx(hand.x).margin(1e-9));
        CHECK(rake.place_mm == joints[i].place_mm);
        CHECK(rake.slant_deg == joints[i].slant_deg);
      }
    }
  }
  CHECK(tried > 50);
}

TEST_CASE("a joint can't be turned where it turns") {
  const Design design = test::starter();
  const double near = kLeastLeverMm * 0.99;
  CHECK_FALSE(slant_joint_through(design, Which::left, 0, {40, near, 3}));
  CHECK_FALSE(slant_joint_through(design, Which::left, 0, {40, -near, 3}));
  CHECK(slant_joint_through(design, Which::left, 0, {40, -kLeastLeverMm, 3}));
  CHECK_FALSE(rake_joint_through(design, Which::left, 0, {40, 3, near}));
  CHECK_FALSE(rake_joint_through(design, Which::left, 0, {40, 3, -5}));
  CHECK_FALSE(rake_joint_through(design, Which::left, 0, {40, 3, std::nan("")}));
  CHECK(rake_joint_through(design, Which::left, 0, {40, 3, kLeastLeverMm}));
  CHECK_FALSE(slant_joint_through(design, Which::right, 9, {40, 8, 3}));
  CHECK_FALSE(rake_joint_through(design, Which::right, 9, {40, 8, 3}));
}

TEST_CASE("a dragged joint settles at the other side's") {
  Design design = *unlink(test::starter(), SideField::joints);
  Joint& other = design.right.joints->front();
  other.place_mm = 41.3;
  other.slant_deg = 6;
  other.rake_deg = -4;
  CHECK(move_joint(design, Which::left, 0, 41.9, 0.7)->left.joints[0].place_mm == 41.3);
  CHECK(move_joint(design, Which::left, 0, 42.1, 0.7)->left.joints[0].place_mm == 42.1);
  CHECK(move_joint(design, Which::left, 0, 41.9, 0)->left.joints[0].place_mm == 41.9);
  CHECK(move_joint(design, Which::right, 0, design.left.joints[0].place_mm + 0.5, 0.7)
            ->right.joints->front()
            .place_mm == design.left.joints[0].place_mm);
  const double place = design.left.joints[0].place_mm;
  const auto turned = [&](double deg) { return std::tan(deg / kDegrees) * 10; };
  const auto slant = [&](double deg, double within) {
    return slant_joint_through(design, Which::left, 0, {place + turned(deg), 10, 0}, within)
        ->left.joints[0]
        .slant_deg;
  };
  CHECK(slant(6.6, 0.75) == 6);
  CHECK(slant(0.5, 0.75) == 0);
  CHECK(slant(6.6, 0) == test::nearly(6.6));
  CHECK(slant(7, 0.75) == test::nearly(7));
  const double slanted = place;  // the starter's joint is upright, so y does not matter
  CHECK(design.left.joints[0].slant_deg == 0);
  CHECK(rake_joint_through(design, Which::left, 0, {slanted + turned(-4.5), 3, 10}, 0.75)
            ->left.joints[0]
            .rake_deg == -4);
  // Linked sides move together: there is nothing to settle at.
  const Design together = test::starter();
  CHECK(move_joint(together, Which::right, 0, together.left.joints[0].place_mm + 0.3, 0.7)
            ->left.joints[0]
            .place_mm == together.left.joints[0].place_mm + 0.3);
}

TEST_CASE("an edge bent by hand goes through the hand") {
  Random random(8);
  const Design design = with_cutout();
  for (const OutlineOf of : {OutlineOf{}, OutlineOf{0}}) {
    const std::vector<Node>& chain = of.cutout ? design.tang.cutouts[0] : design.tang.outline;
    for (std::size_t node = 0; node < chain.size(); ++node)
      for (int i = 0; i < 40; ++i) {
        const Edge straight(chain[node].at, chain[(node + 1) % chain.size()].at, 0);
        const Vec2 hand = straight.point(random.between(0.1, 0.9)) +
                          turned_left(straight.direction(0.5)) * (straight.length() * random.between(-1, 1));
        const Edited edit = bend_edge_through(design, of, node, hand);
        REQUIRE(edit);
        const Edge bent = edge_of(of.cutout ? edit->tang.cutouts[0] : edit->tang.outline, node);
        REQUIRE(bent.is_arc());
        CHECK(glm::distance(bent.centre, hand) == test::nearly(bent.radius));
        // On the arc itself and not on the rest of its circle.
        const Vec2 first = hand - bent.from;
        const Vec2 second = bent.to - hand;
        CHECK(std::atan2(cross(first, second), glm::dot(first, second)) == test::nearly(bent.sweep / 2));
      }
  }
}

TEST_CASE("an edge near its straight line becomes straight; ends and the line outside are refused") {
  const Design design = with_cutout();
  const OutlineOf cutout{0};
  CHECK(bend_edge_through(design, cutout, 0, {62, -3.2}, 0.25)->tang.cutouts[0][0].bulge == 0);
  CHECK(bend_edge_through(design, cutout, 0, {62, -3.2}, 0.15)->tang.cutouts[0][0].bulge > 0);
  CHECK(bend_edge_through(design, cutout, 0, {62, -3}, 0.15)->tang.cutouts[0][0].bulge == 0);
  CHECK_FALSE(bend_edge_through(design, cutout, 0, {60, -3}));
  CHECK_FALSE(bend_edge_through(design, cutout, 0, {66, -3}));
  CHECK_FALSE(bend_edge_through(design, cutout, 0, {70, -3}, 1));
  CHECK_FALSE(bend_edge_through(design, cutout, 0, {std::nan(""), -4}));
  CHECK_FALSE(bend_edge_through(design, {3}, 0, {1, 1}));
  CHECK_FALSE(bend_edge_through(design, {}, 99, {1, 1}));
}

TEST_CASE("the rise of an edge is how far its middle stands out, whichever way the chain runs") {
  Design design = with_cutout();
  for (const bool turned : {false, true}) {
    if (turned) std::reverse(design.tang.cutouts[0].begin(), design.tang.cutouts[0].end());
    const std::vector<Node>& chain = design.tang.cutouts[0];
    for (std::size_t node = 0; node < chain.size(); ++node)
      for (const double rise : {-1.2, 0.0, 0.8, 3.0}) {
        const Edited edit = set_edge_rise(design, {0}, node, rise);
        REQUIRE(edit);
        CHECK(*edge_rise_mm(*edit, {0}, node) == Approx(rise).margin(1e-12));
        const Edge bent = edge_of(edit->tang.cutouts[0], node);
        const Vec2 middle = (bent.from + bent.to) * 0.5;
        // The cutout's middle is at (63, 0): outward is away from it.
        const Vec2 out = glm::normalize(middle - Vec2{63, 0});
        CHECK(glm::dot(bent.point(0.5) - middle, out) == Approx(rise).margin(1e-9));
      }
  }
  CHECK_FALSE(edge_rise_mm(design, {1}, 0));
  CHECK_FALSE(edge_rise_mm(design, {0}, 4));
  CHECK_FALSE(set_edge_rise(design, {1}, 0, 1));
  CHECK_FALSE(set_edge_rise(design, {}, 99, 1));
}

TEST_CASE("cutouts move whole, tang holes change their size and nothing else") {
  const Design design = *add_tang_hole(with_cutout(), {20, 1}, 3);
  const Design moved = *move_cutout(design, 0, {2, -1});
  for (std::size_t i = 0; i < 4; ++i)
    CHECK(moved.tang.cutouts[0][i].at == design.tang.cutouts[0][i].at + Vec2{2, -1});
  CHECK(moved.tang.outline == design.tang.outline);
  CHECK_FALSE(move_cutout(design, 1, {1, 1}));
  const std::size_t last = design.tang.holes.size() - 1;
  CHECK(size_tang_hole(design, last, 4)->tang.holes[last].diameter_mm == 4);
  CHECK(size_tang_hole(design, last, 4)->tang.holes[last].at_mm == Vec2(20, 1));
  CHECK_FALSE(size_tang_hole(design, last, 0));
  CHECK_FALSE(size_tang_hole(design, last, -1));
  CHECK_FALSE(size_tang_hole(design, last, std::nan("")));
  CHECK_FALSE(size_tang_hole(design, last + 1, 4));
}

TEST_CASE("levels are the axis and the other pins, each once") {
  Design design = test::starter();
  REQUIRE(design.pins.size() == 3);
  design.pins[0].at_mm.y = 2;
  design.pins[1].at_mm.y = -1;
  design.pins[2].at_mm.y = 2;
  CHECK(level_places_mm(design, 0) == std::vector<double>{-1, 0, 2});
  CHECK(level_places_mm(design, 1) == std::vector<double>{0, 2});
  for (const double level : level_places_mm(design, 1))
    CHECK(move_pin(design, 1, {50, level + 0.4}, {false, 0.5})->pins[1].at_mm.y == level);
}

TEST_CASE("nudges grow with their size and are even in the unit shown") {
  for (const LengthUnit unit : {LengthUnit::millimetre, LengthUnit::inch, LengthUnit::inch_fraction}) {
    CHECK(nudge_mm(unit, NudgeSize::fine) > 0);
    CHECK(nudge_mm(unit, NudgeSize::usual) > nudge_mm(unit, NudgeSize::fine));
    CHECK(nudge_mm(unit, NudgeSize::coarse) > nudge_mm(unit, NudgeSize::usual));
  }
  CHECK(nudge_mm(LengthUnit::inch_fraction, NudgeSize::usual) ==
        test::nearly(parse_length_mm("1/64 in", {})));
  CHECK(nudge_mm(LengthUnit::inch, NudgeSize::usual) == test::nearly(parse_length_mm("0.005 in", {})));
  CHECK(nudge_deg(NudgeSize::coarse) > nudge_deg(NudgeSize::usual));
  CHECK(nudge_deg(NudgeSize::usual) > nudge_deg(NudgeSize::fine));
}

}  // namespace haftwright
