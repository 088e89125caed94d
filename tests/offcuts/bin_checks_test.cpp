// The door of a bin: each thing that can be wrong, by the path of its field.
#include "haftwright/offcuts/bin_checks.hpp"

#include <catch2/catch.hpp>

#include "design/nth_number.hpp"
#include "haftwright/offcuts/bin_schema.hpp"
#include "support/random_bin.hpp"

using namespace haftwright;

namespace {

/// The only problem, as a maker sees it; all of them when there are several.
std::string said(const Bin& bin) {
  const std::vector<Problem> problems = validate(bin);
  return problems.empty() ? "good" : InputError(problems).what();
}

Offcut board(const std::string& id) {
  return {id, "", "olive", rectangle({120, 40}), 20};
}

Bin with(std::vector<Offcut> offcuts) {
  Bin bin;
  bin.offcuts = std::move(offcuts);
  return bin;
}

Offcut slice(const std::string& id, int number) {
  Offcut offcut = board(id);
  offcut.matched_set = "block";
  offcut.slice = number;
  return offcut;
}

std::vector<Node> circle(double x, double y, double radius) {
  return {{{x - radius, y}, 1}, {{x + radius, y}, 1}};
}

std::vector<PhotoMark> marks(std::size_t count) {
  const PhotoMark all[] = {
      {{0, 0}, {0, 0}}, {{900, 0}, {90, 0}}, {{900, 300}, {90, 30}}, {{0, 300}, {0, 30}}};
  return {all, all + count};
}

}  // namespace

TEST_CASE("random bins are good, and so is an empty one") {
  CHECK(said(Bin{}) == "good");
  for (std::uint64_t seed = 0; seed < 300; ++seed) {
    CAPTURE(seed);
    REQUIRE(said(test::random_bin(seed)) == "good");
  }
}

TEST_CASE("each number of a bin is held to its range, and the field is named") {
  std::size_t numbers = 0;
  for (std::uint64_t seed = 0; seed < 8; ++seed) {
    const Bin bin = test::random_bin(seed);
    for (std::size_t n = 0;; ++n) {
      const auto number = test::nth_number(bin, n);
      if (!number) break;
      ++numbers;
      INFO(number->path);
      const double step = number->coarse ? 0.001 : 1e-6;
      for (const double beyond : {number->quantity.least - step, number->quantity.most + step})
        REQUIRE(said(test::with_number(bin, n, beyond)).find(number->path + ": must be ") == 0);
    }
  }
  CHECK(numbers > 1000);
}

TEST_CASE("whole numbers, texts, ids and materials of a bin are held to what they may be") {
  Bin bin = with({board("a")});
  Offcut& offcut = bin.offcuts[0];
  for (const int alike : {0, -1, 1000}) {
    offcut.alike = alike;
    CHECK(said(bin) ==
          "offcuts[0].alike: must be a whole number from 1 to 999, but is " + std::to_string(alike));
  }
  offcut = board("A b");
  CHECK(said(bin).find("offcuts[0].id: must be 1 to 24 characters of a-z") == 0);
  offcut = board("a");
  offcut.name = "two\nlines";
  CHECK(said(bin) == "offcuts[0].name: must stand in one line");
  offcut = board("a");
  offcut.material = "oliv";
  CHECK(said(bin).find("offcuts[0].material: no material is called \"oliv\"; did you mean \"olive\"?") == 0);
  offcut.material = "";
  CHECK(said(bin).find("offcuts[0].material: must not be empty") == 0);
  offcut = board("a");
  offcut.show_faces = 4;
  CHECK(said(bin).find("offcuts[0].show_faces: ") == 0);
  offcut = board("a");
  offcut.reserved = {{"", "left rear"}};
  CHECK(said(bin) == "offcuts[0].reserved[0].project: must not be empty");
}

TEST_CASE("no two things in a bin share an id, whatever they are") {
  Bin bin = with({board("a"), board("b"), board("a")});
  CHECK(said(bin) == "offcuts[2].id: is \"a\", as that of offcuts[0]; no two things in a bin share one");
  bin.offcuts.pop_back();
  bin.sheets = {{"s", "", "g10", 1, rectangle({100, 100})}};
  bin.rods = {{"s", "", PinStock{}, 100}};
  CHECK(said(bin) == "rods[0].id: is \"s\", as that of sheets[0]; no two things in a bin share one");
  bin.rods[0].id = "";
  CHECK(said(bin) == "good");
  bin.own_materials = {{"driftwood", "driftwood", MaterialKind::wood, 500, "", 0, {}},
                       {"driftwood", "other", MaterialKind::wood, 500, "", 0, {}}};
  CHECK(said(bin) == "materials[1].key: a second material called \"driftwood\"");
}

