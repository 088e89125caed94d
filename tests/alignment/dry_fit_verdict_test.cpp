// What a dry fit may conclude: nothing of an edge that was not read, nothing from readings that contradict
// each other, and "does not show" only where that is so.
#include <algorithm>
#include <catch2/catch.hpp>
#include <cmath>

#include "alignment/true_handle.hpp"
#include "dry_fit_parts.hpp"
#include "haftwright/alignment/dry_fit.hpp"

using namespace haftwright;
using namespace haftwright::test;

namespace {

/// A bar with one straight joint, 24 mm from belly to spine, and two pins with clearance.
Design bar() {
  Design design;
  design.name = "bar";
  design.tang.outline = {{{-20, -12}}, {{100, -12}}, {{100, 12}}, {{-20, 12}}};
  design.left.pieces = {{"black_walnut"}, {"sugar_maple"}};
  design.left.joints = {{.place_mm = 40}};
  for (const double x : {15.0, 75.0}) {
    Pin pin;
    pin.name = "pin at " + shortest_number(x);
    pin.at_mm = {x, 0};
    pin.stock.nominal_mm = 3;
    pin.scale_hole.diameter_mm = pin.tang_hole.diameter_mm = 3.1;
    design.pins.push_back(pin);
  }
  return with_ids(std::move(design));
}

Handle turned(const Design& design, double degrees) {
  return lay_out(with_right_off(design, {{40, 0}, {0, 0}, degrees / kDegrees}));
}

}  // namespace

TEST_CASE("an edge that was not read is not taken for good", "[dry fit]") {
  // 0.6 deg about the axis: 0.126 mm at the spine one way, as much at the belly the other way; the spine is
  // then pushed flush.
  const Design design = bar();
  Design read = design;
  const double half = 12 * std::tan(0.6 / kDegrees);
  const Handle truth = lay_out(with_right_off(design, {{40, 12}, {0, 0}, 0.6 / kDegrees}));
  Random random(1);
  read.dry_fit = read_all(design, truth, random, 0.05, 0);
  std::erase_if(read.dry_fit, [](const CaliperReading& reading) { return reading.at == HandleEdge::belly; });
  CHECK(std::abs(step_of(truth, 0, StripEdge::front, HandleEdge::belly)) == Approx(2 * half).epsilon(0.01));
  const auto fit = read_dry_fit(read, lay_out(design));
  REQUIRE(fit);
  CHECK(fit->lines.at(0).spine_mm->value == Approx(0).margin(2e-3));
  CHECK(fit->decide.find("joint 1, at the belly") != std::string::npos);
  CHECK_FALSE(fit->clearance_is_enough);
  for (const Mend& mend : fit->mends) {
    INFO(mend.words << ": " << mend.outcome);
    CHECK_FALSE(mend.hides);
    CHECK_FALSE(cuts_wood(mend.kind));
    CHECK(mend.kind != MendKind::accept);
  }
}

TEST_CASE("a step within the limit by less than the readings' doubt is not accepted", "[dry fit]") {
  const Design design = bar();
  const Handle truth = lay_out(with_right_off(design, {{40, 0}, {0.08, 0}, 0}));
  // Two readings within 0.05 mm each: the step within 0.071 mm. Within 0.01 mm each: 0.014 mm.
  for (const double accuracy_mm : {0.05, 0.01}) {
    Design read = design;
    Random random(1);
    read.dry_fit = read_all(design, truth, random, accuracy_mm, 0);
    const auto fit = read_dry_fit(read, lay_out(design));
    REQUIRE(fit);
    const bool accepted = !fit->mends.empty() && fit->mends.front().kind == MendKind::accept;
    CHECK(accepted == (accuracy_mm < 0.02));
    CHECK((fit->decide.find("once more") != std::string::npos) == (!accepted && !fit->clearance_is_enough));
  }
}

