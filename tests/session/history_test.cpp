#include <catch2/catch.hpp>

#include "haftwright/session/history.hpp"

namespace haftwright {
namespace {

std::shared_ptr<const Design> named(const std::string& name) {
  Design design;
  design.name = name;
  return std::make_shared<const Design>(design);
}

}  // namespace

TEST_CASE("history keeps labelled snapshots and a cursor") {
  History history(named("a"));
  CHECK_FALSE(history.can_undo());
  CHECK_FALSE(history.undo());
  CHECK(history.undo_label().empty());
  CHECK(history.push("to b", named("b")));
  CHECK_FALSE(history.push("to b again", named("b")));
  CHECK(history.push("to c", named("c")));
  CHECK(history.size() == 3);
  CHECK(history.undo_label() == "to c");
  CHECK(history.undo());
  CHECK(history.current().name == "b");
  CHECK(history.undo_label() == "to b");
  CHECK(history.redo_label() == "to c");
  // A new step drops what could be redone.
  CHECK(history.push("to d", named("d")));
  CHECK_FALSE(history.can_redo());
  CHECK(history.size() == 3);
  CHECK(history.go_to(0));
  CHECK_FALSE(history.go_to(0));
  CHECK_FALSE(history.go_to(3));
  CHECK(history.current().name == "a");
  CHECK(history.redo());
  CHECK(history.redo());
  CHECK_FALSE(history.redo());
  CHECK(history.current().name == "d");
}

TEST_CASE("two steps are joined under the later name, and go when together they change nothing") {
  History history(named("a"));
  CHECK_FALSE(history.join_last());
  history.push("to b", named("b"));
  CHECK_FALSE(history.join_last());
  history.push("to c", named("c"));
  CHECK(history.join_last());
  CHECK(history.size() == 2);
  CHECK(history.cursor() == 1);
  CHECK(history.current().name == "c");
  CHECK(history.undo_label() == "to c");
  CHECK(history.undo());
  CHECK(history.current().name == "a");
  CHECK(history.redo());
  history.push("to d", named("d"));
  history.push("to c again", named("c"));
  CHECK(history.join_last());
  CHECK(history.size() == 2);
  CHECK(history.current().name == "c");
  CHECK(history.undo_label() == "to c");
}

TEST_CASE("the saved mark is a value, not a place") {
  History history(named("a"), named("a"));
  CHECK_FALSE(history.unsaved());
  history.push("to b", named("b"));
  CHECK(history.unsaved());
  history.mark_saved();
  history.push("to a", named("a"));
  CHECK(history.unsaved());
  history.push("to b", named("b"));
  CHECK_FALSE(history.unsaved());
  CHECK(history.unsaved(named("c")));
  history.mark_unsaved();
  CHECK(history.unsaved());
  CHECK(History(named("a")).unsaved());
}

}  // namespace haftwright
