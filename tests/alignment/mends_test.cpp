// Every mend that a dry fit proposes, tried: it must leave what it said it would leave.
#include <catch2/catch.hpp>
#include <map>

#include "alignment/true_handle.hpp"
#include "haftwright/files/project_file.hpp"
#include "haftwright/reference/drills.hpp"
#include "support/nearly.hpp"
#include "support/random_design.hpp"

using namespace haftwright;
using namespace haftwright::test;

namespace {

const Mend* find(const DryFit& fit, MendKind kind) {
  const auto found = std::ranges::find(fit.mends, kind, &Mend::kind);
  return found == fit.mends.end() ? nullptr : &*found;
}

/// Greatest step of the front and rear lines of the joints read.
double greatest_step(const DryFit& fit, const Handle& handle) {
  double greatest = 0;
  for (const FoundLine& line : fit.lines)
    for (const StripEdge strip : {StripEdge::front, StripEdge::rear})
      for (const HandleEdge at : {HandleEdge::spine, HandleEdge::belly})
        if (strip == StripEdge::front || rear_lines_meet(handle, line.joint))
          greatest = std::max(greatest, std::abs(step_of(handle, line.joint, strip, at)));
  return greatest;
}

/// Clearance between a pin and the tighter of its holes, at least: an unmeasured hole is no larger than its
/// drill.
double clearance_mm(const Design& design, const Pin& pin, Which side) {
  const auto size = [](const HoleSize& hole) {
    const auto tool = find_drill(hole.drill);
    if (hole.diameter_mm || (tool && tool->series == DrillSeries::reamer)) return hole.actual_mm();
    const auto range = drilled_hole_allowance(hole.actual_mm());
    return range ? hole.actual_mm() + std::min(0.0, range->lower_mm) : hole.actual_mm();
  };
  const bool lined = !(side == Which::left ? design.left : design.right_side()).liners.empty();
  // Which of the two is tighter goes by their listed sizes.
  const bool liner = lined && pin.liner_hole.actual_mm() < pin.scale_hole.actual_mm();
  return std::max(0.0, size(liner ? pin.liner_hole : pin.scale_hole) - pin.stock.diameter_mm());
}

void check_push(const DryFit& fit, const Mend& mend) {
  for (std::size_t i = 0; i < fit.as_found.pins.size(); ++i) {
    const Pin& pin = fit.as_found.pins[i];
    double room =
        (clearance_mm(fit.as_found, pin, Which::left) + clearance_mm(fit.as_found, pin, Which::right)) / 2;
    for (const HoleOpening& opening : mend.openings)
      if (opening.pin == i) {
        room = opening.diameter_mm - pin.stock.diameter_mm();
        CHECK(mend.mended.pins[i].scale_hole.actual_mm() >= opening.diameter_mm - 1e-9);
      }
    CHECK(glm::length(mend.push.motion_of(pin.at_mm)) <= room + 1e-6);
  }
}

void check_next_pins(const DryFit& fit, const Mend& mend) {
  for (const HoleOpening& opening : mend.openings) {
    const Pin& before = fit.as_found.pins[opening.pin];
    const Pin& after = mend.mended.pins[opening.pin];
    const double moved = glm::length(mend.push.motion_of(before.at_mm));
    // The new hole takes the old one in wholly, wherever the old one has gone.
    CHECK(opening.diameter_mm / 2 >= before.scale_hole.actual_mm() / 2 + moved - 1e-4);
    CHECK(after.stock.diameter_mm() > before.stock.diameter_mm());
    CHECK(opening.diameter_mm - after.stock.diameter_mm() >=
          fit.as_found.rules.glue_clearance_least_mm - 1e-9);
    CHECK(opening.diameter_mm - after.stock.diameter_mm() <=
          fit.as_found.rules.glue_clearance_most_mm + 1e-9);
  }
}

/// A piece only ever gets shorter, and the new stack fills what facing off has opened.
void check_facing(const DryFit& fit, const Mend& mend, const Handle& mended) {
  const Handle found = lay_out(fit.as_found);
  std::map<std::size_t, int> joints;
  for (const StripChange& change : mend.strips) ++joints[change.joint];
  for (const auto& changed : joints) {
    const std::size_t joint = changed.first;
    CHECK(changed.second == 2);
    for (const Which side : {Which::left, Which::right})
      for (const HandleEdge at : {HandleEdge::spine, HandleEdge::belly}) {
        // Along the handle from the end that was found to the new line, which slides along the handle's edge.
        const auto moved = [&](StripEdge strip) {
          const Vec3 end = end_of(found.side(side), joint, strip, at).inner;
          const Vec3 spine = end_of(mended.side(side), joint, strip, HandleEdge::spine).inner;
          const Vec3 belly = end_of(mended.side(side), joint, strip, HandleEdge::belly).inner;
          return belly.x + (spine.x - belly.x) * (end.y - belly.y) / (spine.y - belly.y) - end.x;
        };
        const auto faced = [&](bool rear_end) {
          for (const FacingOff& facing : mend.facings)
            if (facing.joint == joint && facing.side == side && facing.rear_end == rear_end)
              return at == HandleEdge::spine ? facing.spine_mm : facing.belly_mm;
          return 0.0;
        };
        CHECK(faced(true) >= 0);
        CHECK(faced(false) >= 0);
        CHECK(-moved(StripEdge::front) == Approx(faced(true)).margin(1e-6));
        CHECK(moved(StripEdge::rear) == Approx(faced(false)).margin(1e-6));
      }
  }
}

void check_mends(const DryFit& fit) {
  double shown = 0;
  for (const Mend& mend : fit.mends) {
    INFO(mend.words);
    CHECK(validate(mend.mended).empty());
    const Handle handle = lay_out(mend.mended);
    CHECK(mend.verified_mm == Approx(greatest_step(fit, handle)).margin(1e-9));
    CHECK(mend.verified_mm == Approx(mend.predicted_mm).epsilon(1e-6).margin(1e-6));
    CHECK(mend.mended.dry_fit.empty());
    CHECK_FALSE(mend.words.empty());
    bool shows = false;
    for (const MeetingPlace& place : meeting_places(mend.mended, handle))
      if (!place.surface && place.joint &&
          std::ranges::find(fit.lines, *place.joint, &FoundLine::joint) != fit.lines.end() &&
          (place.line == 0 || (place.line + 1 == handle.left.joints[*place.joint].lines.size() &&
                               place.line + 1 == handle.right.joints[*place.joint].lines.size())))
        shows |= std::abs(place.nominal_mm) > place.visible_mm + 2e-7;
    // What may show, the readings' doubt counted, neither hides nor is said to show.
    CHECK((mend.outcome == "which still shows") == shows);
    if (mend.hides) CHECK_FALSE(shows);
    if (mend.kind == MendKind::push || mend.kind == MendKind::open_holes) check_push(fit, mend);
    if (mend.kind == MendKind::next_pins) check_next_pins(fit, mend);
    if (mend.kind == MendKind::face_off) check_facing(fit, mend, handle);
    // Those that hide come first, then the least work.
    const double rank = (mend.hides ? 0 : 10) + static_cast<double>(mend.kind);
    CHECK(rank >= shown);
    shown = rank;
  }
}

/// One straight joint without slant or strips; one pin, 0.1 mm of clearance, right scale 0.3 mm back.
Design plain_design(int pins) {
  Design design;
  design.name = "plain";
  design.tang.outline = {{{-20, -12}}, {{100, -12}}, {{100, 12}}, {{-20, 12}}};
  design.left.pieces = {{"black_walnut"}, {"sugar_maple"}};
  design.left.joints = {{.place_mm = 40}};
  for (int i = 0; i < pins; ++i) {
    Pin pin;
    pin.name = "pin " + std::to_string(i + 1);
    pin.at_mm = {15.0 + 30 * i, 0};
    pin.stock.nominal_mm = 3;
    pin.scale_hole.diameter_mm = 3.1;
    pin.tang_hole.diameter_mm = 3.1;
    design.pins.push_back(pin);
  }
  return with_ids(std::move(design));
}

DryFit read_off_by(Design design, Vec2 shift, double turn) {
  const Handle nominal = lay_out(design);
  const Handle truth = lay_out(with_right_off(design, {{40, 0}, shift, turn}));
  Random random(1);
  // As fine as a caliper can be read, so that the closed forms are not of the readings' doubt.
  design.dry_fit = read_all(design, truth, random, 0.01, 0);
  return read_dry_fit(design, nominal).value();
}

}  // namespace

