// Ways side by side and single changes: every figure is that of a stack sampled from scratch.
#include "haftwright/alignment/assess.hpp"

#include <catch2/catch.hpp>
#include <cmath>
#include <filesystem>

#include "haftwright/alignment/telling.hpp"
#include "haftwright/files/project_file.hpp"
#include "haftwright/handle/lay_out.hpp"
#include "haftwright/reference/drills.hpp"
#include "support/nearly.hpp"

using namespace haftwright;

namespace {

const SampleSettings kSettings{.samples = 4000};

Design sample(const std::string& name) {
  return read_project(HAFTWRIGHT_PROJECTS "/" + name + ".json");
}

void check_same(const Chance& a, const Chance& b) {
  CHECK(a.share == b.share);
  CHECK(a.low == b.low);
  CHECK(a.high == b.high);
}

/// All single changes to a design, whether or not they help.
std::vector<WhatIf> all_changes(const Design& design) {
  const Handle handle = lay_out(design);
  return what_ifs(design, handle, assess(design, handle, kSettings), kSettings);
}

const WhatIf* find(const std::vector<WhatIf>& changes, std::string_view words) {
  const auto found =
      std::ranges::find_if(changes, [&](const WhatIf& what_if) { return what_if.words.starts_with(words); });
  return found == changes.end() ? nullptr : &*found;
}

/// With each blank built up by itself, and the second scale drilled against the first.
Design plain_way(Design design) {
  design.drilling = {};
  return design;
}

}  // namespace

TEST_CASE("the chosen way's report is that way computed alone") {
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
      check_same(chosen.samples.any_shows, alone.samples.any_shows);
      check_same(chosen.samples.no_fit, alone.samples.no_fit);
      CHECK(chosen.samples.any_size_95 == alone.samples.any_size_95);
      REQUIRE(chosen.limits.size() == alone.line_up.measures.size());
      for (std::size_t m = 0; m < chosen.limits.size(); ++m) {
        CHECK(chosen.limits[m].worst == alone.limits[m].worst);
        CHECK(chosen.samples.measures[m].shows.share <= chosen.samples.measures[report.worst].shows.share);
      }
    }
}

TEST_CASE(
    "the contributors' shares of the worst measure are in order: alone at most all, in total at least") {
  for (const char* name : {"marking_knife", "paring_knife", "reed_knife", "shucking_knife"}) {
    INFO(name);
    const Design design = sample(name);
    const LineUpReport report = assess(design, lay_out(design), {.samples = 2000});
    const double off = 5 * std::sqrt(2.0 / 2000) * 2;
    double alone = 0;
    double total = 0;
    for (const ContributorShare& contributor : report.shares) {
      alone += contributor.share.alone;
      total += contributor.share.total;
      CHECK(contributor.share.alone <= contributor.share.total);
      CHECK_FALSE(contributor.words.empty());
    }
    CHECK(alone < 1 + off);
    CHECK(total > 1 - off);
    CHECK(std::ranges::is_sorted(report.shares, std::greater<>(), [](const ContributorShare& contributor) {
      return contributor.share.total;
    }));
  }
}

TEST_CASE("the summary is four lines: step, worst place and cause, best change, pins") {
  for (const char* name : {"marking_knife", "paring_knife", "shucking_knife"}) {
    const Design design = sample(name);
    const LineUpReport report = assess(design, lay_out(design), kSettings);
    REQUIRE(report.summary.size() == 4);
    const auto has = [&](std::size_t line, const std::string& words) {
      INFO(report.summary[line].text << " lacks " << words);
      CHECK(report.summary[line].text.find(words) != std::string::npos);
    };
    const WayReport& way = report.ways[report.chosen];
    has(0, "95 of 100");
    has(1, where_words(design, measure_place(way.line_up, report.worst)));
    has(1, report.shares.front().words);
    if (!report.what_ifs.empty()) has(2, report.what_ifs.front().words);
    has(3, percent_words(way.samples.no_fit.share));
    if (way.interference) has(3, "thinner");
  }
  const Design design = sample("marking_knife");
  CHECK(assess(design, lay_out(design), kSettings).ways[1].interference);
}

TEST_CASE("every change's figures are those of its own design, laid out and sampled from scratch") {
  for (const char* name : {"marking_knife", "paring_knife", "shucking_knife"}) {
    const Design design = sample(name);
    for (const WhatIf& what_if : all_changes(design)) {
      INFO(name << ": " << what_if.words);
      CHECK_FALSE(what_if.design == design);
      const WayReport again =
          assess_way(what_if.design, lay_out(what_if.design), what_if.design.drilling.way, kSettings);
      check_same(what_if.any_shows, again.samples.any_shows);
      check_same(what_if.no_fit, again.samples.no_fit);
      CHECK(what_if.any_size_95 == again.samples.any_size_95);
    }
  }
}

