// Findings of the line-up: they fail exactly where its shares are over the shop's limits.
#include "haftwright/alignment/findings.hpp"

#include "haftwright/alignment/telling.hpp"
#include "support/nearly.hpp"
#include "way_stacks.hpp"

using namespace haftwright;
using namespace haftwright::test;

namespace {

const Finding* find(const std::vector<Finding>& findings, std::string_view id) {
  const auto found = std::ranges::find(findings, id, &Finding::id);
  return found == findings.end() ? nullptr : &*found;
}

const Finding& the(const std::vector<Finding>& findings, std::string_view id) {
  const Finding* found = find(findings, id);
  INFO(id);
  REQUIRE(found);
  return *found;
}

std::vector<Finding> findings_of(const Design& design) {
  return line_up_findings(design, lay_out(design));
}

Design sample(const std::string& name) {
  return read_project(HAFTWRIGHT_PROJECTS "/" + name + ".json");
}

}  // namespace

TEST_CASE("a step is a finding that fails where more handles show one than the shop allows") {
  Design design = pinned_bar({20, 80});
  const WayReport way = assess_way(design, lay_out(design), design.drilling.way, kFindingSamples);
  const double share = way.samples.any_shows.share;
  REQUIRE(share > 0.1);
  REQUIRE(share < 0.9);
  for (const double limit : {share * 0.9, share, share * 1.1, 1.0}) {
    design.rules.step_shows_share = limit;
    const Finding step = the(findings_of(design), "line_up.step");
    CHECK(step.value == share);
    CHECK(step.limit == limit);
    CHECK(step.sense == Sense::at_most);
    CHECK(step.unit == FigureUnit::share);
    CHECK((step.status == Status::fail) == (limit < share));
    CHECK(step.place);
    CHECK(step.why.find(where_words(design, measure_place(way.line_up, worst_measure(way)))) !=
          std::string::npos);
    CHECK(step.basis.find("step_shows_share") != std::string::npos);
  }
}

TEST_CASE("pins that bind are a finding that fails, whatever the checks say of their nominal fit") {
  Design design = pinned_bar({20, 80}, 2.9);  // pins of 3 mm
  Finding bind = the(findings_of(design), "line_up.bind");
  CHECK(bind.value == test::nearly(1));
  CHECK(bind.status == Status::fail);
  CHECK(bind.why.find("With all pins sanded 0.1") != std::string::npos);
  design.rules.pins_bind_share = 1;
  CHECK(the(findings_of(design), "line_up.bind").status != Status::fail);
  bind = the(findings_of(pinned_bar({20, 80}, 3.15)), "line_up.bind");
  CHECK(bind.value < 0.01);
  CHECK(bind.status == Status::pass);
}

TEST_CASE("no pin at all fails, unless the shop lets glue alone hold a piece") {
  Design design = pinned_bar({});
  const auto findings = findings_of(design);
  CHECK(the(findings, "line_up.pins").status == Status::fail);
  CHECK_FALSE(find(findings, "line_up.bind"));
  design.rules.pins_per_piece = 0;
  CHECK(the(findings_of(design), "line_up.pins").status == Status::pass);
  CHECK(the(findings_of(pinned_bar({50})), "line_up.pins").status == Status::pass);
}

TEST_CASE("a way that can't be used is the one finding of the line-up that counts") {
  Design design = pinned_bar({});
  design.drilling.way = DrillWay::guide;
  const auto findings = findings_of(design);
  const Finding& way = the(findings, "line_up.way");
  CHECK(way.status == Status::fail);
  CHECK(way.why.find("no drill guide can be made") != std::string::npos);
  CHECK_FALSE(find(findings, "line_up.step"));
  CHECK_FALSE(find(findings_of(pinned_bar({20, 80})), "line_up.way"));
}

TEST_CASE("good samples line up in their own way of drilling; the marking knife does not") {
  for (const char* name : {"shucking_knife", "paring_knife", "reed_knife", "rigging_knife"}) {
    INFO(name);
    const Design design = sample(name);
    CHECK(worst(all_findings(design, lay_out(design))) != Status::fail);
  }
  const auto findings = findings_of(sample("marking_knife"));
  CHECK(the(findings, "line_up.bind").status == Status::fail);
  CHECK(the(findings, "line_up.step").status == Status::fail);
}

TEST_CASE("every finding of the line-up has its kind in the table") {
  for (const Design& design : designs_to_try())
    for (const Finding& finding : findings_of(design)) {
      INFO(design.name << ": " << finding.id);
      CHECK(std::ranges::count(line_up_kinds(), finding.id, &LineUpKind::id) == 1);
      CHECK(!where_words(design, finding.where).empty());
      CHECK(!finding.why.empty());
      CHECK(!finding.basis.empty());
    }
}