TEST_CASE("a plain shift mends in closed form", "[dry fit][mends]") {
  const int pins = GENERATE(1, 2);
  const bool metric = GENERATE(true, false);
  Design design = plain_design(pins);
  design.shown_unit = metric ? LengthUnit::millimetre : LengthUnit::inch;
  const DryFit fit = read_off_by(design, {0.3, 0}, 0);
  check_mends(fit);
  CHECK_FALSE(fit.clearance_is_enough);
  CHECK_FALSE(find(fit, MendKind::accept));
  // Both scales give 0.05 mm each way of the pin: 0.1 mm in all.
  const Mend* push = find(fit, MendKind::push);
  REQUIRE(push);
  CHECK(push->push.shift_mm.x == Approx(-0.1).margin(1e-6));
  CHECK(push->verified_mm == Approx(0.2).margin(1e-6));
  CHECK_FALSE(push->hides);
  // To come under 0.09 mm, 0.21 mm is needed: a hole of 3.21 mm, of which 1/8 in (3.175) is short; #30 is
  // 0.1285 in = 3.2639 mm, and the next metric drill 3.3 mm.
  const double hole_mm = metric ? 3.3 : 3.2639;
  const Mend* open = find(fit, MendKind::open_holes);
  REQUIRE(open);
  CHECK(open->openings.size() == static_cast<std::size_t>(pins));
  for (const HoleOpening& opening : open->openings)
    CHECK(opening.diameter_mm == Approx(hole_mm).margin(1e-9));
  CHECK(open->push.shift_mm.x == Approx(3 - hole_mm).margin(1e-6));
  CHECK(open->verified_mm == Approx(0.3 - (hole_mm - 3)).margin(1e-6));
  CHECK(open->hides);
  // A hole of 3.1 mm, off by 0.3 mm, is cut away by 3.7 mm: rod of 3.5 mm has no room for that, 4 mm has.
  const Mend* next = find(fit, MendKind::next_pins);
  REQUIRE(next);
  CHECK(next->openings[0].stock_mm == test::nearly(4));
  CHECK(next->verified_mm < 0.003);
  // 0.3 mm comes off the left front piece and off the right rear piece, and a strip goes in.
  const Mend* face = find(fit, MendKind::face_off);
  REQUIRE(face);
  REQUIRE(face->facings.size() == 2);
  for (const FacingOff& facing : face->facings) {
    CHECK(facing.side == (facing.rear_end ? Which::right : Which::left));
    CHECK(facing.piece == (facing.rear_end ? 0 : 1));
    CHECK(facing.spine_mm == Approx(0.3).margin(1e-6));
    CHECK(facing.belly_mm == Approx(0.3).margin(1e-6));
  }
  REQUIRE(face->strips.size() == 2);
  CHECK(face->strips[0].from_mm == 0);
  CHECK(face->strips[0].to_mm == Approx(0.3).margin(1e-6));
  CHECK(face->verified_mm < 1e-6);
}

