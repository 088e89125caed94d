// A blank carried over a board, and the edits that putting it down and freeing it make.
#include "hand_case.hpp"

using namespace haftwright;
using test::board;
using test::Case;
using test::check_there;
using test::find;
using test::plain;

TEST_CASE("a blank in the hand keeps clear of what lies there, and asked for makes the free ones yield") {
  Case c(plain());
  const double length = test::outline_of(c.needs.pieces[0].outline).bounds().size().x;
  const double width = test::outline_of(c.needs.pieces[0].outline).bounds().size().y;
  c.bin.offcuts = {board(c.design, "wide", length + 30, 2 * width + 40, 14)};
  const CuttingPlan plan = c.plan().plans.front();
  const auto [use, left] = find(plan, 0);
  const PlacedBlank* right = find(plan, 1).blank;
  REQUIRE((left && right));
  const HandPlace start = hand_place_of(c.design, c.needs, c.bin, *use, *left);
  const BlankInHand hand(c.design, c.needs, c.bin, c.wishes, plan, start);
  CHECK(hand.unfit().empty());
  CHECK_FALSE(hand.turns().empty());
  BlankInHand::Held held = hand.at(left->at_mm, left->turn_deg);
  CHECK(held.legal);
  CHECK(held.why.empty());
  CHECK(held.place == start);
  REQUIRE(held.blanks.size() == 1);
  CHECK(held.blanks[0].outline == left->outline);
  held = hand.at(right->at_mm, left->turn_deg);
  CHECK(held.legal);
  CHECK_THAT(held.why, Catch::Contains("the right") && Catch::Contains("in the way"));
  CHECK(glm::distance(held.place.at_mm, right->at_mm) > 5);
  held = hand.at(right->at_mm, left->turn_deg, Beside::by_hand);
  CHECK(held.legal);
  CHECK(glm::distance(held.place.at_mm, right->at_mm) < 1e-9);
  // Turned farther than the grain allows, it stops where that ends.
  held = hand.at({length, width}, left->turn_deg + 40);
  CHECK(held.legal);
  CHECK(std::abs(std::remainder(held.place.turn_deg - left->turn_deg, 360.0)) <=
        c.design.rules.grain_off_deg + 1e-9);
  // It goes where it was put, and the other one makes way.
  const Edited edited =
      put_by_hand(c.design, c.needs, hand.at(right->at_mm, left->turn_deg, Beside::by_hand).place);
  c.design = *edited;
  const CuttingPlan after = c.plan().plans.front();
  check_there(c, after, c.design.hand_places[0]);
  CHECK(after.pieces_without.empty());
}

TEST_CASE("putting, freeing, putting all and freeing all") {
  Case c(plain());
  const double length = test::outline_of(c.needs.pieces[0].outline).bounds().size().x;
  c.bin.offcuts = {board(c.design, "thick", length + 60, 60, 40)};
  const CuttingPlan plan = c.plan().plans.front();
  REQUIRE(find(plan, 0).blank->pairing == Pairing::book);
  CHECK_FALSE(free_all_by_hand(c.design));
  CHECK_FALSE(free_by_hand(c.design, c.needs, 0));
  const Edited all = put_all_by_hand(c.design, c.needs, c.bin, plan);
  REQUIRE(all);
  REQUIRE(all->hand_places.size() == 1);
  CHECK(all->hand_places[0].cut == HandCut::book);
  CHECK(hand_place_index(*all, c.needs, 0) == 0u);
  CHECK(hand_place_index(*all, c.needs, 1) == 0u);
  c.design = *all;
  CHECK(find(c.plan().plans.front(), 1).blank->outline == find(plan, 1).blank->outline);
  // Freed by either half.
  CHECK(free_by_hand(*all, c.needs, 1)->hand_places.empty());
  CHECK(free_all_by_hand(*all)->hand_places.empty());
  // One half by itself takes the book's place in the list.
  HandPlace alone = all->hand_places[0];
  alone.side = Which::right;
  alone.cut = HandCut::single;
  CHECK(put_by_hand(*all, c.needs, alone)->hand_places == std::vector<HandPlace>{alone});
  // A book takes both halves' own places.
  Design both = c.design;
  both.hand_places = {alone, alone};
  both.hand_places[1].side = Which::left;
  CHECK(put_by_hand(both, c.needs, all->hand_places[0])->hand_places == all->hand_places);
  CHECK_FALSE(put_by_hand(c.design, c.needs, {.piece = "nobody", .offcut = "thick"}));
}
