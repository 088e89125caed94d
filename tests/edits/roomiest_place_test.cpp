#include <catch2/catch.hpp>
#include <set>

#include "haftwright/checks/checks.hpp"
#include "haftwright/design/validate.hpp"
#include "haftwright/edits/edits.hpp"
#include "haftwright/handle/lay_out.hpp"
#include "haftwright/handle/measures.hpp"
#include "support/designs.hpp"
#include "support/random_design.hpp"

namespace haftwright {
namespace {

/// Adds up to `most` pins, each with a name and a place of its own; how many fitted.
int add_pins(Design design, int most) {
  const std::size_t overlapping = overlapping_holes(lay_out(design)).size();
  for (int added = 0; added < most; ++added) {
    const Edited edit = add_pin(design, lay_out(design));
    if (!edit) {
      CHECK(edit.refusal().find("no room") != std::string::npos);
      return added;
    }
    design = *edit;
    std::set<std::string> names;
    for (const Pin& pin : design.pins) names.insert(pin.name);
    CHECK(names.size() == design.pins.size());
    CHECK(validate(design).empty());
  }
  CHECK(overlapping_holes(lay_out(design)).size() == overlapping);
  return most;
}

}  // namespace

TEST_CASE("pins are added where there is room, one beside the other, until there is none") {
  const int fitted = add_pins(test::starter(), 40);
  CHECK(fitted > 5);
  CHECK(fitted < 40);
  for (std::uint64_t seed = 1; seed <= 4; ++seed) {
    INFO("seed " << seed);
    Design design = test::random_design(seed);
    // Two pins of one name are allowed in a file.
    for (std::size_t i = 0; i < design.pins.size(); ++i) design.pins[i].name = "own " + std::to_string(i);
    add_pins(design, 3);
  }
}

TEST_CASE("the first of the added pins passes the checks of its hole") {
  const Design design = test::starter();
  const Design added = *add_pin(design, lay_out(design));
  const std::size_t pin = design.pins.size();
  REQUIRE(added.pins.size() == pin + 1);
  CHECK(added.pins[pin].at_mm.y == 0);
  int about_it = 0;
  for (const Finding& finding : run_checks(added, lay_out(added))) {
    if (pin_of(finding.where) != pin || !finding.id.starts_with("hole.")) continue;
    ++about_it;
    INFO(finding.id << ", " << where_words(added, finding.where));
    CHECK(finding.status == Status::pass);
  }
  CHECK(about_it > 3);
}

TEST_CASE("tang holes are added where there is room, also where one lies in the middle already") {
  Design design = test::starter();
  for (int i = 0; i < 4; ++i) {
    const Edited edit = add_tang_hole(design, lay_out(design), 3);
    REQUIRE(edit);
    design = *edit;
    CHECK(validate(design).empty());
  }
  CHECK(design.tang.holes.size() == 4);
}

TEST_CASE("where the axis runs outside of the handle, a pin goes midway between its edges") {
  Design design = test::starter();
  design.pins.clear();
  for (Node& node : design.tang.outline) node.at.y += 30;
  design.left.finish.crest_y_mm = 30;
  const auto place = roomiest_place_mm(design, lay_out(design), 3);
  REQUIRE(place);
  CHECK(place->y > 20);
}

}  // namespace haftwright