TEST_CASE("what does not show is accepted", "[dry fit][mends]") {
  const DryFit fit = read_off_by(plain_design(2), {0.08, 0}, 0);
  REQUIRE_FALSE(fit.mends.empty());
  CHECK(fit.mends.front().kind == MendKind::accept);
  CHECK(fit.mends.front().verified_mm == Approx(0.08).margin(1e-6));
  CHECK(fit.clearance_is_enough);
  CHECK_FALSE(find(fit, MendKind::face_off));
  check_mends(fit);
}

TEST_CASE("pins with no clearance can't be pushed", "[dry fit][mends]") {
  Design design = plain_design(3);
  for (Pin& pin : design.pins) pin.scale_hole.diameter_mm = 3;
  const DryFit fit = read_off_by(design, {0.2, 0}, 0);
  check_mends(fit);
  CHECK_FALSE(fit.clearance_is_enough);
  CHECK_FALSE(find(fit, MendKind::push));
  CHECK(find(fit, MendKind::open_holes));
}

TEST_CASE("three pins hold against a turn that one lets go", "[dry fit][mends]") {
  // 24 mm from spine to belly: 0.24 mm at each end, opposite ways.
  const DryFit one = read_off_by(plain_design(1), {0, 0}, 0.02);
  CHECK(one.clearance_is_enough);
  const DryFit three = read_off_by(plain_design(3), {0, 0}, 0.02);
  CHECK_FALSE(three.clearance_is_enough);
  check_mends(one);
  check_mends(three);
}

TEST_CASE("a strip that was there is replaced by one as much thicker", "[dry fit][mends]") {
  Design design = plain_design(2);
  design.left.joints[0].spacers = {{"vulcanized_fibre", 0.5}, {"brass_c26000", 1}};
  design.left.joints[0].slant_deg = 20;
  const DryFit fit = read_off_by(design, {-0.4, 0}, 0);
  check_mends(fit);
  const Mend* face = find(fit, MendKind::face_off);
  REQUIRE(face);
  for (const StripChange& change : face->strips) {
    CHECK(change.strip == 1);
    CHECK(change.from_mm == Approx(1).margin(1e-6));
    CHECK(change.to_mm == Approx(1 + 0.4 * std::cos(20 / kDegrees)).margin(1e-6));
  }
}

