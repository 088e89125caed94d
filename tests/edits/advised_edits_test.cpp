// The changes that the line-up advises and the corrections of a dry fit, as edits.
#include <catch2/catch.hpp>
#include <cmath>

#include "haftwright/design/holes.hpp"
#include "haftwright/design/validate.hpp"
#include "haftwright/edits/edits.hpp"
#include "haftwright/handle/lay_out.hpp"
#include "support/designs.hpp"
#include "support/random.hpp"
#include "support/random_design.hpp"

namespace haftwright {
namespace {

using test::Random;

/// x of a joint's front or rear plane at the tang face.
double line_x(const Handle& handle, Which side, std::size_t joint, bool rear, double y) {
  const auto& lines = handle.side(side).joints[joint].lines;
  return (rear ? lines.back() : lines.front()).plane.x_at(y, 0);
}

}  // namespace

TEST_CASE("a copied pin has a name of its own and a hole of its own in the tang") {
  Design design = *use_tang_hole(*add_tang_hole(test::starter(), {30, 2}, 3.1), 0, "hole_1");
  const Design once = *copy_pin(design, 0, {40, 1}, "added rear pin");
  CHECK(once.pins.back().name == "added rear pin");
  CHECK(once.pins.back().at_mm == Vec2(40, 1));
  CHECK(once.pins.back().stock == design.pins[0].stock);
  CHECK(once.pins.back().existing_tang_hole.empty());
  CHECK(once.pins.back().tang_hole == design.pins[0].scale_hole);
  CHECK(copy_pin(once, 0, {50, 1}, "added rear pin")->pins.back().name == "added rear pin 2");
  CHECK(validate(once).empty());
  CHECK_FALSE(copy_pin(design, 9, {1, 1}, "x"));
}

TEST_CASE("a pin's holes are drilled alike; the tang's only where it is narrower") {
  Design design = test::starter();
  design.pins[0].tang_hole = {"", 3.3};
  design.pins[1].tang_hole = {"", 2.9};
  for (const std::size_t pin : {std::size_t{0}, std::size_t{1}}) {
    const HoleSize hole{"3.1 mm", 3.08};
    const Pin drilled = drill_pin_holes(design, pin, hole)->pins[pin];
    CHECK(drilled.scale_hole == hole);
    CHECK(drilled.liner_hole == hole);
    CHECK(drilled.tang_hole == (pin == 0 ? design.pins[0].tang_hole : hole));
  }
  design.pins[0].liner_hole = {};
  CHECK(drill_pin_holes(design, 0, {"", 3.1})->pins[0].liner_hole == HoleSize{});
  CHECK_FALSE(drill_pin_holes(design, 9, {"", 3.1}));
}

TEST_CASE("holes are opened up, never made smaller") {
  Design design = test::starter();
  const ListedDrill drill = *find_drill("3.3 mm");
  design.pins[0].scale_hole = {"", 3.4};
  design.pins[0].liner_hole = {"3.3 mm", std::nullopt};  // may have closed up behind its drill
  const Pin opened = open_scale_holes(design, 0, drill)->pins[0];
  CHECK(opened.scale_hole.diameter_mm == 3.4);
  CHECK(opened.liner_hole == HoleSize{"3.3 mm", std::nullopt});
  CHECK(opened.tang_hole == design.pins[0].tang_hole);

  const ListedDrill wide = *find_drill("4.1 mm");
  const Pin thicker = fit_thicker_pin(design, 1, 4, wide)->pins[1];
  CHECK(thicker.stock.nominal_mm == 4);
  CHECK_FALSE(thicker.stock.measured_mm);
  for (const HoleSize* hole : {&thicker.scale_hole, &thicker.liner_hole, &thicker.tang_hole})
    CHECK(*hole == HoleSize{"4.1 mm", std::nullopt});
  const Design through = *use_tang_hole(*add_tang_hole(design, {30, 2}, 3.1), 1, "hole_1");
  CHECK(fit_thicker_pin(through, 1, 4, wide)->tang.holes[0].diameter_mm == 4.1);
  CHECK(validate(*fit_thicker_pin(through, 1, 4, wide)).empty());
  CHECK_FALSE(open_scale_holes(design, 9, drill));
  CHECK_FALSE(fit_thicker_pin(design, 9, 4, wide));
}

TEST_CASE("widths of holes: as listed for room in the plan, as they may be for cutting them away") {
  Pin pin = test::starter().pins[0];
  pin.stock = {.nominal_mm = 3};
  pin.scale_hole = {"3.1 mm", std::nullopt};
  pin.liner_hole = {};
  pin.tang_hole = {"", 3.5};
  CHECK(widest_hole_mm(pin) == 3.5);
  // AND10387, drills up to 1/8 in: from 0.001 in under to 0.004 in over.
  CHECK(widest_scale_hole_mm(pin) == Approx(3.1 + 0.0015 * 25.4).epsilon(1e-12));
  CHECK(smallest_hole_mm(pin.scale_hole) == Approx(3.1 - 0.001 * 25.4).epsilon(1e-12));
  pin.tang_hole = {};
  pin.scale_hole = {"", 2.9};
  CHECK(widest_hole_mm(pin) == 3);
  CHECK(widest_scale_hole_mm(pin) == 2.9);
}

TEST_CASE("drills are named in one way, and a metric project gets metric ones") {
  CHECK(drill_words(*find_drill("3.3 mm"), LengthUnit::millimetre) == "3.3 mm");
  CHECK(drill_words(*find_drill("3.3 mm"), LengthUnit::inch) == "3.3 mm (0.1299 in)");
  CHECK(drill_words(*find_drill("#30"), LengthUnit::inch_fraction) == "#30 (0.1285 in)");
  CHECK(drill_words(*find_drill("1/8"), LengthUnit::inch) == "1/8 in (0.1250 in)");
  Design design;
  CHECK(smallest_drill_for(design, 3.225, 3.325, true)->label == "3.3 mm");
  CHECK(smallest_drill_for(design, 3.26, 3.27, true) == std::nullopt);
  design.shown_unit = LengthUnit::inch;
  CHECK(smallest_drill_for(design, 3.26, 3.27, true)->label == "#30");
}

TEST_CASE("errors and the guide are set within their ranges only") {
  const Design design = test::starter();
  for (const ErrorRow& row : error_rows()) {
    CAPTURE(row.key);
    CHECK(set_error(design, row.member, row.most)->drilling.errors.*row.member == row.most);
    CHECK(set_error(design, row.member, 0)->drilling.errors.*row.member == 0);
    const Edited over = set_error(design, row.member, row.most * 1.01);
    CHECK_FALSE(over);
    CHECK(over.refusal().find(row.what) != std::string::npos);
    CHECK_FALSE(set_error(design, row.member, std::nan("")));
  }
  CHECK(set_guide_thickness(design, 18)->guide.plate_thickness_mm == 18);
  CHECK_FALSE(set_guide_thickness(design, 0));
  CHECK(set_guide_thickness(design, 1e4).refusal().find("plate") != std::string::npos);
  CHECK(set_drill_way(design, DrillWay::taped)->drilling.way == DrillWay::taped);
}

TEST_CASE("one block is refused where its halves would not be alike") {
  Design design = test::starter();
  const Edited sawn = saw_from_one_block(design);
  REQUIRE(sawn);
  CHECK(sawn->drilling.one_block);
  CHECK_FALSE(saw_from_one_block(*sawn));
  CHECK(saw_from_one_block(*rake_joint(design, Which::left, 0, 3)).refusal().find("rake") !=
        std::string::npos);
  design = *unlink(design, SideField::joints);
  CHECK(saw_from_one_block(design));
  CHECK_FALSE(saw_from_one_block(*move_joint(design, Which::right, 0, 44)));
}

TEST_CASE("the right joints go along with their scale, and back again") {
  Random random(3);
  for (std::uint64_t seed = 1; seed <= 40; ++seed) {
    CAPTURE(seed);
    Design design = test::random_design(seed);
    design.dry_fit = {{}};
    const Pose pose{{random.between(-1, 1), random.between(-1, 1)}, random.between(-0.02, 0.02)};
    const Design moved = *move_right_joints(design, pose);
    CHECK(moved.left == design.left);
    CHECK(moved.dry_fit.empty());
    const Side before = design.right_side(), after = moved.right_side();
    CHECK(after.pieces == before.pieces);
    for (std::size_t j = 0; j < before.joints.size(); ++j) {
      const JointShape was = shape_of(before.joints[j]), is = shape_of(after.joints[j]);
      // A point of the old line, turned about the origin and shifted, is on the new one.
      for (const double y : {-10.0, 0.0, 12.0}) {
        const Vec2 p{was.place_mm + y * was.tan_slant, y};
        const double c = std::cos(pose.turn_rad), s = std::sin(pose.turn_rad);
        const Vec2 q = Vec2{c * p.x - s * p.y, s * p.x + c * p.y} + pose.shift_mm;
        CHECK(is.place_mm + q.y * is.tan_slant == Approx(q.x).margin(1e-9));
      }
      CHECK(is.stack_mm == Approx(was.stack_mm).margin(1e-12));
    }
    // Back: turned by as much the other way, then shifted by what that makes of the shift.
    const Design turned_back = *move_right_joints(moved, {{0, 0}, -pose.turn_rad});
    const double c = std::cos(pose.turn_rad), s = std::sin(pose.turn_rad);
    const Vec2 shift{c * pose.shift_mm.x + s * pose.shift_mm.y, -s * pose.shift_mm.x + c * pose.shift_mm.y};
    const Design back = *move_right_joints(turned_back, {-shift, 0});
    for (std::size_t j = 0; j < before.joints.size(); ++j) {
      CHECK(back.right_side().joints[j].place_mm == Approx(before.joints[j].place_mm).margin(1e-9));
      CHECK(back.right_side().joints[j].slant_deg == Approx(before.joints[j].slant_deg).margin(1e-9));
      CHECK(back.right_side().joints[j].rake_deg == Approx(before.joints[j].rake_deg).margin(1e-9));
    }
    if (design.right.joints || before.joints.empty()) continue;
    CHECK(linked(*link_equal_joints(back), SideField::joints));
    CHECK_FALSE(linked(*link_equal_joints(moved), SideField::joints));
  }
}

TEST_CASE("a filled joint has its lines where they are wanted, on both sides") {
  Design design = *unlink(test::starter(), SideField::joints);
  design.tang.thickness_butt_mm = 3;  // tapered, so that a strip square to the joint is longer along x
  design = *move_joint(design, Which::right, 0, design.left.joints[0].place_mm + 0.3);
  for (const bool strips : {true, false}) {
    if (!strips) {
      design.left.joints[0].spacers.clear();
      design.right.joints->front().spacers.clear();
    }
    const Handle handle = lay_out(design);
    const JointLines lines{54, 56.5, 0.02};
    const FilledJoint filled = fill_joint(design, 0, lines, handle.left.surface.shape().base_slope);
    REQUIRE(filled.edited);
    CHECK(validate(*filled.edited).empty());
    const Handle after = lay_out(*filled.edited);
    for (const Which side : {Which::left, Which::right}) {
      for (const double y : {-8.0, 0.0, 9.0}) {
        CHECK(line_x(after, side, 0, false, y) == Approx(54 + y * 0.02).margin(1e-9));
        CHECK(line_x(after, side, 0, true, y) == Approx(56.5 + y * 0.02).margin(1e-9));
      }
      const StripChange& change = side == Which::left ? filled.left : filled.right;
      CHECK(change.side == side);
      CHECK((change.from_mm == 0) == !strips);
      const auto& joints = (side == Which::left ? filled.edited->left : filled.edited->right_side()).joints;
      CHECK(joints[0].spacers[change.strip].thickness_mm == change.to_mm);
    }
  }
  CHECK_FALSE(fill_joint(design, 0, {56, 54, 0}, 0).edited);
  CHECK_FALSE(fill_joint(design, 3, {54, 56, 0}, 0).edited);
  Design thick = design;
  thick.left.joints[0].spacers = {{"vulcanized_fibre", 1}, {"vulcanized_fibre", 1.5}};
  CHECK(fill_joint(thick, 0, {54, 54.5, 0}, 0).edited.refusal().find("no room") != std::string::npos);
}

}  // namespace haftwright
