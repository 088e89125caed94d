#include <catch2/catch.hpp>
#include <cmath>

#include "haftwright/design/limits.hpp"
#include "haftwright/design/validate.hpp"
#include "haftwright/edits/edits.hpp"
#include "support/designs.hpp"
#include "support/nearly.hpp"
#include "support/random.hpp"
#include "support/random_design.hpp"

namespace haftwright {
namespace {

const Sheet kSheet{"vulcanized_fibre", 0.7};

Side side_of(const Design& design, Which side) {
  return side == Which::left ? design.left : design.right_side();
}

/// A design with pieces and joints linked or not, as the two bits of `kind` say.
Design with_links(unsigned kind) {
  Design design = test::starter();
  if (kind & 1u) design = *unlink(design, SideField::pieces);
  if (kind & 2u) design = *unlink(design, SideField::joints);
  return design;
}

}  // namespace

TEST_CASE("edits of a linked right side go to the left; of an unlinked one they do not") {
  const Design start = test::starter();
  for (const bool unlinked : {false, true}) {
    const Design design = unlinked ? *unlink_all(start) : start;
    const Edited edits[] = {move_joint(design, Which::right, 0, 40),
                            slant_joint(design, Which::right, 0, 7),
                            rake_joint(design, Which::right, 0, 7),
                            move_joint(design, Which::right, 0, 40, 0.5),
                            slant_joint_through(design, Which::right, 0, {50, 9, 2}),
                            rake_joint_through(design, Which::right, 0, {50, 2, 9}),
                            set_front(design, Which::right, {1, 2, 3}),
                            set_butt_proud(design, Which::right, 1),
                            add_joint(design, Which::right, 70),
                            remove_piece(design, Which::right, 0),
                            set_piece(design, Which::right, 0, {"sugar_maple", {12, {}, {}}, {}}),
                            swap_pieces(design, Which::right, 0, 1),
                            add_spacer(design, Which::right, 0, 0, kSheet),
                            set_spacer(design, Which::right, 0, 0, kSheet),
                            remove_spacer(design, Which::right, 0, 0),
                            add_liner(design, Which::right, 0, kSheet),
                            set_liner(design, Which::right, 0, kSheet),
                            remove_liner(design, Which::right, 0),
                            set_finish(design, Which::right, {{{0, 9}}, {}, 0, 1}),
                            move_station(design, Which::right, 0, 1, 9),
                            add_station(design, Which::right, 20),
                            remove_station(design, Which::right, 0)};
    for (const Edited& edit : edits) {
      INFO(&edit - edits);
      REQUIRE(edit);
      CHECK(edit->right_side() != design.right_side());
      CHECK((edit->left == design.left) == unlinked);
      CHECK(edit->mirrored() != unlinked);
      CHECK(validate(*edit).empty());
    }
  }
}

TEST_CASE("unlinking moves nothing, linking follows the left again") {
  for (std::uint64_t seed = 0; seed < 100; ++seed) {
    const Design design = test::random_design(seed);
    CAPTURE(seed);
    for (const SideField field : kSideFields) {
      const Edited apart = unlink(design, field);
      REQUIRE(apart);
      CHECK_FALSE(linked(*apart, field));
      CHECK(apart->right_side() == design.right_side());
      CHECK(apart->left == design.left);
      const Edited together = link(*apart, field);
      CHECK(linked(*together, field));
      CHECK(validate(*together).empty());
      if (linked(design, field)) CHECK(*together == design);
    }
    CHECK(link_all(design)->mirrored());
    CHECK(all_linked(*link_all(design)));
    CHECK(unlink_all(design)->right_side() == design.right_side());
  }
}

TEST_CASE("sides are swapped and copied whole") {
  for (std::uint64_t seed = 0; seed < 100; ++seed) {
    const Design design = test::random_design(seed);
    CAPTURE(seed);
    const Design swapped = *swap_sides(design);
    CHECK(swapped.left == design.right_side());
    CHECK(swapped.right_side() == design.left);
    CHECK(*swap_sides(swapped) == design);
    for (const Which from : {Which::left, Which::right}) {
      const Design copied = *copy_side(design, from);
      CHECK(copied.left == side_of(design, from));
      CHECK(copied.mirrored());
      for (const SideField field : kSideFields) CHECK(linked(copied, field) == linked(design, field));
    }
  }
}

TEST_CASE("a joint added and taken away again leaves the design as it was, however the sides are linked") {
  for (unsigned kind = 0; kind < 4; ++kind)
    for (const Which side : {Which::left, Which::right})
      for (const double place : {20.0, 80.0}) {
        CAPTURE(kind, side == Which::left, place);
        const Design design = with_links(kind);
        const Edited more = add_joint(design, side, place);
        REQUIRE(more);
        CHECK(validate(*more).empty());
        const std::size_t index = place < design.left.joints[0].place_mm ? 0 : 1;
        CHECK(side_of(*more, side).joints[index].place_mm == place);
        Piece rear = side_of(*more, side).pieces[index + 1];
        rear.id = side_of(design, side).pieces[index].id;
        CHECK(rear == side_of(*more, side).pieces[index]);
        CHECK(side_of(*more, side).pieces.size() == 3);
        // Apart only when both are unlinked.
        CHECK(side_of(*more, side == Which::left ? Which::right : Which::left).pieces.size() ==
              (kind == 3 ? 2 : 3));
        CHECK(*remove_piece(*more, side, index + 1) == design);
      }
  const Design one = *remove_piece(test::starter(), Which::left, 0);
  CHECK(one.left.joints.empty());
  CHECK_FALSE(remove_piece(one, Which::left, 0));
}

TEST_CASE("linking pieces of another number links the joints with them") {
  const Design design = *add_joint(with_links(3), Which::right, 80);
  for (const SideField field : {SideField::pieces, SideField::joints}) {
    const Design together = *link(design, field);
    CHECK(validate(together).empty());
    CHECK(together.mirrored());
  }
}

TEST_CASE("a pin snaps to even spacing, to the axis and to other pins' height") {
  Design design = test::starter();
  design.pins = {design.pins[0], design.pins[0], design.pins[0], design.pins[0]};
  const double places[] = {20, 50, 90, 33};
  for (std::size_t i = 0; i < 4; ++i) {
    design.pins[i].name = "pin " + std::to_string(i + 1);
    design.pins[i].at_mm = {places[i], 0};
  }
  design.pins[1].at_mm.y = 3;
  // Between 20 | 50 | 90: half-way 35 and 70, repeated gaps 80 (50 + 30), 10 (50 - 40), -10 and 130; 10 is
  // not next to 50 since 20 lies between.
  CHECK(even_spacings_mm(design, 3) == std::vector<double>{-10, 35, 70, 80, 130});
  CHECK(move_pin(design, 3, {34.2, 2.5}, {false, 1})->pins[3].at_mm == Vec2(35, 3));
  CHECK(move_pin(design, 3, {34.2, 0.4}, {false, 1})->pins[3].at_mm == Vec2(35, 0));
  CHECK(move_pin(design, 3, {32, 1.5}, {false, 1})->pins[3].at_mm == Vec2(32, 1.5));
  CHECK(move_pin(design, 3, {34.2, 2.5})->pins[3].at_mm == Vec2(34.2, 2.5));
  CHECK(move_pin(design, 3, {34.2, 2.5}, {true, 1})->pins[3].at_mm == Vec2(35, 0));
  CHECK(move_pin(design, 1, {60, 9}, {true, 0})->pins[1].at_mm == Vec2(60, 3));
}

TEST_CASE("pins and the tang's holes stay together") {
  Design design = *add_tang_hole(test::starter(), {30, 2}, 3.1);
  design = *add_tang_hole(design, {70, 2}, 3.1);
  CHECK(design.tang.holes[0].name == "hole 1");
  CHECK(design.tang.holes[1].name == "hole 2");
  design = *use_tang_hole(design, 1, "hole_1");
  CHECK(design.pins[1].at_mm == Vec2(30, 2));
  CHECK(validate(design).empty());
  CHECK_FALSE(move_pin(design, 1, {31, 2}));
  CHECK(move_pin(design, 1, {31, 2}).refusal().find("hole 1") != std::string::npos);
  CHECK_FALSE(remove_tang_hole(design, 0));
  CHECK_FALSE(use_tang_hole(design, 1, "hole_9"));
  CHECK(remove_tang_hole(design, 1));

  design = *move_tang_hole(design, 0, {32, 1});
  CHECK(design.pins[1].at_mm == Vec2(32, 1));
  design.tang.holes[0].name = "old";
  CHECK(move_tang_hole(design, 0, {33, 1})->pins[1].at_mm == Vec2(33, 1));
  CHECK(remove_tang_hole(design, 0).refusal().find("\"old\"") != std::string::npos);
  CHECK(validate(design).empty());

  const Design copied = *add_pin(design, {40, 0});
  CHECK(copied.pins.back().existing_tang_hole.empty());
  CHECK(validate(copied).empty());
  design = *drill_tang_hole(design, 1);
  CHECK(design.pins[1].tang_hole == design.pins[1].scale_hole);
  CHECK(validate(design).empty());
  CHECK(move_pin(design, 1, {33, 1}));
}

TEST_CASE("new pins have names of their own, and the first one is a whole pin") {
  Design design = test::starter();
  design.pins[0].name = "pin 4";
  CHECK(add_pin(design, {40, 0})->pins.back().name == "pin 5");
  design.pins.clear();
  for (const LengthUnit unit : {LengthUnit::millimetre, LengthUnit::inch}) {
    design.shown_unit = unit;
    const Design first = *add_pin(design, {40, 0});
    CHECK(first.pins[0].at_mm == Vec2(40, 0));
    CHECK(validate(first).empty());
  }
  while (design.pins.size() < limits::kPins) design = *add_pin(design, {40, 0});
  CHECK_FALSE(add_pin(design, {40, 0}));
}

TEST_CASE("the first liner gives the pins their liner holes") {
  Design design = *remove_liner(test::starter(), Which::left, 0);
  for (Pin& pin : design.pins) pin.liner_hole = {};
  REQUIRE(validate(design).empty());
  CHECK(validate(*add_liner(design, Which::right, 0, kSheet)).empty());
}

TEST_CASE("splitting an edge leaves the shape as it is") {
  test::Random random(7);
  for (std::uint64_t seed = 0; seed < 50; ++seed) {
    const Design design = test::random_design(seed);
    const Outline before(design.tang.outline);
    for (std::size_t node = 0; node < design.tang.outline.size(); ++node) {
      CAPTURE(seed, node);
      const Edited edit = split_edge(design, {}, node, random.between(0.05, 0.95));
      REQUIRE(edit);
      const Outline after(edit->tang.outline);
      CHECK(after.nodes().size() == before.nodes().size() + 1);
      CHECK(after.area_mm2() == Approx(before.area_mm2()).epsilon(1e-12));
      CHECK(after.perimeter_mm() == Approx(before.perimeter_mm()).epsilon(1e-12));
      for (const Edge& edge : after.edges()) CHECK(before.nearest(edge.point(0.37)).distance_mm < 1e-9);
      if (design.tang.outline[node].bulge == 0)
        CHECK(remove_node(*edit, {}, node + 1)->tang.outline == design.tang.outline);
    }
  }
  for (const double t : {0.0, 1.0, -1.0, 2.0, std::nan("")})
    CHECK_FALSE(split_edge(test::starter(), {}, 0, t));
}

TEST_CASE("nodes move, bend and go, on the tang and on its cutouts") {
  Design design = test::starter();
  design.tang.cutouts = {{{{60, -3}, 0}, {{66, -3}, 0}, {{66, 3}, 0}, {{60, 3}, 0}}};
  const OutlineOf cutout{0};
  CHECK(move_node(design, cutout, 2, {67, 4})->tang.cutouts[0][2].at == Vec2(67, 4));
  CHECK(move_node(design, {}, 0, {-9, -12})->tang.outline[0].at == Vec2(-9, -12));
  CHECK(bend_edge(design, cutout, 1, 0.5)->tang.cutouts[0][1].bulge == 0.5);
  // The edge ahead of a removed node runs straight on.
  const Design bent = *bend_edge(design, cutout, 3, 0.5);
  const Design gone = *remove_node(bent, cutout, 0);
  CHECK(gone.tang.cutouts[0].size() == 3);
  CHECK(gone.tang.cutouts[0].back() == Node{{60, 3}, 0});
  CHECK(remove_cutout(design, 0)->tang.cutouts.empty());
  CHECK_FALSE(move_node(design, {1}, 0, {0, 0}));
}

TEST_CASE("a new thickness station lies on the curve") {
  for (std::uint64_t seed = 0; seed < 50; ++seed) {
    const Design design = test::random_design(seed);
    const auto& stations = design.left.finish.thickness_mm;
    const double x = stations.front().x + 0.613 * (stations.back().x - stations.front().x) + 0.01;
    const MonotoneCubic before(stations);
    const Edited edit = add_station(design, Which::left, x);
    REQUIRE(edit);
    const MonotoneCubic after(edit->left.finish.thickness_mm);
    CHECK(edit->left.finish.thickness_mm.size() == stations.size() + 1);
    CHECK(after.value(x) == test::nearly(before.value(x)));
    for (const auto& station : stations) CHECK(after.value(station.x) == test::nearly(station.value));
    CHECK_FALSE(add_station(*edit, Which::left, x));
  }
  Design one = test::starter();
  one.left.finish.thickness_mm = {{0, 8}};
  CHECK_FALSE(remove_station(one, Which::left, 0));
}

TEST_CASE("a rule is set within its range only") {
  const Design design = test::starter();
  for (const RuleRow& row : rule_rows()) {
    CAPTURE(row.key);
    CHECK(set_rule(design, row.member, row.least)->rules.*row.member == row.least);
    CHECK(set_rule(design, row.member, row.most)->rules.*row.member == row.most);
    const Edited over = set_rule(design, row.member, row.most + 1);
    CHECK_FALSE(over);
    CHECK(over.refusal().find(row.what) != std::string::npos);
    CHECK_FALSE(set_rule(design, row.member, row.least - 1));
    CHECK_FALSE(set_rule(design, row.member, std::nan("")));
  }
}

TEST_CASE("an index that is nowhere is refused in words") {
  const Design d = *unlink(test::starter(), SideField::joints);
  const std::size_t far = static_cast<std::size_t>(-1);
  const Vec2 p{1, 1};
  for (const Which w : {Which::left, Which::right})
    for (const std::size_t i : {std::size_t{20}, far}) {
      const Edited edits[] = {move_pin(d, i, p),
                              remove_pin(d, i),
                              use_tang_hole(*add_tang_hole(d, p, 1), i, "hole_1"),
                              drill_tang_hole(d, i),
                              move_joint(d, w, i, 1),
                              slant_joint(d, w, i, 1),
                              rake_joint(d, w, i, 1),
                              move_joint(d, w, i, 1, 1),
                              slant_joint_through(d, w, i, {1, 5, 5}),
                              rake_joint_through(d, w, i, {1, 5, 5}),
                              bend_edge_through(d, {}, i, p),
                              set_edge_rise(d, {}, i, 1),
                              move_cutout(d, i, p),
                              size_tang_hole(d, i, 1),
                              remove_piece(d, w, i),
                              set_piece(d, w, i, {}),
                              swap_pieces(d, w, 0, i),
                              swap_pieces(d, w, i, 0),
                              add_spacer(d, w, i, 0, kSheet),
                              set_spacer(d, w, i, 0, kSheet),
                              set_spacer(d, w, 0, i, kSheet),
                              remove_spacer(d, w, i, 0),
                              remove_spacer(d, w, 0, i),
                              set_liner(d, w, i, kSheet),
                              remove_liner(d, w, i),
                              move_station(d, w, i, 1, 1),
                              remove_station(d, w, i),
                              move_node(d, {}, i, p),
                              move_node(d, {i}, 0, p),
                              bend_edge(d, {}, i, 0),
                              split_edge(d, {}, i, 0.5),
                              remove_node(d, {}, i),
                              remove_cutout(d, i),
                              move_tang_hole(d, i, p),
                              remove_tang_hole(d, i)};
      for (const Edited& edit : edits) {
        INFO(&edit - edits);
        CHECK_FALSE(edit);
        CHECK(edit.refusal().size() > 10);
      }
    }
  // Past the end is the end where something is put in.
  CHECK(add_spacer(d, Which::left, 0, 99, kSheet)->left.joints[0].spacers.back() == kSheet);
  CHECK(add_liner(d, Which::left, 99, kSheet)->left.liners.back() == kSheet);
}

}  // namespace haftwright
