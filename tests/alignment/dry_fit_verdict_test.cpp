// What a dry fit may conclude: nothing of an edge that was not read, nothing from readings that contradict
// each other, and "does not show" only where that is so.
#include <algorithm>
#include <array>
#include <catch2/catch.hpp>
#include <cmath>
#include <cstdlib>
#include <map>

#include "alignment/true_handle.hpp"
#include "dry_fit_parts.hpp"
#include "haftwright/alignment/dry_fit.hpp"
#include "mends.hpp"
#include "support/random_design.hpp"

using namespace haftwright;
using namespace haftwright::test;

namespace {

bool cuts_wood(MendKind kind) {
  return kind == MendKind::open_holes || kind == MendKind::next_pins || kind == MendKind::face_off;
}

/// A bar with one straight joint, 24 mm from belly to spine, and two pins with play.
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
  return design;
}

Handle turned(const Design& design, double degrees) {
  return lay_out(with_right_off(design, {{40, 0}, {0, 0}, degrees / kDegrees}));
}

/// A joint line of the joints read shows in a handle as it really is.
bool truly_shows(const DryFit& fit, const Design& design, const Handle& handle) {
  for (const MeetingPlace& place : meeting_places(design, handle)) {
    if (place.surface || !place.joint) continue;
    if (std::ranges::find(fit.lines, *place.joint, &FoundLine::joint) == fit.lines.end()) continue;
    const std::size_t left = handle.left.joints[*place.joint].lines.size();
    const std::size_t right = handle.right.joints[*place.joint].lines.size();
    if (place.line > 0 && (left != right || place.line + 1 < left)) continue;
    if (std::abs(place.nominal_mm) > place.visible_mm + 1e-6) return true;
  }
  return false;
}

struct Count {
  int said = 0;
  int wrong = 0;
  double share_right() const { return 1 - static_cast<double>(wrong) / said; }
};

/// Some of the readings only: one edge of a joint in one case of four.
std::vector<CaliperReading> some_of(std::vector<CaliperReading> readings, Random& random) {
  if (!random.chance(0.25)) return readings;
  const HandleEdge kept = random.chance(0.5) ? HandleEdge::spine : HandleEdge::belly;
  std::erase_if(readings,
                [&](const CaliperReading& reading) { return reading.joint == 1 && reading.at != kept; });
  return readings;
}

bool an_edge_is_missing(const DryFit& fit) {
  std::map<std::size_t, std::pair<bool, bool>> read;
  for (const FoundLine& line : fit.lines) {
    read[line.joint].first |= line.spine_mm.has_value();
    read[line.joint].second |= line.belly_mm.has_value();
  }
  return std::ranges::any_of(read,
                             [](const auto& joint) { return !joint.second.first || !joint.second.second; });
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
  CHECK_FALSE(fit->play_is_enough);
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
    CHECK(fit->decide.empty());
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
  for (CaliperReading reading : read_all(design, truth, random, 0.05, 0, "pin at 15")) {
    if (reading.side == Which::right) reading.reading_mm += 0.5;
    read.dry_fit.push_back(reading);
  }
  const auto twice = read_dry_fit(read, lay_out(design));
  CHECK(twice->mends.empty());
  CHECK(twice->problem.find("different places") != std::string::npos);
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

TEST_CASE("\"does not show\" is true in 95 of 100 random dry fits, and contradictions cut nothing",
          "[dry fit]") {
  const std::uint64_t cases = std::getenv("HAFTWRIGHT_LONG")    ? 1000
                              : std::getenv("HAFTWRIGHT_SHORT") ? 60
                                                                : 250;
  Count accepted, hidden;
  int contradicted = 0, gross = 0, one_edge = 0;
  std::uint64_t tried = 0;
  for (std::uint64_t seed = 1; tried < cases; ++seed) {
    Random random(seed * 6151 + 11);
    Design design = random_design(seed % 200 + 1);
    design.dry_fit.clear();
    const auto nominal = try_lay_out(design);
    if (!nominal || joints_in_common(*nominal) == 0) continue;
    const double size = random.pick(std::span<const double>(std::array{0.02, 0.05, 0.15}));
    const Offset offset{
        {40, 0}, {random.between(-size, size), random.between(-0.2, 0.2)}, random.between(-size, size) / 20};
    const Design off = with_blanks_off(with_right_off(design, offset), random, size, 0.1);
    const auto truth = try_lay_out(off);
    if (!truth) continue;
    ++tried;
    Design read = design;
    read.dry_fit = some_of(read_all(design, *truth, random, 0.05, 1), random);
    const bool wrong_reading = random.chance(0.2);
    if (wrong_reading) {
      read.dry_fit.push_back(read.dry_fit.front());
      read.dry_fit.back().reading_mm += random.chance(0.5) ? 0.5 : -0.3;
    }
    const auto fit = read_dry_fit(read, *nominal);
    if (!fit) continue;
    INFO("seed " << seed << " " << fit->problem);
    gross += wrong_reading;
    if (wrong_reading && !fit->problem.empty()) ++contradicted;
    if (!fit->problem.empty()) CHECK(fit->mends.empty());
    const bool missing = an_edge_is_missing(*fit);
    one_edge += missing;
    for (const Mend& mend : fit->mends) {
      if (missing) CHECK_FALSE(mend.hides);
      if (missing) CHECK_FALSE(cuts_wood(mend.kind));
      if (!mend.hides || (mend.kind != MendKind::accept && mend.kind != MendKind::push)) continue;
      const Design done = alignment::with_right_moved(off, mend.push);
      const auto handle = try_lay_out(done);
      if (!handle) continue;
      Count& count = mend.kind == MendKind::accept ? accepted : hidden;
      ++count.said;
      count.wrong += truly_shows(*fit, done, *handle);
    }
  }
  CAPTURE(accepted.said, accepted.wrong, hidden.said, hidden.wrong, gross, contradicted, one_edge);
  CHECK(accepted.said > static_cast<int>(cases) / 50);
  CHECK(hidden.said > static_cast<int>(cases) / 50);
  CHECK(accepted.share_right() >= 0.95);
  CHECK(hidden.share_right() >= 0.95);
  CHECK(one_edge > static_cast<int>(cases) / 20);
  CHECK(contradicted == gross);
  WARN("accept " << accepted.said << ", wrong " << accepted.wrong << "; push " << hidden.said << ", wrong "
                 << hidden.wrong << "; wrong readings " << gross << ", seen " << contradicted << "; one edge "
                 << one_edge);
}
