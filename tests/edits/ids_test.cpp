// What is selected, and what is referred to, stays what it is when things are renamed, reordered, added and
// taken away.
#include "haftwright/design/ids.hpp"

#include <catch2/catch.hpp>
#include <cstdlib>
#include <map>

#include "haftwright/design/holes.hpp"
#include "haftwright/design/validate.hpp"
#include "haftwright/edits/draggables.hpp"
#include "haftwright/edits/edits.hpp"
#include "haftwright/handle/lay_out.hpp"
#include "haftwright/words/words.hpp"
#include "support/designs.hpp"
#include "support/ids.hpp"
#include "support/random.hpp"
#include "support/random_design.hpp"

namespace haftwright {
namespace {

using test::Ids;
using test::ids_of;
using test::Random;

template <class List>
void shuffle(List& list, Random& random) {
  for (std::size_t i = list.size(); i > 1; --i) std::swap(list[i - 1], list[random.index(i)]);
}

/// The lists without an order of their own in another order, and everything under another name.
Design reordered(Design design, Random& random) {
  shuffle(design.pins, random);
  shuffle(design.tang.holes, random);
  for (Pin& pin : design.pins) pin.name = random.chance(0.5) ? "" : "renamed";
  for (TangHole& hole : design.tang.holes) hole.name = random.chance(0.5) ? "" : "renamed";
  return design;
}

std::vector<double> figures(const Design& design, const Selection& what) {
  std::vector<double> all;
  for (const TypedValue& value : what.kind->values) all.push_back(value.get(design, what));
  return all;
}

/// `after` holds the ids of `before` in their order, and between them only ids that are new to `design`.
void check_kept(const Ids& before, const Ids& after, const Ids& referred) {
  Ids kept;
  for (const std::string& id : after) {
    if (std::ranges::find(before, id) != before.end())
      kept.push_back(id);
    else
      CHECK(std::ranges::find(referred, id) == referred.end());
  }
  Ids left_over;
  for (const std::string& id : before)
    if (std::ranges::find(after, id) != after.end()) left_over.push_back(id);
  CHECK(kept == left_over);
}

/// A change of how many there are of something, or of their order.
Edited random_step(const Design& design, Random& random) {
  const Which side = random.chance(0.5) ? Which::left : Which::right;
  const std::size_t pieces = design.pieces(side).size();
  const auto field = kSideFields[random.index(std::size(kSideFields))];
  switch (random.index(11)) {
    case 0:
      return add_joint(design, side, random.between(10, 90));
    case 1:
      return remove_piece(design, side, random.index(pieces));
    case 2:
      return swap_pieces(design, side, random.index(pieces), random.index(pieces));
    case 3:
      return add_pin(design, {random.between(20, 80), random.between(-3, 3)});
    case 4:
      return design.pins.empty() ? add_pin(design, {40, 0})
                                 : remove_pin(design, random.index(design.pins.size()));
    case 5:
      return add_tang_hole(design, {random.between(20, 80), random.between(-5, 5)}, 1);
    case 6:
      return remove_tang_hole(design, random.index(design.tang.holes.size() + 1));
    case 7:
      if (design.pins.empty() || design.tang.holes.empty()) return design;
      return use_tang_hole(design, random.index(design.pins.size()),
                           design.tang.holes[random.index(design.tang.holes.size())].id);
    case 8:
      return unlink(design, field);
    case 9:
      return link(design, field);
    default:
      return random.chance(0.5) ? swap_sides(design) : copy_side(design, side);
  }
}

}  // namespace

TEST_CASE("a selection holds on to its thing through renaming and reordering") {
  std::map<const Draggable*, int> met;
  for (std::uint64_t seed = 1; seed <= 60; ++seed) {
    CAPTURE(seed);
    Random random(seed);
    const Design design = test::random_design(seed);
    const Design after = reordered(design, random);
    REQUIRE(validate(after).empty());
    const Handle handle = lay_out(design);
    for (const Grip& grip : grips_of(design, handle)) {
      ++met[grip.what.kind];
      REQUIRE(exists(after, grip.what));
      CHECK(figures(after, grip.what) == figures(design, grip.what));
      CHECK(selected_at(design, *grip.what.kind, grip.what.side, index_now(design, grip.what)).id ==
            grip.what.id);
    }
    // Each pin's steel is the same.
    for (const Pin& pin : after.pins) {
      const Pin& before = design.pins[index_of(design.pins, pin.id)];
      CHECK(tang_hole(after, pin) == tang_hole(design, before));
      CHECK(pin.at_mm == before.at_mm);
    }
  }
  CHECK(met[&draggable::pin] > 100);
  CHECK(met[&draggable::tang_hole] > 50);
  CHECK(met[&draggable::joint] > 100);
}

TEST_CASE("edits give new ids to new things and leave all others their own") {
  const std::uint64_t runs = std::getenv("HAFTWRIGHT_SHORT") ? 20 : 200;
  int changed = 0;
  for (std::uint64_t seed = 1; seed <= runs; ++seed) {
    CAPTURE(seed);
    Random random(seed * 31 + 5);
    Design design = test::random_design(seed);
    for (int step = 0; step < 25; ++step) {
      CAPTURE(step);
      const Edited edited = random_step(design, random);
      if (!edited) continue;
      // Readings of what is gone, and pins through holes that are, keep those ids from new things.
      Ids referred;
      for (const CaliperReading& reading : design.dry_fit) {
        referred.push_back(reading.joint);
        referred.push_back(reading.from_pin);
      }
      check_kept(ids_of(design.pins), ids_of(edited->pins), referred);
      check_kept(ids_of(design.tang.holes), ids_of(edited->tang.holes), {});
      for (const Problem& problem : validate(*edited)) {
        INFO(problem.field << ": " << problem.what);
        CHECK_FALSE(problem.field.ends_with(".id"));
        CHECK_FALSE(problem.field.ends_with("existing_tang_hole"));
      }
      changed += *edited != design;
      if (validate(*edited).empty()) design = *edited;
    }
  }
  CHECK(changed > static_cast<int>(runs) * 3);
}

TEST_CASE("places by hand go with their pieces through every edit, and go when these do") {
  const auto about = [](const HandPlace& place, Which side, const std::string& id) {
    return place.side == side && place.piece == id;
  };
  int kept = 0, dropped = 0, swapped = 0;
  for (std::uint64_t seed = 1; seed <= 60; ++seed) {
    CAPTURE(seed);
    Random random(seed * 17 + 3);
    Design design = test::random_design(seed);
    for (int step = 0; step < 12; ++step) {
      design.hand_places.clear();
      for (const Which side : {Which::left, Which::right})
        for (const Piece& piece : design.pieces(side))
          design.hand_places.push_back({side, piece.id, "thwart", 1, {random.between(0, 90), 20}, 30});
      REQUIRE(validate(design).empty());
      const Edited edited = random_step(design, random);
      if (!edited) continue;
      for (const HandPlace& place : edited->hand_places)
        CHECK(index_of(edited->pieces(place.side), place.piece) < edited->pieces(place.side).size());
      // Pieces that both sides have by that id stand for each other when the sides are swapped.
      const bool sides_swapped = *edited == *swap_sides(design);
      swapped += sides_swapped;
      for (const HandPlace& place : design.hand_places) {
        HandPlace wanted = place;
        if (sides_swapped) wanted.side = place.side == Which::left ? Which::right : Which::left;
        const std::vector<Piece>& pieces = edited->pieces(wanted.side);
        const bool there = index_of(pieces, wanted.piece) < pieces.size();
        const auto found = std::ranges::find_if(
            edited->hand_places, [&](const HandPlace& one) { return about(one, wanted.side, wanted.piece); });
        REQUIRE((found != edited->hand_places.end()) == there);
        if (there) CHECK(*found == wanted);
        ++(there ? kept : dropped);
      }
      if (validate(*edited).empty()) design = *edited;
    }
  }
  CHECK(kept > 1000);
  CHECK(dropped > 50);
  CHECK(swapped > 10);
}

TEST_CASE("swapping the sides twice leaves places by hand as they were, and a book the blank that it is") {
  Design design = test::starter();
  design.hand_places = {{Which::left, design.left.pieces[0].id, "a", 1, {30, 20}, 10},
                        {.side = Which::right,
                         .piece = design.left.pieces[1].id,
                         .offcut = "b",
                         .at_mm = {50, 20},
                         .face = Face::lower,
                         .cut = HandCut::book}};
  const Edited once = swap_sides(design);
  CHECK(once->hand_places[0].side == Which::right);
  CHECK(once->hand_places[0].face == Face::upper);
  CHECK(once->hand_places[0].turn_deg == 10);
  CHECK(once->hand_places[1].side == Which::left);
  CHECK(once->hand_places[1].face == Face::upper);
  CHECK(once->hand_places[1].turn_deg == 0);
  CHECK(*swap_sides(*once) == design);
}

TEST_CASE("parting, adding and taking away on linked sides keep the others' ids on both") {
  Design design = test::starter();
  design = *add_joint(design, Which::left, 80);
  CHECK(ids_of(design.left.joints) == Ids{"joint_1", "joint_2"});
  CHECK(ids_of(design.left.pieces) == Ids{"piece_1", "piece_2", "piece_3"});
  design = *add_joint(design, Which::right, 15);  // ahead of the others
  CHECK(ids_of(design.left.joints) == Ids{"joint_3", "joint_1", "joint_2"});
  CHECK(ids_of(design.left.pieces) == Ids{"piece_1", "piece_4", "piece_2", "piece_3"});
  CHECK(ids_of(swap_pieces(design, Which::left, 0, 2)->left.pieces) ==
        Ids{"piece_2", "piece_4", "piece_1", "piece_3"});
  CHECK(ids_of(remove_piece(design, Which::left, 1)->left.joints) == Ids{"joint_1", "joint_2"});
  CHECK(set_piece(design, Which::left, 1, {"olive", {}, {}})->left.pieces[1].id == "piece_4");
  CHECK(unlink(design, SideField::joints)->right.joints == design.left.joints);
}

TEST_CASE("where both sides come to have as many joints again, the ones that meet have one id") {
  Design design =
      *unlink(*unlink(*add_joint(test::starter(), Which::left, 80), SideField::joints), SideField::pieces);
  design = *add_joint(design, Which::right, 15);
  CHECK(ids_of(*design.right.joints) == Ids{"joint_3", "joint_1", "joint_2"});
  CHECK(ids_of(design.left.joints) == Ids{"joint_1", "joint_2"});
  design = *remove_piece(design, Which::right, 3);
  CHECK(ids_of(*design.right.joints) == Ids{"joint_1", "joint_2"});
  CHECK(validate(design).empty());
}

TEST_CASE("what is gone is refused by name, and nothing takes its place") {
  Design design = test::starter();
  const Selection what = selected_at(design, draggable::pin, Which::left, 1);
  design = *remove_pin(design, 1);
  CHECK_FALSE(exists(design, what));
  CHECK(nudged(design, what, {{1, 0}}).refusal() == "this pin is not there any more");
  CHECK(removed(design, what).refusal() == "this pin is not there any more");
  design = *add_pin(design, {50, 0});
  CHECK_FALSE(exists(design, what));
  CHECK(removal_step(design, selected_at(design, draggable::pin, Which::left, 1)) == "Remove pin 2");
}

TEST_CASE("names that say less than which one are joined by the number") {
  Design design = *add_tang_hole(*add_tang_hole(test::starter(), {30, 4}, 1), {70, 4}, 1);
  design = *use_tang_hole(design, 0, "hole_2");
  CHECK(pin_name(design, 0) == "pin 1");
  CHECK(tang_hole_words(design, 1) == "tang hole \"hole 2\"");
  CHECK(remove_tang_hole(design, 1).refusal() ==
        "pin 1 goes through tang hole \"hole 2\". Give the pin a hole of its own first.");
  design.pins[0].name = design.pins[1].name = "guard";
  design.tang.holes[0].name = design.tang.holes[1].name = "old";
  CHECK(pin_name(design, 0) == "pin 1 (guard)");
  CHECK(pin_name(design, 1) == "pin 2 (guard)");
  CHECK(tang_hole_words(design, 1) == "tang hole 2 \"old\"");
  design.tang.holes[1].name.clear();
  CHECK(tang_hole_words(design, 1) == "tang hole 2");
  CHECK(tang_hole_words(design, 0) == "tang hole \"old\"");
}

}  // namespace haftwright
