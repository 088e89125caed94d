// Ways side by side and single changes: every figure is that of a chain drawn from scratch.
#include "haftwright/alignment/assess.hpp"

#include <catch2/catch.hpp>
#include <cmath>
#include <filesystem>
#include <numeric>

#include "haftwright/files/project_file.hpp"
#include "haftwright/handle/lay_out.hpp"

using namespace haftwright;

namespace {

const DrawSettings kSettings{.draws = 4000};

Design sample(const std::string& name) {
  return read_project(HAFTWRIGHT_PROJECTS "/" + name + ".json");
}

void check_same(const Chance& a, const Chance& b) {
  CHECK(a.share == b.share);
  CHECK(a.low == b.low);
  CHECK(a.high == b.high);
}

/// All single changes to a design, whether or not they help.
std::vector<Change> all_changes(const Design& design) {
  const Handle handle = lay_out(design);
  return possible_changes(design, handle, assess(design, handle, kSettings), kSettings);
}

const Change* find(const std::vector<Change>& changes, std::string_view words) {
  const auto found =
      std::ranges::find_if(changes, [&](const Change& change) { return change.words.starts_with(words); });
  return found == changes.end() ? nullptr : &*found;
}

/// A shop that errs a tenth as much.
Design careful(Design design) {
  for (const ErrorRow& row : error_rows()) design.drilling.errors.*row.member /= 10;
  return design;
}

}  // namespace

TEST_CASE("the chosen way's report is that way reckoned alone") {
  for (const char* name : {"marking_knife", "paring_knife", "shucking_knife"})
    for (const WayRow& row : way_rows()) {
      Design design = sample(name);
      design.drilling.way = row.way;
      INFO(name << ", " << row.key);
      const Handle handle = lay_out(design);
      const LineUpReport report = assess(design, handle, kSettings);
      REQUIRE(report.ways.size() == way_rows().size());
      const WayReport& chosen = report.ways[report.chosen];
      REQUIRE(chosen.way == row.way);
      const WayReport alone = assess_way(design, handle, row.way, kSettings);
      check_same(chosen.draws.any_shows, alone.draws.any_shows);
      check_same(chosen.draws.no_fit, alone.draws.no_fit);
      CHECK(chosen.draws.any_size_95 == alone.draws.any_size_95);
      REQUIRE(chosen.limits.size() == alone.line_up.measures.size());
      for (std::size_t m = 0; m < chosen.limits.size(); ++m) {
        CHECK(chosen.limits[m].worst == alone.limits[m].worst);
        CHECK(chosen.draws.measures[m].shows.share <= chosen.draws.measures[report.worst].shows.share);
      }
    }
}

TEST_CASE("the sources' shares of the worst measure come to one, the largest first") {
  for (const char* name : {"marking_knife", "paring_knife", "reed_knife", "shucking_knife"}) {
    INFO(name);
    const Design design = sample(name);
    const LineUpReport report = assess(design, lay_out(design), {.draws = 2000});
    const double sum = std::accumulate(report.shares.begin(), report.shares.end(), 0.0,
                                       [](double s, const SourceShare& share) { return s + share.share; });
    CHECK(sum == Approx(1));
    CHECK(std::ranges::is_sorted(report.shares, std::greater<>(), &SourceShare::share));
    for (const SourceShare& share : report.shares) CHECK_FALSE(share.words.empty());
  }
}

TEST_CASE("every change's figures are those of its own design, laid out and drawn from scratch") {
  for (const char* name : {"marking_knife", "paring_knife", "shucking_knife"}) {
    const Design design = sample(name);
    for (const Change& change : all_changes(design)) {
      INFO(name << ": " << change.words);
      CHECK_FALSE(change.design == design);
      const WayReport again =
          assess_way(change.design, lay_out(change.design), change.design.drilling.way, kSettings);
      check_same(change.any_shows, again.draws.any_shows);
      check_same(change.no_fit, again.draws.no_fit);
      CHECK(change.any_size_95 == again.draws.any_size_95);
    }
  }
}

