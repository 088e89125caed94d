// Places as values and in words.
#include <catch2/catch.hpp>
#include <set>

#include "haftwright/words/words.hpp"
#include "support/random_design.hpp"

using namespace haftwright;

namespace {

Design named_design() {
  Design design = test::random_design(3);
  design.pins.resize(3);
  design.pins[0].name = "front";
  design.pins[1].name = "";
  design.pins[2].name = "3";
  design.tang.holes = {{"thong", {90, 0}, 6, "thong"}};
  design.left.pieces.resize(3);
  design.shown_unit = LengthUnit::millimetre;
  return design;
}

/// Some value or none.
template <class Value>
std::vector<std::optional<Value>> or_none(std::initializer_list<Value> values) {
  std::vector<std::optional<Value>> all{std::nullopt};
  all.insert(all.end(), values.begin(), values.end());
  return all;
}

}  // namespace

TEST_CASE("places are written as a maker would say them") {
  const Design design = named_design();
  const auto words = [&](const Where& where) { return where_words(design, where); };
  const Spot pin{.thing = Thing::pin, .index = 0, .sides = Sides::left};
  Spot toward = pin;
  toward.toward = Toward::belly;
  CHECK(words({toward}) == "pin 1 (front), left side, toward the belly");
  Spot surface = pin;
  surface.level = Level::finished_surface;
  CHECK(words({surface, Spot{.thing = Thing::joint, .index = 1}}) ==
        "pin 1 (front), left side, to joint 2, at the finished surface");
  CHECK(words({surface, Spot{.thing = Thing::front_face}}) ==
        "pin 1 (front), left side, to the front face, at the finished surface");
  CHECK(words({{.thing = Thing::pin, .index = 1}, Spot{.thing = Thing::pin, .index = 2}}) ==
        "pin 2 to pin 3");
  CHECK(words({{.thing = Thing::pin, .index = 1, .layer = Layer::tang},
               Spot{.thing = Thing::tang_hole, .index = 0}}) == "pin 2, tang, to tang hole \"thong\"");
  CHECK(words({{.thing = Thing::pin, .index = 1, .sides = Sides::both, .layer = Layer::scale}}) ==
        "pin 2, scales, both sides");
  CHECK(words({{.thing = Thing::joint,
                .index = 0,
                .line = 1,
                .edge = HandleEdge::spine,
                .level = Level::inner_face}}) == "joint 1, line 2, at the spine, inner face");
  CHECK(words({{.thing = Thing::piece, .index = 1, .sides = Sides::both}}) == "left and right middle piece");
  CHECK(words({{.thing = Thing::crest, .mm = 32}, Spot{.thing = Thing::front_face}, Relation::behind}) ==
        "on the crest, 32.00 mm behind the front face");
  CHECK(words({{.thing = Thing::fence, .edge = HandleEdge::spine},
               Spot{.thing = Thing::blank, .sides = Sides::left},
               Relation::beside}) == "spine fence beside the left blank");
  CHECK(words({{.thing = Thing::bore, .index = 1}, Spot{.thing = Thing::plate_edge}}) ==
        "bore of pin 2 to the plate's edge");
  CHECK(words({{.thing = Thing::drilling, .index = static_cast<std::size_t>(DrillWay::guide)}}) ==
        "through the drill guide");
}

TEST_CASE("every way of drilling has words of its own") {
  std::set<std::string_view> words;
  for (const DrillWay way :
       {DrillWay::by_eye, DrillWay::to_first, DrillWay::taped, DrillWay::guide, DrillWay::guide_pinned})
    CHECK(words.insert(drilling_words(way)).second);
  CHECK(drilling_words(DrillWay::taped) == "both taped together, drilled as one");
}

TEST_CASE("turned from side to side and back, a place is what it was, and the words differ") {
  const Design design = named_design();
  for (const Sides sides : {Sides::none, Sides::left, Sides::right, Sides::both})
    for (const Thing thing :
         {Thing::pin, Thing::piece, Thing::joint, Thing::wall, Thing::side, Thing::blank}) {
      const Where where{{.thing = thing, .index = 0, .sides = sides},
                        Spot{.thing = Thing::front_face, .sides = sides}};
      CHECK(mirrored(mirrored(where)) == where);
      const bool one_side = sides == Sides::left || sides == Sides::right;
      CHECK((mirrored(where) == where) == !one_side);
      CHECK((where_words(design, mirrored(where)) == where_words(design, where)) == !one_side);
      CHECK((on_both_sides(where) == where) == (sides != Sides::left));
    }
}

TEST_CASE("two places that differ are written differently") {
  const Design design = named_design();
  std::set<std::string> seen;
  std::size_t count = 0;
  for (const auto line : or_none<std::size_t>({0, 1}))
    for (const Sides sides : {Sides::none, Sides::left, Sides::right, Sides::both})
      for (const auto edge : or_none({HandleEdge::spine, HandleEdge::belly}))
        for (const auto level : or_none({Level::inner_face, Level::finished_surface, Level::between}))
          for (const Aspect aspect : {Aspect::none, Aspect::slant, Aspect::rake, Aspect::angle}) {
            const Spot spot{.thing = Thing::joint,
                            .index = 0,
                            .line = line,
                            .sides = sides,
                            .edge = edge,
                            .level = level,
                            .aspect = aspect};
            seen.insert(spot_words(design, spot));
            ++count;
          }
  CHECK(seen.size() == count);
}

TEST_CASE("every thing has a key and names of its own") {
  std::set<std::string_view> keys;
  for (int i = 0; i <= static_cast<int>(Thing::blank); ++i) {
    const Thing thing = static_cast<Thing>(i);
    CHECK_FALSE(key_of(thing).empty());
    CHECK(keys.insert(key_of(thing)).second);
    CHECK_FALSE(spot_words(named_design(), {.thing = thing, .index = 0, .sides = Sides::left}).empty());
  }
}

TEST_CASE("what a design does not have is written all the same") {
  CHECK(spot_words({}, {.thing = Thing::pin, .index = 7}) == "pin 8");
  CHECK(spot_words({}, {.thing = Thing::tang_hole, .index = 7}) == "tang hole 8");
  CHECK_FALSE(spot_words({}, {.thing = Thing::piece, .index = 7, .sides = Sides::left}).empty());
}

TEST_CASE("amounts are written in the unit that is shown") {
  CHECK(fine_length(0.05, LengthUnit::millimetre) == "0.050 mm");
  CHECK(fine_length(0.05, LengthUnit::inch) == "0.0020 in");
  CHECK(fine_length(0.05, LengthUnit::inch_fraction) == "0.0020 in");
  CHECK(length_in_both(0.05, LengthUnit::millimetre) == "0.050 mm (0.0020 in)");
  CHECK(length_in_both(0.05, LengthUnit::inch) == "0.0020 in (0.050 mm)");
  CHECK(percent_words(0.0172) == "1.7 %");
  CHECK(percent_words(0.0996) == "10 %");
  CHECK(percent_words(0.0994) == "9.9 %");
  CHECK(percent_words(1) == "100 %");
  CHECK(amount_words(0.25, FigureUnit::degree, LengthUnit::millimetre) == "0.25 deg");
  CHECK(amount_words(2, FigureUnit::count, LengthUnit::inch) == "2");
  CHECK(amount_words(0.3, FigureUnit::share, LengthUnit::inch) == "30 %");
}