TEST_CASE("only changes that help are told: pins that go in first, then the smallest step") {
  std::size_t told = 0;
  for (const char* name : {"marking_knife", "paring_knife", "shucking_knife"}) {
    const Design design = plain_way(sample(name));
    const LineUpReport report = assess(design, lay_out(design), kSettings);
    const Samples& now = report.ways[report.chosen].samples;
    std::pair<bool, double> before{false, 0};
    for (const WhatIf& what_if : report.what_ifs) {
      INFO(name << ": " << what_if.words);
      const bool binds = what_if.no_fit.share > design.rules.pins_bind_share;
      CHECK((what_if.any_size_95 < now.any_size_95 || what_if.any_shows.share < now.any_shows.share ||
             what_if.no_fit.share < now.no_fit.share));
      if (binds) CHECK(what_if.no_fit.share < now.no_fit.share);
      CHECK(before <= std::pair(binds, what_if.any_size_95));
      before = {binds, what_if.any_size_95};
      ++told;
    }
    CHECK_FALSE(report.what_ifs.empty());
  }
  CHECK(told > 6);
}

TEST_CASE("no advice is about what is called visible: the step itself is what changes") {
  Design design = plain_way(sample("shucking_knife"));
  for (const ErrorRow& row : error_rows()) design.drilling.errors.*row.member /= 10;
  for (const WhatIf& what_if : all_changes(design)) {
    INFO(what_if.words);
    CHECK(what_if.design.rules == design.rules);
    for (std::size_t j = 0; j < design.left.joints.size(); ++j)
      CHECK(what_if.design.left.joints[j].spacers == design.left.joints[j].spacers);
  }
}

TEST_CASE("drills are named in the sizes that the shop has, inch sizes with their decimals") {
  std::size_t named = 0;
  for (const LengthUnit unit : {LengthUnit::millimetre, LengthUnit::inch, LengthUnit::inch_fraction}) {
    Design design = sample("marking_knife");
    design.shown_unit = unit;
    for (Pin& pin : design.pins) pin.stock = {.nominal_mm = 3.2};
    for (const WhatIf& what_if : all_changes(design)) {
      if (!what_if.words.starts_with("Drill wider")) continue;
      ++named;
      INFO(what_if.words);
      const auto drill = find_drill(what_if.design.pins[0].scale_hole.drill);
      REQUIRE(drill);
      if (unit == LengthUnit::millimetre)
        CHECK(drill->series == DrillSeries::metric);
      else
        CHECK(what_if.words.find("(0.1") != std::string::npos);
      CHECK(what_if.words.find('~') == std::string::npos);
    }
  }
  CHECK(named == 3);
}

TEST_CASE("each kind of change is there for a design that calls for it, with its amounts") {
  Design guided = sample("paring_knife");
  guided.drilling.way = DrillWay::guide;
  guided.guide.plate_thickness_mm = 12;
  const auto by_guide = all_changes(guided);
  const WhatIf* longer = find(by_guide, "Make the drill guide 18.00 mm thick instead of 12.00 mm");
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
  const WhatIf* ream = find(tighter, "Drill or ream the scales tighter: 3.1 mm, holes measured");
  REQUIRE(ream);
  for (const Pin& pin : ream->design.pins) CHECK(pin.scale_hole.actual_mm() == test::nearly(3.1));

  const auto marking = all_changes(sample("marking_knife"));
  const WhatIf* wider = find(marking, "Drill wider, so that the pins go in: ");
  REQUIRE(wider);
  CHECK(wider->no_fit.share < 0.5);
  CHECK(find(assess(sample("marking_knife"), lay_out(sample("marking_knife")), kSettings).what_ifs,
             "Drill wider"));

  const WhatIf* half = find(marking, "Halve the error of: ");
  REQUIRE(half);

  const auto shucking = all_changes(plain_way(sample("shucking_knife")));
  CHECK(find(shucking, "Build up one block and saw both scales from it"));

  const auto paring = all_changes(sample("paring_knife"));
  const WhatIf* pin = find(paring, "One more pin, ");
  REQUIRE(pin);
  CHECK(pin->design.pins.size() == sample("paring_knife").pins.size() + 1);
}

TEST_CASE("amounts are told in the unit that the project shows") {
  Design design = sample("paring_knife");
  design.drilling.way = DrillWay::guide;
  design.guide.plate_thickness_mm = 12.7;
  design.shown_unit = LengthUnit::inch;
  const WhatIf* longer = nullptr;
  const auto changes = all_changes(design);
  longer = find(changes, "Make the drill guide ");
  REQUIRE(longer);
  CHECK(longer->words.find(" in thick instead of ") != std::string::npos);
  CHECK(longer->words.find("mm") == std::string::npos);
}

TEST_CASE("halves of one block are not offered where a joint has a rake") {
  Design design = plain_way(sample("shucking_knife"));
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
  CHECK(report.what_ifs.empty());
  std::size_t answered = 0;
  for (const WayReport& way : report.ways) answered += way.problem.empty() ? 1u : 0u;
  CHECK(answered == 3);
}