TEST_CASE("an outline that crosses itself is reported by the node that spoils it") {
  Bin bin = with({board("a")});
  bin.offcuts[0].outline = {{{0, 0}}, {{100, 40}}, {{100, 0}}, {{0, 40}}};
  const auto fault = find_fault(bin.offcuts[0].outline);
  REQUIRE(fault);
  CHECK(said(bin) == "offcuts[0].outline[" + std::to_string(fault->node) + "]: " + fault->what);
}

TEST_CASE("what a saw would turn into dust is no offcut, at the limit and just beyond it") {
  const auto verdict = [](std::vector<Node> outline) {
    Offcut offcut = board("a");
    offcut.outline = std::move(outline);
    return said(with({offcut}));
  };
  const std::string small = "offcuts[0].outline: is nowhere as wide as 3 mm";
  CHECK(verdict(rectangle({100, 3.001})) == "good");
  CHECK(verdict(rectangle({100, 2.999})).find(small) == 0);
  CHECK(verdict(circle(0, 0, 1.501)) == "good");
  CHECK(verdict(circle(0, 0, 1.499)).find(small) == 0);
  // Long and thin all over but for one place: a rule on the outer size would be wrong both ways.
  CHECK(verdict({{{0, 0}}, {{100, 0}}, {{100, 2}}, {{10, 2}}, {{10, 10}}, {{0, 10}}}) == "good");
  CHECK(verdict({{{0, 0}}, {{100, 60}}, {{99, 62}}, {{-1, 2}}}).find(small) == 0);
  Bin bin;
  bin.sheets = {{"s", "", "g10", 1, rectangle({100, 2})}};
  CHECK(said(bin).find("sheets[0].outline: is nowhere as wide as 3 mm") == 0);
  bin.sheets.clear();
  bin.rods = {{"r", "", PinStock{}, 2.9}};
  CHECK(said(bin).find("rods[0].length_mm: must be at least 3 mm") == 0);
  bin.rods = {{"r", "", PinStock{3, std::nullopt, 3, "brass_c36000"}, 100}};
  CHECK(said(bin).find("rods[0].stock.bore_mm: must be less than the diameter, 3 mm") == 0);
}

TEST_CASE("a defect reaches into its offcut or touches it") {
  const auto verdict = [](std::vector<Node> outline) {
    Offcut offcut = board("a");
    offcut.defects = {{DefectKind::knot, circle(60, 20, 3), ""}, {DefectKind::check, std::move(outline), ""}};
    return said(with({offcut}));
  };
  CHECK(verdict(circle(60, 20, 5)) == "good");
  CHECK(verdict(circle(60, 0, 5)) == "good");                                      // over the edge
  CHECK(verdict(circle(60, 20, 200)) == "good");                                   // all of it
  CHECK(verdict({{{120, 10}}, {{130, 10}}, {{130, 20}}, {{120, 20}}}) == "good");  // along the edge
  CHECK(verdict(circle(60, 50, 5)).find("offcuts[0].defects[1]: lies beside the offcut") == 0);
  CHECK(verdict({{{0, 0}}, {{9, 9}}, {{9, 0}}, {{0, 9}}}).find("offcuts[0].defects[1].outline[") == 0);
}

TEST_CASE("slices of one block are alike, each in a place of its own; one that is used up may be missing") {
  CHECK(said(with({slice("a", 1), slice("b", 2), slice("c", 4)})) == "good");
  CHECK(said(with({slice("a", 1), slice("b", 1)})) ==
        "offcuts[1].slice: is 1, as that of offcuts[0] in the same matched_set");
  Bin bin = with({slice("a", 1), slice("b", 2)});
  bin.offcuts[1].material = "teak";
  CHECK(said(bin) == "offcuts[1].material: must be that of offcuts[0] of the same matched_set, olive");
  bin = with({slice("a", 2), slice("b", 1)});
  bin.offcuts[1].thickness_mm = 20 + kSliceThicknessMm;
  CHECK(said(bin) == "good");
  bin.offcuts[1].thickness_mm += 0.01;
  CHECK(said(bin).find("offcuts[1].thickness_mm: must be within 1 mm of that of offcuts[0]") == 0);
  bin = with({slice("a", 0)});
  CHECK(said(bin).find("offcuts[0].slice: is missing") == 0);
  bin = with({slice("a", 1)});
  bin.offcuts[0].alike = 2;
  CHECK(said(bin).find("offcuts[0].alike: must be 1 in a matched_set") == 0);
  bin = with({board("a")});
  bin.offcuts[0].slice = 1;
  CHECK(said(bin) == "offcuts[0].slice: must be left out where there is no matched_set");
}