TEST_CASE("only changes that help are told, the best first") {
  std::size_t told = 0;
  for (const char* name : {"marking_knife", "paring_knife", "shucking_knife"}) {
    const Design design = sample(name);
    const LineUpReport report = assess(design, lay_out(design), kSettings);
    const Draws& now = report.ways[report.chosen].draws;
    double before = 0;
    for (const Change& change : report.changes) {
      INFO(name << ": " << change.words);
      const double wrong = change.any_shows.share + change.no_fit.share;
      CHECK((wrong < now.any_shows.share + now.no_fit.share || change.any_size_95 < now.any_size_95));
      CHECK(wrong >= before - 0.01);  // sorted in whole per cents
      before = wrong;
      ++told;
    }
    CHECK_FALSE(report.changes.empty());
  }
  CHECK(told > 6);
}

TEST_CASE("each kind of change is there for a design that calls for it, with its amounts") {
  Design guided = sample("paring_knife");
  guided.drilling.way = DrillWay::guide;
  guided.guide.plate_thickness_mm = 12;
  const auto by_guide = all_changes(guided);
  const Change* longer = find(by_guide, "Make the drill guide 18.00 mm thick instead of 12.00 mm");
  REQUIRE(longer);
  CHECK(longer->design.guide.plate_thickness_mm == 18);
  CHECK(find(by_guide, "Drill another way: "));

  // Pins of 3 mm in holes of 3.3: 3.1 mm is the smallest listed that leaves glue its 0.1.
  Design loose = sample("shucking_knife");
  loose.rules.glue_clearance_least_mm = 0.1;
  for (Pin& pin : loose.pins) {
    pin.stock = {.nominal_mm = 3};
    pin.scale_hole = pin.liner_hole = {.diameter_mm = 3.3};
  }
  const auto tighter = all_changes(loose);
  const Change* ream = find(tighter, "Drill or ream the scales tighter: 3.1 mm, holes measured");
  REQUIRE(ream);
  for (const Pin& pin : ream->design.pins) CHECK(pin.scale_hole.actual_mm() == Approx(3.1));

  const auto marking = all_changes(sample("marking_knife"));
  const Change* wider = find(marking, "Drill wider, so that the pins go in: ");
  REQUIRE(wider);
  CHECK(wider->no_fit.share < 0.5);
  CHECK(find(assess(sample("marking_knife"), lay_out(sample("marking_knife")), kSettings).changes,
             "Drill wider"));

  const Change* half = find(marking, "Halve the error of: ");
  REQUIRE(half);

  const auto shucking = all_changes(sample("shucking_knife"));
  CHECK(find(shucking, "Build up one block and saw both scales from it"));

  const auto paring = all_changes(sample("paring_knife"));
  const Change* pin = find(paring, "One more pin, ");
  REQUIRE(pin);
  CHECK(pin->design.pins.size() == sample("paring_knife").pins.size() + 1);

  const auto small = all_changes(careful(sample("shucking_knife")));
  const Change* strips = find(small, "Spacer strips of ");
  REQUIRE(strips);
  CHECK(strips->any_shows.share <= find(small, "Halve the error of: ")->any_shows.share);
}

TEST_CASE("amounts are told in the unit that the project shows") {
  Design design = sample("paring_knife");
  design.drilling.way = DrillWay::guide;
  design.guide.plate_thickness_mm = 12.7;
  design.shown_unit = LengthUnit::inch;
  const Change* longer = nullptr;
  const auto changes = all_changes(design);
  longer = find(changes, "Make the drill guide ");
  REQUIRE(longer);
  CHECK(longer->words.find(" in thick instead of ") != std::string::npos);
  CHECK(longer->words.find("mm") == std::string::npos);
}

TEST_CASE("halves of one block are not offered where a joint has a rake") {
  Design design = sample("shucking_knife");
  REQUIRE(find(all_changes(design), "Build up one block"));
  for (Joint& joint : design.left.joints) joint.rake_deg = 3;
  CHECK_FALSE(find(all_changes(design), "Build up one block"));
}

TEST_CASE("no way without a guide is lost when the guide can't be made") {
  Design design = sample("shucking_knife");
  design.pins.clear();
  design.drilling.way = DrillWay::guide;
  const LineUpReport report = assess(design, lay_out(design), kSettings);
  CHECK_FALSE(report.ways[report.chosen].problem.empty());
  CHECK(report.changes.empty());
  std::size_t reckoned = 0;
  for (const WayReport& way : report.ways) reckoned += way.problem.empty() ? 1u : 0u;
  CHECK(reckoned == 3);
}
