// Ids: what may be one, which ones are made, and which are refused.
#include "haftwright/design/ids.hpp"

#include <catch2/catch.hpp>
#include <set>

#include "haftwright/design/holes.hpp"
#include "haftwright/design/validate.hpp"
#include "support/designs.hpp"
#include "support/ids.hpp"
#include "support/random_design.hpp"

namespace haftwright {
namespace {

using test::Ids;
using test::ids_of;

void check_one_problem(const Design& design, const std::string& field, const std::string& part) {
  const std::vector<Problem> problems = validate(design);
  REQUIRE(problems.size() == 1);
  CHECK(problems[0].field == field);
  CHECK_THAT(problems[0].what, Catch::Contains(part));
}

Design without_ids(Design design) {
  const auto clear = [](auto& list) {
    for (auto& thing : list) thing.id.clear();
  };
  clear(design.pins);
  clear(design.tang.holes);
  clear(design.left.pieces);
  clear(design.left.joints);
  if (design.right.pieces) clear(*design.right.pieces);
  if (design.right.joints) clear(*design.right.joints);
  return design;
}

}  // namespace

TEST_CASE("an id is 1 to 24 lower case letters, digits, '_' and '-'") {
  for (const char* good : {"a", "9", "-", "_", "front_pin", "twenty-four_characters__"})
    CHECK(id_problem(good).empty());
  CHECK_THAT(id_problem(""), Catch::EndsWith("but is empty"));
  CHECK_THAT(id_problem("Front pin"), Catch::EndsWith("but is \"Front pin\"; \"front_pin\" would do"));
  CHECK_THAT(id_problem("twenty-five_characters___"), Catch::Contains("\"twenty-five_characters\" would do"));
  CHECK_THAT(id_problem("\xC3\xA9"), !Catch::Contains("would do"));
  CHECK_FALSE(id_problem(std::string("a\0b", 3)).empty());
}

TEST_CASE("a name's id is short, in lower case, and good where there is one") {
  CHECK(id_from("Rear pin") == "rear_pin");
  CHECK(id_from("  1/8 in, brass!  ") == "1_8_in_brass");
  CHECK(id_from("couteau d'\xC3\xA9"
                "cailler") == "couteau_d_cailler");
  CHECK(id_from("貝剥き").empty());
  CHECK(id_from("").empty());
  CHECK(id_from(std::string(4096, 'X')) == std::string(24, 'x'));
  for (const char* text : {"A", "-", "a  b", "a_ b", "long names are cut here_and there"}) {
    CHECK(id_problem(id_from(text)).empty());
    CHECK(id_from(id_from(text)) == id_from(text));
  }
}

TEST_CASE("ids are made of names and order, and given ones stay") {
  Design design = without_ids(test::starter());
  design.pins[0].name = "Front pin";
  design.pins[1].name = "front_pin";
  design.pins[2].name = "";
  design.tang.holes = {{"", {30, 0}, 3, ""}, {"", {40, 0}, 3, "Rear"}, {"hole_1", {50, 0}, 3, "x"}};
  const Design made = with_ids(design);
  CHECK(ids_of(made.pins) == Ids{"front_pin", "front_pin_2", "pin_3"});
  CHECK(ids_of(made.tang.holes) == Ids{"hole_1_2", "rear", "hole_1"});
  CHECK(ids_of(made.left.pieces) == Ids{"piece_1", "piece_2"});
  CHECK(ids_of(made.left.joints) == Ids{"joint_1"});
  CHECK(with_ids(made) == made);
  design.pins[2].id = "front_pin";
  CHECK(ids_of(with_ids(design).pins) == Ids{"front_pin_2", "front_pin_3", "front_pin"});
  // As long as an id may be, and still each its own.
  for (Pin& pin : design.pins) {
    pin.id.clear();
    pin.name = "as long as an id may be, and more";
  }
  for (const std::string& id : ids_of(with_ids(design).pins)) CHECK(id_problem(id).empty());
  CHECK(validate(with_ids(design)).empty() == validate(design).empty());
}

TEST_CASE("the right side's own joints take the ids of the ones that they meet") {
  Design design = test::starter();
  design.left.joints[0].id = "guard";
  design.right.joints = {{30, 0, 0, {}}};
  CHECK(with_ids(design).right.joints->at(0).id == "guard");
  design.right.joints = {{30, 0, 0, {}}, {60, 0, 0, {}}, {90, 0, 0, {}, "guard"}};
  CHECK(ids_of(*with_ids(design).right.joints) == Ids{"joint_1", "joint_2", "guard"});
  // One that meets nothing must not pass for another of the left side.
  design.left.joints = {{30, 0, 0, {}, "joint_2"}, {60, 0, 0, {}, "joint_1"}};
  design.right.joints = {{30, 0, 0, {}}, {60, 0, 0, {}}, {90, 0, 0, {}}};
  CHECK(ids_of(*with_ids(design).right.joints) == Ids{"joint_2", "joint_1", "joint_3"});
}

TEST_CASE("every random design has good ids, and gets them back from its names alone") {
  for (std::uint64_t seed = 0; seed < 300; ++seed) {
    CAPTURE(seed);
    Design design = test::random_design(seed);
    for (const Ids& ids : {ids_of(design.pins), ids_of(design.tang.holes), ids_of(design.left.pieces),
                           ids_of(design.left.joints)}) {
      for (const std::string& id : ids) CHECK(id_problem(id).empty());
      CHECK(std::set<std::string>(ids.begin(), ids.end()).size() == ids.size());
    }
    const Design made = with_ids(without_ids(design));
    CHECK(with_ids(made) == made);
    CHECK(design.mirrored() == made.mirrored());
    for (std::size_t i = 0; i < design.pins.size(); ++i) {
      CHECK(index_of(design.pins, design.pins[i].id) == i);
      const TangHole* hole = existing_tang_hole(design, design.pins[i]);
      CHECK((hole != nullptr) == !design.pins[i].existing_tang_hole.empty());
      if (hole) CHECK(tang_hole(design, design.pins[i]) == HoleSize{.diameter_mm = hole->diameter_mm});
    }
  }
}

TEST_CASE("a new id is nobody's and nobody refers to it") {
  Design design = test::starter();
  CHECK(ids_of(design.pins) == Ids{"pin_1", "pin_2", "pin_3"});
  CHECK(new_pin_id(design) == "pin_4");
  design.pins.pop_back();
  CHECK(new_pin_id(design) == "pin_3");
  design.dry_fit = {{.joint = "joint_7", .from_pin = "pin_3"}};
  CHECK(new_pin_id(design) == "pin_4");
  CHECK(new_joint_id(design) == "joint_8");
  CHECK(new_piece_id(design) == "piece_3");
  design.hand_places = {{.piece = "piece_5"}};
  CHECK(new_piece_id(design) == "piece_6");
  CHECK(new_tang_hole_id(design) == "hole_1");
  design.pins[0].existing_tang_hole = "hole_4";
  CHECK(new_tang_hole_id(design) == "hole_5");
  // What only looks like a number of ours.
  design.pins[0].id = "pin_99999999999999999999";
  design.pins[1].id = "pin_04x";
  CHECK(new_pin_id(design) == "pin_4");
  design.right.joints = {{30, 0, 0, {}, "joint_20"}};
  CHECK(new_joint_id(design) == "joint_21");
}

TEST_CASE("ids that are bad, or there twice, are refused by their field") {
  const Design good = test::starter();
  REQUIRE(validate(good).empty());
  Design design = good;
  design.pins[1].id = "pin_1";
  check_one_problem(design, "pins[1].id", "a second pin with the id \"pin_1\"");
  design = good;
  design.pins[2].id = "Pin 3";
  check_one_problem(design, "pins[2].id", "\"pin_3\" would do");
  design = good;
  design.left.pieces[1].id = design.left.pieces[0].id;
  check_one_problem(design, "sides.left.pieces[1].id", "a second piece");
  design = good;
  design.hand_places = {{Which::left, "piece_1", "a"}, {Which::right, "piece_1", "a"}};
  CHECK(validate(design).empty());
  design.hand_places.push_back({Which::left, "piece_1", "b"});
  check_one_problem(design, "hand_places[2].piece", "a second place for the piece \"piece_1\" of the left");
  design = good;
  design.tang.holes = {{"a", {30, 0}, 1}, {"a", {40, 0}, 1}};
  check_one_problem(design, "tang.holes[1].id", "a second hole with the id \"a\"");
  design = good;
  design.right.joints = design.left.joints;
  CHECK(validate(design).empty());
  design.right.joints->at(0).id = "other";
  check_one_problem(design, "sides.right.joints[0].id", "that it meets, \"joint_1\", but is \"other\"");
  design.right.joints->at(0).id.clear();
  CHECK(validate(design).empty());
  design = good;
  design.dry_fit = {{.joint = "", .reading_mm = 10}};
  check_one_problem(design, "dry_fit[0].joint", "but is empty");
  design.dry_fit = {{.joint = "joint_1", .from_pin = "a pin", .reading_mm = 10}};
  check_one_problem(design, "dry_fit[0].from_pin", "\"a_pin\" would do");
}

TEST_CASE("names are for people: they may be shared or left out") {
  Design design = test::starter();
  for (Pin& pin : design.pins) pin.name = "the pin";
  CHECK(validate(design).empty());
  for (Pin& pin : design.pins) pin.name.clear();
  CHECK(validate(design).empty());
}

TEST_CASE("sides that are alike but for their ids are alike") {
  Design design = test::starter();
  design.right.joints = design.left.joints;
  design.right.pieces = design.left.pieces;
  design.right.pieces->at(0).id = "another";
  design.right.joints->at(0).id.clear();
  CHECK(design.mirrored());
  design.right.joints->at(0).place_mm += 0.1;
  CHECK_FALSE(design.mirrored());
}

}  // namespace haftwright