TEST_CASE("lines that cross are faced off to the slant that leaves the narrowest gap", "[dry fit][mends]") {
  Design design = plain_design(3);
  const DryFit fit = read_off_by(design, {0, 0}, 0.02);
  const Mend* face = find(fit, MendKind::face_off);
  REQUIRE(face);
  // 12 mm from the axis the right line is off by d: a gap of d along x at half its slant, of 2 d at none.
  const double d = 12 * std::tan(0.02);
  const double half_slant = std::atan(d / 24);
  CHECK(std::abs(face->mended.left.joints[0].slant_deg) == Approx(half_slant * kDegrees).margin(1e-6));
  for (const StripChange& change : face->strips)
    CHECK(change.to_mm == Approx(d * std::cos(half_slant)).margin(1e-6));
}

TEST_CASE("opened holes that lie too near an edge are cautioned against", "[dry fit][mends]") {
  Design design = plain_design(2);
  design.pins[0].at_mm.y = 12 - 3.1 / 2 - 3.15;  // passes by 0.05 mm
  const DryFit fit = read_off_by(design, {0.3, 0}, 0);
  const Mend* next = find(fit, MendKind::next_pins);
  REQUIRE(next);
  CHECK(std::ranges::any_of(next->cautions, [](const std::string& caution) {
    return caution.find("hole.edge at pin 1") != std::string::npos;
  }));
  const Mend* open = find(fit, MendKind::open_holes);
  REQUIRE(open);
  CHECK(std::ranges::any_of(open->cautions, [](const std::string& caution) {
    return caution.find("more than the shop's rule of 0.15 mm") != std::string::npos;
  }));
}

TEST_CASE("projects shown in millimetres get metric drills for opened holes and thicker pins",
          "[dry fit][mends]") {
  int opened = 0, inch_sizes = 0;
  for (const LengthUnit unit : {LengthUnit::millimetre, LengthUnit::inch})
    for (int step = 0; step < 12; ++step) {
      Design design = plain_design(2);
      design.shown_unit = unit;
      const DryFit fit = read_off_by(design, {0.2 + 0.03 * step, 0}, 0);
      for (const Mend& mend : fit.mends)
        for (const HoleOpening& opening : mend.openings) {
          INFO(mend.words);
          const bool metric = opening.drill.ends_with(" mm");
          if (unit == LengthUnit::millimetre) CHECK(metric);
          ++opened;
          inch_sizes += metric ? 0 : 1;
        }
    }
  CHECK(opened > 20);
  CHECK(inch_sizes > 2);
}

TEST_CASE("every mend of random handles leaves what it says", "[dry fit][mends]") {
  std::map<MendKind, int> tried;
  for (std::uint64_t seed = 1; seed <= 60; ++seed) {
    INFO("seed " << seed);
    Random random(seed + 500);
    Design design = random_design(seed);
    design.dry_fit.clear();
    const Handle nominal = lay_out(design);
    if (joints_in_common(nominal) == 0) continue;
    const double size = seed % 3 == 0 ? 0.05 : 1;  // some so little that nothing shows
    const Offset offset{{40, 0},
                        {random.between(-0.4, 0.4) * size, random.between(-0.2, 0.2) * size},
                        random.between(-0.006, 0.006) * size};
    const auto truth =
        try_lay_out(with_blanks_off(with_right_off(design, offset), random, 0.05 * size, 0.1 * size));
    if (!truth) continue;
    design.dry_fit = read_all(design, *truth, random, 0.02, 1);
    const auto fit = read_dry_fit(design, nominal);
    REQUIRE(fit);
    if (!fit->problem.empty()) continue;
    // Sides that are far apart by design leave nothing to do, and are told so.
    if (fit->mends.empty())
      CHECK(std::ranges::any_of(fit->taken, [](const std::string& note) {
        return note.find("Facing off is left out: ") != std::string::npos;
      }));
    check_mends(*fit);
    for (const Mend& mend : fit->mends) ++tried[mend.kind];
  }
  for (const MendKind kind :
       {MendKind::accept, MendKind::push, MendKind::open_holes, MendKind::next_pins, MendKind::face_off}) {
    INFO(static_cast<int>(kind));
    CHECK(tried[kind] > 1);
  }
}
