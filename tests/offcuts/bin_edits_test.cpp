// Changes to a bin: each does what it says to one thing and leaves everything else as it was.
#include "haftwright/offcuts/bin_edits.hpp"

#include <catch2/catch.hpp>

#include "haftwright/design/ids.hpp"
#include "haftwright/offcuts/bin_checks.hpp"
#include "support/random_bin.hpp"

using namespace haftwright;

namespace {

Offcut board(const std::string& id) {
  return {id, "", "olive", rectangle({120, 40}), 20};
}

/// Every one but that of the id, in order.
std::vector<Offcut> others(const Bin& bin, const std::string& id) {
  std::vector<Offcut> left = bin.offcuts;
  std::erase_if(left, [&](const Offcut& offcut) { return offcut.id == id; });
  return left;
}

Bin small_bin() {
  Bin bin;
  bin.offcuts = {board("walnut"), board("olive")};
  bin.sheets = {{"red", "", "g10", 1, rectangle({100, 100})}};
  bin.rods = {{"brass", "", PinStock{}, 100}};
  return bin;
}

}  // namespace

TEST_CASE("what is added stands at the end, with an id of its own") {
  for (std::uint64_t seed = 0; seed < 50; ++seed) {
    CAPTURE(seed);
    const Bin bin = test::random_bin(seed);
    test::Random random(seed + 1000);
    const Offcut fresh = test::random_offcut(random);
    const EditedBin edited = add(bin, fresh);
    REQUIRE(edited);
    REQUIRE(validate(*edited).empty());
    Offcut last = edited->offcuts.back();
    REQUIRE_FALSE(last.id.empty());
    last.id.clear();
    REQUIRE(last == fresh);
    Bin without = *edited;
    without.offcuts.pop_back();
    REQUIRE(without == bin);
    // An edit and its opposite.
    REQUIRE(*remove(*edited, edited->offcuts.back().id) == bin);
  }
  CHECK(add(small_bin(), board("brass")).refusal() ==
        "\"brass\" is in the bin already; two things can't share an id");
  CHECK(add(small_bin(), RodStock{"", "Brass", PinStock{}, 50})->rods.back().id == "brass_2");
  CHECK(add(small_bin(), SheetStock{"", "", "g10", 1, rectangle({10, 10})})->sheets.back().id == "sheet_2");
}

TEST_CASE("what nothing is called is refused, with the nearest id") {
  const Bin bin = small_bin();
  const std::string wanted = "nothing in the bin is called \"walnot\"; did you mean \"walnut\"?";
  CHECK(remove(bin, "walnot").refusal() == wanted);
  CHECK(rename(bin, "walnot", "x").refusal() == wanted);
  CHECK(change_offcut(bin, "walnot", [](Offcut&) {}).refusal() == wanted);
  CHECK(reserve(bin, "walnot", {"p", ""}).refusal() == wanted);
  CHECK(cut(bin, "walnot", "", {}).refusal() == wanted);
  CHECK(add_defect(bin, "walnot", {}).refusal() == wanted);
  CHECK(change_offcut(bin, "red", [](Offcut&) {}).refusal() == "\"red\" is no offcut");
  CHECK(change_rod(bin, "red", [](RodStock&) {}).refusal() == "\"red\" is no rod");
  CHECK(change_sheet(bin, "brass", [](SheetStock&) {}).refusal() == "\"brass\" is no sheet");
  CHECK(remove(bin, "").refusal() == "nothing in the bin is called \"\"");
}

TEST_CASE("a change changes the one thing, and never its id") {
  const Bin bin = small_bin();
  const EditedBin thinner = change_offcut(bin, "olive", [](Offcut& offcut) {
    offcut.thickness_mm = 7;
    offcut.id = "walnut";
  });
  REQUIRE(thinner);
  CHECK(thinner->offcuts[1].id == "olive");
  CHECK(thinner->offcuts[1].thickness_mm == 7);
  CHECK(others(*thinner, "olive") == others(bin, "olive"));
  CHECK(rename(bin, "brass", "Long brass")->rods[0].name == "Long brass");
  CHECK(change_sheet(bin, "red", [](SheetStock& sheet) { sheet.alike = 3; })->sheets[0].alike == 3);
  CHECK(change_rod(bin, "brass", [](RodStock& rod) { rod.length_mm = 9; })->rods[0].length_mm == 9);
}

TEST_CASE("defects are added, moved and taken away by their number") {
  const Bin bin = small_bin();
  const Defect knot{DefectKind::knot, {{{10, 10}, 1}, {{16, 10}, 1}}, "loose"};
  const Bin one = *add_defect(bin, "olive", knot);
  CHECK(one.offcuts[1].defects == std::vector<Defect>{knot});
  const Bin moved = *move_defect(one, "olive", 0, {5, -2});
  CHECK(moved.offcuts[1].defects[0].outline == std::vector<Node>{{{15, 8}, 1}, {{21, 8}, 1}});
  CHECK(*move_defect(moved, "olive", 0, {-5, 2}) == one);
  CHECK(*remove_defect(one, "olive", 0) == bin);
  CHECK(remove_defect(one, "olive", 1).refusal() == "\"olive\" has no defect 2");
  CHECK(move_defect(bin, "olive", 0, {1, 1}).refusal() == "\"olive\" has no defect 1");
}

TEST_CASE("an offcut is reserved once for each that there is of it, and a release releases everything") {
  Bin bin = small_bin();
  bin = *reserve(bin, "walnut", {"one", "left rear"});
  CHECK(*reserve(bin, "walnut", {"one", "left rear"}) == bin);
  bin = *reserve(bin, "walnut", {"one", "right rear"});
  CHECK(reserve(bin, "walnut", {"two", ""}).refusal() ==
        "\"walnut\" is reserved for \"one\"; release that first");
  CHECK(remove(bin, "walnut").refusal() == "\"walnut\" is reserved for \"one\"; release that first");
  bin = *reserve(bin, "red", {"one", "liner"});
  bin = *reserve(bin, "red", {"two", "liner"});
  CHECK(validate(bin).empty());
  CHECK(reserved_by(bin, "one") == 2);
  CHECK(reserved_by(bin, "two") == 1);
  const Bin left = *release(bin, "one");
  CHECK(left.offcuts == small_bin().offcuts);
  CHECK(left.sheets[0].reserved == std::vector<Reservation>{{"two", "liner"}});
  CHECK(release(left, "one").refusal() == "nothing is reserved for \"one\"");
  CHECK(release(*reserve(left, "olive", {"shucking", ""}), "shuking").refusal() ==
        "nothing is reserved for \"shuking\"; did you mean \"shucking\"?");
}

TEST_CASE("a new plan takes the place of the old one, wholly or not at all") {
  Bin bin = *reserve(small_bin(), "walnut", {"one", "left rear"});
  bin = *reserve(bin, "olive", {"two", ""});
  const Bin planned = *reserve_only(bin, "one", {{"red", "liner"}, {"red", "spacer"}, {"brass", "pins"}});
  CHECK(planned.offcuts[0].reserved.empty());
  CHECK(planned.sheets[0].reserved == std::vector<Reservation>{{"one", "liner"}, {"one", "spacer"}});
  CHECK(reserved_by(planned, "one") == 2);
  CHECK(reserved_by(planned, "two") == 1);
  CHECK(reserve_only(bin, "one", {{"red", ""}, {"olive", ""}}).refusal() ==
        "\"olive\" is reserved for \"two\"; release that first");
  CHECK(*reserve_only(bin, "one", {}) == *release(bin, "one"));
}