TEST_CASE("one in a hundred good sets of readings has so large a chi-square", "[dry fit]") {
  // One degree of freedom: the square of the normal 99.5th percentile, 2.5758293. Two: -2 ln 0.01.
  const double one = 2.5758293 * 2.5758293, two = -2 * std::log(0.01);
  CHECK(alignment::beyond_chance(one * 1.03, 1));
  CHECK_FALSE(alignment::beyond_chance(one * 0.97, 1));
  CHECK(alignment::beyond_chance(two * 1.03, 2));
  CHECK_FALSE(alignment::beyond_chance(two * 0.97, 2));
  CHECK_FALSE(alignment::beyond_chance(1e9, 0));
}

TEST_CASE("readings that contradict each other name the suspect and cut nothing", "[dry fit]") {
  const Design design = bar();
  const Handle truth = turned(design, 0.5);
  Design read = design;
  Random random(1);
  read.dry_fit = read_all(design, truth, random, 0.05, 0.5);
  const CaliperReading good = read.dry_fit.front();
  read.dry_fit.push_back(good);
  read.dry_fit.push_back(good);
  read.dry_fit.back().reading_mm += 0.4;
  const auto fit = read_dry_fit(read, lay_out(design));
  REQUIRE(fit);
  CHECK(fit->mends.empty());
  CHECK(fit->problem.find("Readings 1, 5 and 6") != std::string::npos);
  CHECK(fit->problem.find("Reading 6 is the suspect") != std::string::npos);
  // Of two, nobody can say which is wrong.
  read.dry_fit.erase(read.dry_fit.end() - 2);
  CHECK(read_dry_fit(read, lay_out(design))->problem.find("Read both again") != std::string::npos);
  // Steps from two places that contradict each other.
  read.dry_fit.pop_back();
  for (CaliperReading reading : read_all(design, truth, random, 0.05, 0, "pin_at_15")) {
    if (reading.side == Which::right) reading.reading_mm += 0.5;
    read.dry_fit.push_back(reading);
  }
  const auto twice = read_dry_fit(read, lay_out(design));
  CHECK(twice->problem.find("Read all of them again") != std::string::npos);
  CHECK(twice->mends.empty());
  CHECK(twice->problem.find("contradict each other") != std::string::npos);
}

TEST_CASE("four ends that no straight strip can have are a contradiction", "[dry fit]") {
  Design design = bar();
  design.left.joints[0].spacers = {{"vulcanized_fibre", 1}};
  Design read = design;
  Random random(1);
  read.dry_fit = read_all(design, lay_out(design), random, 0.05, 0);
  CHECK(read_dry_fit(read, lay_out(design))->problem.empty());
  read.dry_fit.front().reading_mm += 0.5;
  const auto fit = read_dry_fit(read, lay_out(design));
  CHECK(fit->mends.empty());
  CHECK(fit->problem.find("no straight strips") != std::string::npos);
}

TEST_CASE("of three contributors of one step the one that disagrees is the suspect", "[dry fit]") {
  const Design design = bar();
  const Handle truth = turned(design, 0.5);
  Design read = design;
  Random random(1);
  read.dry_fit = read_all(design, truth, random, 0.05, 0);
  const double step = step_of(truth, 0, StripEdge::front, HandleEdge::spine);
  CaliperReading across{.joint = "joint_1",
                        .kind = ReadingKind::step,
                        .side = step > 0 ? Which::left : Which::right,
                        .reading_mm = std::abs(step),
                        .accuracy_mm = 0.05};
  read.dry_fit.push_back(across);
  CHECK(read_dry_fit(read, lay_out(design))->problem.empty());
  across.reading_mm += 0.4;
  read.dry_fit.push_back(across);
  const auto fit = read_dry_fit(read, lay_out(design));
  CHECK(fit->mends.empty());
  CHECK(fit->problem.find("Reading 6 is the suspect") != std::string::npos);
}

