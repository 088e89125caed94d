#include <catch2/catch.hpp>
#include <cstdlib>
#include <utility>

#include "haftwright/edits/edits.hpp"
#include "haftwright/files/project_file.hpp"
#include "haftwright/session/document.hpp"
#include "random_edit.hpp"
#include "support/designs.hpp"
#include "support/nearly.hpp"

namespace haftwright {
namespace {

using test::Random;

/// What the history ought to hold, kept apart as texts, so that it leans neither on History nor on ==.
class Model {
 public:
  explicit Model(const Design& design) : texts_{project_text(design)} {}
  void push(const Design& design) {
    texts_.resize(at_ + 1);
    texts_.push_back(project_text(design));
    ++at_;
  }
  bool back() { return at_ > 0 && (--at_, true); }
  bool forth() { return at_ + 1 < texts_.size() && (++at_, true); }
  const std::string& text() const { return texts_[at_]; }
  const std::string& text(std::size_t step) const { return texts_[step]; }
  std::size_t size() const { return texts_.size(); }

 private:
  std::vector<std::string> texts_;
  std::size_t at_ = 0;
};

int edits_to_make() {
  return std::getenv("HAFTWRIGHT_SHORT") ? 1000 : 10000;
}

/// One draft of a few random edits, committed or dropped. True when a step was made.
bool random_draft(Random& random, Document& document) {
  const std::string before = project_text(document.design());
  document.begin("drag");
  for (std::size_t frames = random.count(1, 4); frames > 0; --frames)
    document.preview(random_edit(random, document.base()));
  if (random.chance(0.3)) {
    document.cancel();
    CHECK(project_text(document.design()) == before);
    return false;
  }
  const std::string last = project_text(document.design());
  const bool changed = document.commit() == Outcome::changed;
  CHECK(changed == (last != before));
  CHECK(project_text(document.design()) == last);
  return changed;
}

Vec2 along(const Document& document, double by) {
  return document.base().pins[1].at_mm + Vec2{by, 0};
}

}  // namespace

TEST_CASE("10,000 random edits with undo and redo return to equal documents") {
  Random random(20261);
  Document document(test::starter());
  Model model(document.design());
  int made = 0, taken = 0, refused = 0;
  while (made < edits_to_make()) {
    if (random.chance(0.25)) {
      const bool back = random.chance(0.5);
      for (std::size_t steps = random.count(1, 3); steps > 0; --steps)
        CHECK((back ? document.undo() : document.redo()) == (back ? model.back() : model.forth()));
    } else if (random.chance(0.1)) {
      if (random_draft(random, document)) model.push(document.design());
    } else {
      ++made;
      const Outcome outcome = document.apply("edit", random_edit(random, document.design()));
      if (outcome == Outcome::changed) model.push(document.design());
      ++(outcome == Outcome::refused ? refused : taken);
      CHECK(document.problems().empty() == (outcome != Outcome::refused));
    }
    REQUIRE(project_text(document.design()) == model.text());
    REQUIRE(document.answers());
    REQUIRE_FALSE(document.answers_stale());
  }
  // Neither all let through nor all refused, or the run would tell nothing.
  CHECK(taken > made / 3);
  CHECK(refused > made / 50);

  REQUIRE(document.history().size() == model.size());
  const std::size_t stride = model.size() / 100 + 1;
  for (std::size_t step = 0; step < model.size(); step += stride) {
    document.go_to(step);
    REQUIRE(project_text(document.design()) == model.text(step));
    if (document.undo()) {
      REQUIRE(project_text(document.design()) == model.text(step - 1));
      REQUIRE(document.redo());
      REQUIRE(project_text(document.design()) == model.text(step));
    }
  }
  document.go_to(0);
  CHECK(document.design() == test::starter());
}

TEST_CASE("a drag is one step, however many frames it had") {
  Document document(test::starter());
  const Design before = document.design();
  document.begin("move pin 2");
  CHECK(document.draft_label() == "move pin 2");
  for (int frame = 1; frame <= 60; ++frame)
    CHECK(document.preview(move_pin(document.base(), 1, along(document, frame * 0.05))) == Outcome::changed);
  CHECK(document.history().size() == 1);
  CHECK(document.unsaved());
  CHECK(document.answers()->handle->pins[1].at.x == test::nearly(before.pins[1].at_mm.x + 3));
  CHECK(*document.settled_answers()->design == before);
  CHECK(document.commit() == Outcome::changed);
  CHECK(document.history().size() == 2);
  CHECK(document.history().undo_label() == "move pin 2");
  CHECK(document.settled_answers() == document.answers());
  CHECK(document.commit() == Outcome::unchanged);
  CHECK(document.history().size() == 2);
  CHECK(document.undo());
  CHECK(document.design() == before);
  CHECK(document.history().redo_label() == "move pin 2");
  CHECK_FALSE(document.undo());
}

TEST_CASE("a drag that comes back to where it began leaves no step") {
  Document document(test::starter());
  document.begin("move pin 2");
  document.preview(move_pin(document.base(), 1, along(document, 2)));
  document.preview(move_pin(document.base(), 1, along(document, 0)));
  CHECK(document.commit() == Outcome::unchanged);
  CHECK(document.history().size() == 1);
  document.begin("held and let go");
  CHECK(document.commit() == Outcome::unchanged);
  CHECK(document.history().size() == 1);
  CHECK_FALSE(document.answers_stale());

  // Back where it began, the open drag stands in the way of undo no longer.
  document.apply("remove", remove_pin(document.design(), 0));
  document.begin("move pin 2");
  document.preview(move_pin(document.base(), 1, along(document, 2)));
  document.preview(move_pin(document.base(), 1, along(document, 0)));
  document.undo();
  CHECK(document.design() == test::starter());
}

TEST_CASE("escape drops a draft and leaves redo as it was") {
  Document document(test::starter());
  document.apply("first", move_pin(document.design(), 1, along(document, 1)));
  document.undo();
  const Design before = document.design();
  document.begin("move pin 2");
  document.preview(move_pin(document.base(), 1, along(document, 2)));
  document.cancel();
  CHECK(document.design() == before);
  CHECK(document.answers()->handle->pins[1].at == before.pins[1].at_mm);
  CHECK(document.history().can_redo());
  CHECK(document.preview(move_pin(document.base(), 1, along(document, 2))) == Outcome::refused);
  CHECK(document.design() == before);
}

TEST_CASE("undo with a draft open drops the draft first") {
  Document document(test::starter());
  document.apply("first", move_pin(document.design(), 1, along(document, 1)));
  const Design first = document.design();
  document.begin("second");
  document.preview(move_pin(document.base(), 1, along(document, 2)));
  CHECK(document.undo());
  CHECK_FALSE(document.drafting());
  CHECK(document.design() == first);

  // A draft that has changed nothing stands in nobody's way.
  document.begin("held");
  CHECK(document.undo());
  CHECK_FALSE(document.drafting());
  CHECK(document.design() == test::starter());

  document.begin("third");
  document.preview(move_pin(document.base(), 1, along(document, 2)));
  CHECK(document.redo());
  CHECK(document.design() == test::starter());
  CHECK(document.redo());
  CHECK(document.design() == first);
}

TEST_CASE("a second draft commits the first") {
  Document document(test::starter());
  document.begin("one");
  document.preview(move_pin(document.base(), 1, along(document, 1)));
  document.begin("two");
  CHECK(document.history().undo_label() == "one");
  document.preview(move_pin(document.base(), 1, along(document, 1)));
  document.apply("three", remove_pin(document.design(), 0));
  CHECK(document.history().size() == 4);
  CHECK(document.history().label(2) == "two");
}

TEST_CASE("a drag into what can't be made stops at the last good place and says why") {
  Document document(test::starter());
  const Vec2 from = document.design().pins[1].at_mm;
  document.begin("move pin 2");
  document.preview(move_pin(document.base(), 1, from + Vec2{0, 5}));
  CHECK(document.preview(move_pin(document.base(), 1, from + Vec2{0, 50})) == Outcome::refused);
  CHECK(document.design().pins[1].at_mm == from + Vec2{0, 5});
  CHECK(document.answers()->handle->pins[1].at == from + Vec2{0, 5});
  REQUIRE_FALSE(document.problems().empty());
  CHECK(document.problems()[0].field == "pins[1]");
  CHECK(document.commit() == Outcome::changed);
  CHECK(document.design().pins[1].at_mm == from + Vec2{0, 5});
  CHECK(document.problems().empty());

  // A typed value that is refused leaves no step and goes on being explained.
  CHECK(document.apply("type", move_pin(document.design(), 1, {500, 0})) == Outcome::refused);
  CHECK(document.history().size() == 2);
  CHECK_FALSE(document.problems().empty());
  CHECK(document.apply("no such", move_pin(document.design(), 99, {50, 0})) == Outcome::refused);
  REQUIRE(document.problems().size() == 1);
  CHECK(document.problems()[0].field.empty());
  document.begin("next");
  CHECK(document.problems().empty());
}

TEST_CASE("a drag that was refused all along leaves no message behind once it is let go") {
  Design design = test::starter();
  design.tang.holes.push_back({"hole_1", design.pins[1].at_mm, 4});
  design = *use_tang_hole(design, 1, "hole_1");
  Document document(design);
  for (const bool by_undo : {false, true}) {
    document.begin("move pin 2");
    CHECK(document.preview(move_pin(document.base(), 1, {60, 0})) == Outcome::refused);
    REQUIRE_FALSE(document.problems().empty());
    if (by_undo)
      document.undo();
    else
      CHECK(document.commit() == Outcome::refused);
    CHECK(document.problems().empty());
    CHECK(document.design() == design);
  }
}

TEST_CASE("an edit that only the layout can refuse is refused too") {
  Document document(test::starter());
  REQUIRE(validate(test::crossing_joints()).empty());
  CHECK(document.apply("cross", test::crossing_joints()) == Outcome::refused);
  CHECK_FALSE(document.problems().empty());
  CHECK(document.design() == test::starter());
  CHECK(document.answers()->laid_out());
}

TEST_CASE("a file that can't be laid out is mended step by step; the last good answers stay") {
  Document document(test::crossing_joints());
  CHECK(document.answers() == nullptr);
  CHECK(document.answers_stale());
  CHECK_FALSE(document.problems().empty());
  CHECK(document.apply("half", slant_joint(document.design(), Which::left, 0, 40)) == Outcome::changed);
  CHECK(document.answers() == nullptr);
  CHECK_FALSE(document.problems().empty());
  // What validate() refuses stays refused, so that the file can always be read again.
  CHECK(document.apply("bad", slant_joint(document.design(), Which::left, 0, 90)) == Outcome::refused);
  document.apply("flat", slant_joint(document.design(), Which::left, 0, 0));
  CHECK(document.apply("mended", slant_joint(document.design(), Which::left, 1, 0)) == Outcome::changed);
  REQUIRE(document.answers());
  CHECK(document.problems().empty());
  const Design mended = document.design();
  document.go_to(0);
  CHECK(document.answers_stale());
  CHECK(*document.answers()->design == mended);
  CHECK_FALSE(document.problems().empty());
  document.redo();
  document.redo();
  document.redo();
  CHECK_FALSE(document.answers_stale());
}

TEST_CASE("unsaved means that the Design differs from the saved one, by value") {
  const Design start = test::starter();
  CHECK(Document(start).unsaved());
  Document document(start, std::make_shared<const Design>(start));
  CHECK_FALSE(document.unsaved());
  const double place = start.left.joints[0].place_mm;
  document.apply("there", move_joint(document.design(), Which::left, 0, place + 1));
  CHECK(document.unsaved());
  document.mark_saved();
  CHECK_FALSE(document.unsaved());
  document.undo();
  CHECK(document.unsaved());
  // A new way to the same place is as good as redo.
  document.apply("by hand", move_joint(document.design(), Which::left, 0, place + 1));
  CHECK_FALSE(document.unsaved());
  document.begin("drag");
  document.preview(move_joint(document.base(), Which::left, 0, place + 2));
  CHECK(document.unsaved());
  document.cancel();
  CHECK_FALSE(document.unsaved());
  document.mark_unsaved();
  CHECK(document.unsaved());
}

TEST_CASE("answers are whole: findings worst first, epoxy, cautions and the guide") {
  const Document document(test::starter());
  const Answers& answers = *document.answers();
  REQUIRE(answers.laid_out());
  CHECK(answers.valid);
  REQUIRE(answers.findings.size() > 10);
  for (std::size_t i = 1; i < answers.findings.size(); ++i)
    CHECK(answers.findings[i - 1].status >= answers.findings[i].status);
  CHECK(answers.epoxy.total_g > 0);
  CHECK_FALSE(answers.cautions.empty());
  REQUIRE(answers.guide().plan);
  CHECK(answers.guide().plan->bores.size() == 3);
  CHECK(&answers.guide() == &answers.guide());

  Design no_pins = test::starter();
  no_pins.pins.clear();
  const Answers without = derive(std::make_shared<const Design>(no_pins));
  CHECK(without.laid_out());
  CHECK_FALSE(without.guide().plan);
  REQUIRE(without.guide().problems.size() == 1);
  CHECK(without.guide().problems[0].field == "pins");
  const Answers nothing = derive(std::make_shared<const Design>(test::crossing_joints()));
  CHECK_FALSE(nothing.guide().plan);
}

TEST_CASE("the revision grows whenever something else is to be shown") {
  Document document(test::starter());
  std::uint64_t last = document.revision();
  const auto grew = [&] { return std::exchange(last, document.revision()) < document.revision(); };
  document.begin("drag");
  CHECK_FALSE(grew());
  document.preview(move_pin(document.base(), 1, along(document, 1)));
  CHECK(grew());
  document.preview(move_pin(document.base(), 1, along(document, 1)));
  CHECK_FALSE(grew());
  document.cancel();
  CHECK(grew());
  document.apply("remove", remove_pin(document.design(), 0));
  CHECK(grew());
  document.undo();
  CHECK(grew());
  document.redo();
  CHECK(grew());
}

}  // namespace haftwright
