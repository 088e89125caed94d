// Projects and outlines that once ended the program, or gave figures that can't be: each ends with figures
// that can be or with an error that names a field.
#include <catch2/catch.hpp>
#include <cstdlib>
#include <filesystem>
#include <map>

#include "every_answer.hpp"
#include "haftwright/design/validate.hpp"
#include "haftwright/files/project_file.hpp"
#include "nasty_design.hpp"

using namespace haftwright;
using namespace haftwright::test;

namespace {

Answers answers_of(const std::string& name) {
  return every_answer(read_project(std::filesystem::path(HAFTWRIGHT_CASES) / (name + ".json")));
}

bool names_a_field(const std::string& refusal) {
  return !refusal.empty() && refusal.front() != ':';
}

void check(const Answers& answers) {
  for (const std::string& bad : answers.bad) FAIL_CHECK(bad);
  for (const std::string& refusal : answers.refusals) {
    INFO(refusal);
    CHECK(names_a_field(refusal));
  }
  CHECK((answers.laid_out || !answers.refusals.empty()));
}

}  // namespace

TEST_CASE("projects that once went wrong end with figures or with one clear error") {
  for (const auto& file : std::filesystem::directory_iterator(HAFTWRIGHT_CASES)) {
    INFO(file.path().filename());
    check(answers_of(file.path().stem()));
  }
}

TEST_CASE("a notched butt, a corner arc a hair off tangent and a bulge of nothing are laid out") {
  for (const char* name : {"notched_butt", "corner_arc_a_hair_off_tangent", "bulge_of_nothing",
                           "smaller_bulge_of_nothing", "one_great_arc_proud_butt", "spiked_butt_crowned"}) {
    INFO(name);
    CHECK(answers_of(name).laid_out);
  }
}

TEST_CASE("a butt that comes to a point can't stand proud: the error names the field") {
  const Answers answers = answers_of("two_nodes_close_together_pointed_butt");
  REQUIRE(answers.refusals.size() == 1);
  CHECK(answers.refusals.front().starts_with("sides.left.butt_proud_mm: "));
}

TEST_CASE("nasty outlines end with figures that can be, or with an error that names a field") {
  const std::uint64_t count = std::getenv("HAFTWRIGHT_SHORT") ? 30 : 120;
  std::uint64_t valid = 0, laid_out = 0;
  for (std::uint64_t seed = 0; seed < count; ++seed) {
    INFO("seed " << seed);
    const Design design = nasty_design(seed);
    if (!validate(design).empty()) continue;
    ++valid;
    const Answers answers = every_answer(design);
    check(answers);
    if (answers.laid_out) ++laid_out;
  }
  CHECK(valid > count / 4);
  CHECK(laid_out > valid / 4);
}