TEST_CASE("a photo has a plain name and no marks or enough of them") {
  for (const char* name : {"top.jpg", "Brett übers Eck.JPG", "a", "a..b.png"})
    CHECK(photo_name_problem(name).empty());
  for (const char* name :
       {"", "..", ".", ".hidden", "../top.jpg", "/top.jpg", "a/b.jpg", "a\\b.jpg", "a\nb.jpg", "\xff.jpg"}) {
    INFO(name);
    CHECK_FALSE(photo_name_problem(name).empty());
  }
  CHECK_FALSE(photo_name_problem(std::string(201, 'a')).empty());
  Bin bin = with({board("a")});
  bin.offcuts[0].photos = {{"top.jpg", Face::upper, marks(4)}};
  CHECK(said(bin) == "good");
  bin.offcuts[0].photos[0].marks = {};
  CHECK(said(bin) == "good");
  bin.offcuts[0].photos[0].marks = marks(3);
  CHECK(said(bin) == "offcuts[0].photos[0].marks: must have none or at least 4 entries, but has 3");
  bin.offcuts[0].photos[0].marks = marks(4);
  bin.offcuts[0].photos[0].marks[3].at_px = {0, 0};
  CHECK(said(bin).find("offcuts[0].photos[0].marks[3]: lies where mark 0 does") == 0);
  bin.offcuts[0].photos[0] = {"../top.jpg"};
  CHECK(said(bin).find("offcuts[0].photos[0].file: must be a file's name alone") == 0);
}

TEST_CASE("an offcut is reserved by no more projects than there are of it; a sheet lasts for several") {
  Bin bin = with({board("a")});
  bin.offcuts[0].reserved = {{"one", "left rear"}, {"one", "right rear"}};
  CHECK(said(bin) == "good");
  bin.offcuts[0].reserved.push_back({"two", "left rear"});
  CHECK(said(bin).find("offcuts[0].reserved: names 2 projects, but there is 1 offcut of it") == 0);
  bin.offcuts[0].alike = 2;
  CHECK(said(bin) == "good");
  bin.offcuts[0].reserved.push_back({"one", "left rear"});
  CHECK(said(bin) == "offcuts[0].reserved[3]: is the same as one before it");
  bin.offcuts.clear();
  bin.sheets = {{"s", "", "g10", 1, rectangle({100, 100})}};
  bin.sheets[0].reserved = {{"one", ""}, {"two", ""}, {"three", ""}};
  CHECK(said(bin) == "good");
}

TEST_CASE("what has no id gets one by its name, unlike any other in the bin; ids that are given stay") {
  Bin bin;
  bin.offcuts = {board(""), board("rest"), board("")};
  bin.offcuts[0].name = "Rest";
  bin.sheets = {{"", "rest", "g10", 1, rectangle({100, 100})}};
  bin.rods = {{"", "", PinStock{}, 100}};
  const Bin named = with_ids(bin);
  CHECK(bin_ids(named) == std::vector<std::string>{"rest_2", "rest", "offcut_3", "rest_3", "rod_1"});
  CHECK(with_ids(named) == named);
}

TEST_CASE("a rectangle is known by its chain, and how far an outline reaches along the grain is exact") {
  CHECK(rectangle_size(rectangle({120, 40})) == FlatSize{120, 40});
  std::vector<Node> chain = rectangle({120, 40});
  chain[1].bulge = 0.1;
  CHECK_FALSE(rectangle_size(chain));
  CHECK_FALSE(rectangle_size({{{1, 0}}, {{120, 0}}, {{120, 40}}, {{0, 40}}}));
  Offcut offcut = board("a");
  offcut.grain.along_deg = 90;
  CHECK(extent_along_grain(offcut).length_mm == Approx(40).epsilon(1e-12));
  offcut.grain.along_deg = 45;
  CHECK(extent_along_grain(offcut).length_mm == Approx(160 / std::sqrt(2.0)).epsilon(1e-12));
  offcut.outline = circle(7, 9, 25);
  for (const double deg : {0.0, 33.0, 77.0, -140.0}) {
    offcut.grain.along_deg = deg;
    CHECK(extent_along_grain(offcut).length_mm == Approx(50).epsilon(1e-12));
    CHECK(extent_along_grain(offcut).width_mm == Approx(50).epsilon(1e-12));
  }
}
