// A blank carried over the boards of a plan: put down as one step of the project, planned round after that.
#include "haftwright/session/blank_drag.hpp"

#include <catch2/catch.hpp>

#include "bell.hpp"
#include "desk.hpp"
#include "haftwright/files/bin_file.hpp"
#include "haftwright/handle/lay_out.hpp"
#include "haftwright/session/bin_forms.hpp"

namespace haftwright {
namespace {

/// Two boards of each wood, too thin for a book; none of it is typed as at hand.
struct Boards : Desk {
  Boards() {
    Bin bin;
    for (const Piece& piece : design().left.pieces)
      for (const double length : {260.0, 250.0}) {
        Offcut offcut = offcut_to_begin_with(piece.material);
        offcut.outline = rectangle({length, 90});
        offcut.thickness_mm = 15;
        bin = *add(bin, std::move(offcut));
      }
    write_bin(bin, bin_file);
    session->cutting_wishes().blanks_too = true;
  }
  std::shared_ptr<const CuttingAnswer> plan() {
    session->want_cutting();
    test::Bell bell;
    REQUIRE(bell.until([&] { return !session->cutting().busy(); }));
    return session->cutting().answer();
  }
};

const PlacedBlank* find(const CuttingPlan& plan, std::size_t need) {
  for (const BoardUse& use : plan.offcuts)
    for (const PlacedBlank& blank : use.blanks)
      if (blank.need == need) return &blank;
  return nullptr;
}

}  // namespace

TEST_CASE(
    "a blank is carried, put down as one step, stays there when all is planned anew, and undo frees it") {
  Boards desk;
  const auto answer = desk.plan();
  REQUIRE(answer);
  const CuttingPlan& plan = answer->plans.plans.front();
  REQUIRE(plan.pieces_without.empty());
  const BoardUse& board = plan.offcuts.front();
  const PlacedBlank& blank = board.blanks.front();
  BlankDrag drag(answer, 0, 0, 0, blank.at_mm + Vec2{3, 2});
  CHECK_FALSE(drag.moved());
  CHECK(drag.held().legal);
  CHECK(drag.need() == blank.need);
  CHECK(drag.carries(blank.need));
  // Where the pointer is taken, not the middle, stays under it.
  drag.move(0, blank.at_mm + Vec2{3, 2});
  CHECK_FALSE(drag.moved());
  const double toward = blank.at_mm.x > 125 ? -8 : 8;
  drag.move(0, blank.at_mm + Vec2{3 + toward, 2}, Beside::by_hand);
  REQUIRE(drag.held().legal);
  CHECK(drag.moved());
  CHECK(drag.held().place.at_mm.x == Approx(blank.at_mm.x + toward));
  const std::size_t steps = desk.document().history().size();
  REQUIRE(desk.session->in_force(*answer));
  CHECK(desk.document().apply(drag.label(), drag.put_down()) == Outcome::changed);
  CHECK(desk.document().history().size() == steps + 1);
  CHECK_FALSE(desk.session->in_force(*answer));
  REQUIRE(desk.design().hand_places.size() == 1);
  const auto next = desk.plan();
  const PlacedBlank* there = find(next->plans.plans.front(), blank.need);
  REQUIRE(there);
  CHECK(there->by_hand);
  CHECK(glm::distance(there->at_mm, drag.held().place.at_mm) < 1e-9);
  CHECK(next->plans.plans.front().pieces_without.empty());
  REQUIRE(desk.document().undo());
  CHECK(desk.design().hand_places.empty());
  CHECK(find(desk.plan()->plans.plans.front(), blank.need)->at_mm == blank.at_mm);
}

TEST_CASE("over another board it is held against that one's wood, and back on its own it is as before") {
  Boards desk;
  const auto answer = desk.plan();
  const CuttingPlan& plan = answer->plans.plans.front();
  REQUIRE(plan.offcuts.size() >= 2);
  BlankDrag drag(answer, 0, 0, 0, plan.offcuts[0].blanks[0].at_mm);
  const HandPlace start = drag.held().place;
  drag.move(1, {100, 40});
  CHECK(drag.use() == 1);
  // The other woods' board is none for it.
  CHECK_FALSE(drag.held().legal);
  CHECK_FALSE(drag.held().why.empty());
  CHECK_FALSE(drag.put_down());
  CHECK_FALSE(drag.held().blanks.empty());
  drag.move(0, start.at_mm);
  CHECK(drag.held().legal);
  CHECK_FALSE(drag.moved());
}

TEST_CASE("turned as far as the grain lets it, turned over, laid on another offcut, put where it is typed") {
  Boards desk;
  const auto answer = desk.plan();
  const BoardUse& board = answer->plans.plans.front().offcuts.front();
  BlankDrag drag(answer, 0, 0, 0, board.blanks[0].at_mm);
  const HandPlace start = drag.held().place;
  const double most = answer->asked.design->rules.grain_off_deg;
  drag.move(0, {125, 45}, Beside::by_hand);
  drag.turn(1);
  CHECK(std::abs(std::remainder(drag.held().place.turn_deg - start.turn_deg, 360)) == Approx(1).margin(1e-6));
  for (int i = 0; i < 40; ++i) drag.turn(1);
  CHECK(std::abs(std::remainder(drag.held().place.turn_deg - start.turn_deg, 360)) <= most + 1e-6);
  drag.turn(180);
  CHECK(drag.held().legal);
  CHECK(std::abs(std::remainder(drag.held().place.turn_deg - start.turn_deg, 360)) > 90);
  drag.turn_over();
  CHECK(drag.held().place.face != start.face);
  CHECK(drag.held().legal);
  const std::vector<std::string> ids = offcuts_for(*answer, 0, start, 40);
  REQUIRE(ids.size() == 2);
  const std::string other = ids[0] == start.offcut ? ids[1] : ids[0];
  drag.lay_on(other);
  CHECK(drag.held().legal);
  CHECK(drag.held().place.offcut == other);
  CHECK(offcuts_for(*answer, 0, start, 1).size() == 1);
  drag.put_at({-50, -50}, start.turn_deg);
  CHECK(drag.held().legal);
  CHECK_FALSE(drag.held().why.empty());
  desk.document().apply(drag.label(), drag.put_down());
  const auto next = desk.plan();
  CHECK(next->plans.plans.front().not_kept.empty());
  CHECK(find(next->plans.plans.front(), drag.need())->by_hand);
}

TEST_CASE("what a person prefers among plans is asked for and remembered") {
  Boards desk;
  using nesting::Preference;
  const std::vector<Preference> order{Preference::fewest_cuts, Preference::small_stocks,
                                      Preference::least_penalty, Preference::useful_leftover};
  CHECK(desk.session->cutting_wishes().order == CuttingWishes{}.order);
  desk.session->prefer(order);
  CHECK(desk.plan()->asked.wishes.order == order);
  desk.start();
  CHECK(desk.session->cutting_wishes().order == order);
}

}  // namespace haftwright
