// Findings that are the same on both sides, put together.
#include <algorithm>

#include "plain_design.hpp"
#include "support/random_design.hpp"

using namespace haftwright;
using namespace haftwright::test;

TEST_CASE("what is the same on both sides becomes one finding about both") {
  const std::vector<Finding> findings = findings_of(plain_design());
  const std::vector<Finding> together = sides_together(findings);
  CHECK(those(findings, "hole.edge", {"pin 1"}).size() == 2);
  const Finding edge = the(together, "hole.edge", {"pin 1"});
  CHECK(edge.where.at.sides == Sides::both);
  CHECK(edge.value == those(findings, "hole.edge", {"pin 1"}).front().value);
  CHECK(the(together, "piece.held", {"front piece"}).where.at.sides == Sides::both);
}

TEST_CASE("put together, the findings of random designs lose nothing but twins") {
  for (std::uint64_t seed = 0; seed < 200; ++seed) {
    const Design design = random_design(seed);
    const std::vector<Finding> findings = run_checks(design, lay_out(design));
    const std::vector<Finding> together = sides_together(findings);
    INFO("seed " << seed);
    std::size_t merged = 0;
    for (const Finding& one : together) {
      const auto same = [&](const Finding& finding) {
        const bool here = finding.where == one.where || on_both_sides(finding.where) == one.where ||
                          on_both_sides(mirrored(finding.where)) == one.where;
        return finding.id == one.id && here && finding.value == one.value && finding.limit == one.limit;
      };
      const auto count = static_cast<std::size_t>(std::ranges::count_if(findings, same));
      CHECK(count >= 1);
      merged += count - 1;
    }
    CHECK(together.size() + merged == findings.size());
    // Nothing is left that has a twin.
    for (const Finding& one : together)
      CHECK(std::ranges::none_of(together, [&](const Finding& other) {
        return &one != &other && one.id == other.id && mirrored(one.where) == other.where &&
               one.value == other.value && one.limit == other.limit;
      }));
  }
}