TEST_CASE("a step read straight across counts left less right, the line nearer the butt named", "[dry fit]") {
  const Design design = bar();
  const Handle nominal = lay_out(design);
  for (const Which nearer : {Which::left, Which::right}) {
    Design read = design;
    for (const HandleEdge at : {HandleEdge::spine, HandleEdge::belly})
      read.dry_fit.push_back(
          {.joint = "joint_1", .at = at, .kind = ReadingKind::step, .side = nearer, .reading_mm = 0.3});
    const auto fit = read_dry_fit(read, nominal);
    REQUIRE(fit);
    const double step = nearer == Which::left ? 0.3 : -0.3;
    CHECK(fit->lines.at(0).spine_mm->value == Approx(step).margin(1e-9));
    CHECK(fit->lines.at(0).belly_mm->value == Approx(step).margin(1e-9));
    CHECK(fit->lines.at(0).spine_mm->within == Approx(0.05).epsilon(1e-9));
    // x grows toward the butt: with the left line nearer to it the right scale lies too far ahead.
    CHECK(fit->shift_mm.value == Approx(-step).margin(1e-6));
    const Handle found = lay_out(fit->as_found);
    CHECK(end_of(found.left, 0, StripEdge::front, HandleEdge::spine).inner.x ==
          Approx(end_of(nominal.left, 0, StripEdge::front, HandleEdge::spine).inner.x).margin(1e-9));
    CHECK(step_of(found, 0, StripEdge::front, HandleEdge::belly) == Approx(step).margin(1e-8));
  }
}

TEST_CASE("a joint that was not read at all is not taken for good", "[dry fit]") {
  Design design = bar();
  design.left.pieces.push_back({"black_walnut"});
  design.left.joints.push_back({.place_mm = 70});
  design = with_ids(std::move(design));
  Design read = design;
  Random random(1);
  read.dry_fit = read_all(design, lay_out(design), random, 0.01, 0);
  const auto whole = read_dry_fit(read, lay_out(design));
  CHECK(whole->mends.at(0).kind == MendKind::accept);
  std::erase_if(read.dry_fit, [](const CaliperReading& reading) { return reading.joint == "joint_2"; });
  const auto half = read_dry_fit(read, lay_out(design));
  CHECK(half->decide.find("joint 2, at the spine") != std::string::npos);
  for (const Mend& mend : half->mends) {
    CHECK_FALSE(mend.hides);
    CHECK(mend.kind != MendKind::accept);
    CHECK_FALSE(cuts_wood(mend.kind));
  }
}

TEST_CASE("holes that were not measured give a push no more room than their drill", "[dry fit][mends]") {
  Design design = bar();
  for (Pin& pin : design.pins) pin.scale_hole = pin.tang_hole = {"3.1 mm", std::nullopt};
  const Handle nominal = lay_out(design);
  const Handle truth = lay_out(with_right_off(design, {{40, 0}, {0.5, 0}, 0}));
  Design read = design;
  Random random(1);
  read.dry_fit = read_all(design, truth, random, 0.01, 0);
  const auto fit = read_dry_fit(read, nominal);
  REQUIRE(fit);
  bool pushed = false;
  for (const Mend& mend : fit->mends)
    if (mend.kind == MendKind::push) {
      pushed = true;
      for (const Pin& pin : design.pins) CHECK(glm::length(mend.push.motion_of(pin.at_mm)) <= 3.1 - 3 + 1e-6);
    }
  CHECK(pushed);
}

TEST_CASE("what cuts wood asks for a second reading, and joints that end equal stay linked",
          "[dry fit][mends]") {
  const Design design = bar();
  Design read = design;
  Random random(1);
  read.dry_fit = read_all(design, turned(design, 3), random, 0.01, 0);
  const auto once = read_dry_fit(read, lay_out(design));
  const auto again = read_all(design, turned(design, 3), random, 0.01, 0);
  read.dry_fit.insert(read.dry_fit.end(), again.begin(), again.end());
  const auto twice = read_dry_fit(read, lay_out(design));
  bool faced = false;
  for (const auto* fit : {&*once, &*twice})
    for (const Mend& mend : fit->mends) {
      if (!cuts_wood(mend.kind)) continue;
      CHECK((mend.cautions.front().find("read every end a second time") != std::string::npos) ==
            (fit == &*once));
      if (mend.kind != MendKind::face_off) continue;
      faced = true;
      CHECK_FALSE(mend.mended.right.joints);
      const Handle handle = lay_out(mend.mended);
      CHECK(step_of(handle, 0, StripEdge::front, HandleEdge::spine) == Approx(0).margin(1e-9));
    }
  CHECK(faced);
}
