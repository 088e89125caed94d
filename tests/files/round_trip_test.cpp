#include <catch2/catch.hpp>

#include "haftwright/design/validate.hpp"
#include "haftwright/files/project_file.hpp"
#include "support/random_design.hpp"

using namespace haftwright;

TEST_CASE("what was written reads back as an equal design") {
  for (std::uint64_t seed = 0; seed < 2500; ++seed) {
    const Design design = test::random_design(seed);
    CAPTURE(seed);
    const std::string text = project_text(design);
    const Design again = parse_project(text);
    REQUIRE(again == design);
    // Nothing creeps: the second text is the first one, byte for byte.
    REQUIRE(project_text(again) == text);
  }
}
