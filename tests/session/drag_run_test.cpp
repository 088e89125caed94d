// Drags and runs of arrow keys as steps of the history.
#include <catch2/catch.hpp>

#include "haftwright/edits/build_up.hpp"
#include "haftwright/edits/pins.hpp"
#include "haftwright/session/document.hpp"
#include "support/designs.hpp"
#include "support/nearly.hpp"

namespace haftwright {

TEST_CASE("a joint that is leant too far is refused when it is laid out, and the drag keeps the last good") {
  Document document(test::starter());
  const double place = document.design().left.joints[0].place_mm;
  document.begin("slant");
  CHECK(document.preview(slant_joint_through(document.base(), Which::left, 0, {place + 2, 10, 0})) ==
        Outcome::changed);
  const Design good = document.design();
  CHECK(document.preview(slant_joint_through(document.base(), Which::left, 0, {place + 25, 10, 0})) ==
        Outcome::refused);
  CHECK(document.design() == good);
  CHECK_FALSE(document.problems().empty());
  CHECK(document.commit() == Outcome::changed);
  CHECK(document.undo());
  CHECK(document.design() == test::starter());
}

namespace {

Outcome nudge(Document& document, std::size_t pin, double by) {
  return document.apply_in_run(
      "nudge pin " + std::to_string(pin),
      move_pin(document.design(), pin, document.design().pins[pin].at_mm + Vec2{by, 0}));
}

}  // namespace

TEST_CASE("a run of nudges is one step, answered after every one of them") {
  Document document(test::starter());
  const double x = document.design().pins[1].at_mm.x;
  for (int i = 1; i <= 12; ++i) {
    CHECK(nudge(document, 1, 0.1) == Outcome::changed);
    CHECK(document.history().size() == 2);
    CHECK(document.settled_answers()->handle->pins[1].at.x == test::nearly(x + 0.1 * i));
  }
  CHECK(document.history().undo_label() == "nudge pin 1");
  CHECK(document.undo());
  CHECK(document.design() == test::starter());
  CHECK(document.redo());
  CHECK(document.design().pins[1].at_mm.x == test::nearly(x + 1.2));
  // After undo and redo it is another run.
  nudge(document, 1, 0.1);
  CHECK(document.history().size() == 3);
}

TEST_CASE("a run ends with another thing, another edit, a drag or a word") {
  Document document(test::starter());
  nudge(document, 1, 0.1);
  nudge(document, 2, 0.1);
  CHECK(document.history().size() == 3);
  document.end_run();
  nudge(document, 2, 0.1);
  CHECK(document.history().size() == 4);
  document.apply("nudge pin 2", move_pin(document.design(), 2, {90, 1}));
  CHECK(document.history().size() == 5);
  nudge(document, 2, 0.1);
  CHECK(document.history().size() == 6);
  document.begin("drag");
  document.cancel();
  nudge(document, 2, 0.1);
  CHECK(document.history().size() == 7);
  document.begin("drag");
  document.preview(move_pin(document.base(), 1, {52, 0}));
  nudge(document, 2, 0.1);  // commits the drag first
  CHECK(document.history().size() == 9);
  CHECK(document.design().pins[1].at_mm == Vec2(52, 0));
}

TEST_CASE("a refused nudge keeps its run; one that comes back to where it began leaves no step") {
  Document document(test::starter());
  document.apply("before", move_pin(document.design(), 0, {18, 1}));
  const Design before = document.design();
  nudge(document, 1, 0.125);
  CHECK(document.apply_in_run("nudge pin 1", Edited::refused("no further")) == Outcome::refused);
  CHECK_FALSE(document.problems().empty());
  nudge(document, 1, 0.125);
  CHECK(document.history().size() == 3);
  nudge(document, 1, -0.25);
  CHECK(document.design() == before);
  CHECK(document.history().size() == 2);
  CHECK(document.history().undo_label() == "before");
  nudge(document, 1, 0.125);
  nudge(document, 1, 0.125);
  CHECK(document.history().size() == 3);
  CHECK(document.undo());
  CHECK(document.design() == before);
  CHECK(document.undo());
  CHECK(document.design() == test::starter());
}

}  // namespace haftwright
