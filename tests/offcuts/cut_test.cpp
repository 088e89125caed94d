// Cutting: no wood appears or gets lost, and what is known of a place stays known of that place.
#include <catch2/catch.hpp>

#include <algorithm>
#include <cmath>
#include <numbers>

#include "haftwright/design/ids.hpp"
#include "haftwright/geometry/outline_ops.hpp"
#include "haftwright/offcuts/bin_checks.hpp"
#include "haftwright/offcuts/bin_edits.hpp"
#include "support/nearly.hpp"
#include "support/random_bin.hpp"
#include "support/seeds.hpp"

using namespace haftwright;
using test::nearly;

namespace {

Bin bin_of(const Offcut& offcut) {
  Bin bin;
  Material driftwood;
  driftwood.key = "driftwood";
  driftwood.name = "driftwood";
  driftwood.density_kg_m3 = 500;
  bin.own_materials = {driftwood};
  bin.offcuts = {offcut};
  bin.offcuts[0].id = "board";
  return bin;
}

double area_of(const std::vector<Outline>& parts) {
  double area = 0;
  for (const Outline& part : parts) area += part.area_mm2();
  return area;
}

/// A straight saw cut through the offcut: what is left on both sides of it, and what became dust.
struct SawCut {
  std::vector<Leftover> leftovers;
  std::vector<Vec2> origins;  ///< of the leftovers' frames, in that of the offcut
  double dust_mm2 = 0;
};

SawCut saw(test::Random& random, const Offcut& offcut) {
  const Outline outline(offcut.outline);
  const double turn = random.between(0, 2 * std::numbers::pi), kerf = random.between(0.5, 3);
  const Vec2 normal{std::cos(turn), std::sin(turn)};
  const Vec2 size = outline.bounds().size();
  const double middle = glm::dot(normal, outline.moments().centroid + random.between(-0.2, 0.2) * size);
  SawCut cut;
  cut.dust_mm2 = area_of(clip(clip(outline, {normal, middle + kerf / 2}), {-normal, -(middle - kerf / 2)}));
  auto parts = clip(outline, {normal, middle - kerf / 2});
  for (Outline& part : clip(outline, {-normal, -(middle + kerf / 2)})) parts.push_back(std::move(part));
  for (const Outline& part : parts) {
    cut.leftovers.push_back({part.nodes(), offcut.thickness_mm});
    cut.origins.push_back(part.bounds().low);
  }
  return cut;
}

bool in_a_defect(const std::vector<Outline>& defects, Vec2 p) {
  return std::ranges::any_of(defects, [&](const Outline& defect) { return defect.contains(p); });
}

/// Nearer to a rim than rounding can resolve.
bool on_a_rim(const std::vector<Outline>& outlines, Vec2 p) {
  return std::ranges::any_of(outlines,
                             [&](const Outline& outline) { return std::abs(outline.depth_mm(p)) < 1e-6; });
}

std::vector<Outline> outlines_of(const std::vector<Defect>& defects) {
  std::vector<Outline> outlines;
  for (const Defect& defect : defects) outlines.emplace_back(defect.outline);
  return outlines;
}

Offcut board() {
  Offcut offcut{"board", "Board", "olive", rectangle({120, 40}), 20};
  offcut.defects = {{DefectKind::knot, {{{57, 20}, 1}, {{63, 20}, 1}}, "loose"},
                    {DefectKind::check, {{{100, 10}}, {{125, 10}}, {{125, 12}}, {{100, 12}}}, ""}};
  offcut.photos = {{"up.jpg",
                    Face::upper,
                    {{{0, 400}, {0, 0}}, {{1200, 400}, {120, 0}}, {{1200, 0}, {120, 40}}, {{0, 0}, {0, 40}}}},
                   {"low.jpg", Face::lower, {}}};
  offcut.kept_at = "box 3";
  offcut.moisture_percent = 8;
  return offcut;
}

Leftover right_half(double from_x) {
  return {{{{from_x, 0}}, {{120, 0}}, {{120, 40}}, {{from_x, 40}}}, 20};
}

}  // namespace

TEST_CASE("after a saw cut there is as much wood as before it, dust included") {
  const test::Seeds seeds = test::seeds_to_try("HAFTWRIGHT_CUTS", {200, 2000, 20000}, 0);
  std::size_t parts = 0;
  for (std::uint64_t seed = seeds.first; seed < seeds.first + seeds.count; ++seed) {
    CAPTURE(seed);
    test::Random random(seed);
    Offcut offcut = test::random_offcut(random);
    const SawCut sawn = saw(random, offcut);
    const EditedBin edited = cut(bin_of(offcut), "board", "", sawn.leftovers);
    INFO(edited.refusal());
    REQUIRE(edited);
    const std::size_t first = offcut.alike > 1 ? 1 : 0;
    REQUIRE(edited->offcuts.size() == first + sawn.leftovers.size());
    if (first == 1) REQUIRE(edited->offcuts[0].alike == offcut.alike - 1);
    double area = sawn.dust_mm2;
    for (std::size_t i = first; i < edited->offcuts.size(); ++i)
      area += Outline(edited->offcuts[i].outline).area_mm2();
    // An arc that the saw leaves only a little of may count as straight, 1e-4 mm off.
    const Outline whole(offcut.outline);
    REQUIRE(area == Approx(whole.area_mm2()).epsilon(1e-9).margin(1e-4 * whole.perimeter_mm()));
    parts += sawn.leftovers.size();
  }
  CHECK(parts > seeds.count);
}

TEST_CASE(
    "in a leftover there are just the defects that were there before, and marks keep their place on the "
    "wood") {
  const test::Seeds seeds = test::seeds_to_try("HAFTWRIGHT_CUTS", {100, 1000, 10000}, 0);
  std::size_t sound = 0, spoilt = 0, marks = 0;
  for (std::uint64_t seed = seeds.first; seed < seeds.first + seeds.count; ++seed) {
    CAPTURE(seed);
    test::Random random(seed);
    Offcut offcut = test::random_offcut(random);
    offcut.alike = 1;
    const SawCut sawn = saw(random, offcut);
    const EditedBin edited = cut(bin_of(offcut), "board", "", sawn.leftovers);
    REQUIRE(edited);
    const std::vector<Outline> before = outlines_of(offcut.defects);
    for (std::size_t i = 0; i < sawn.leftovers.size(); ++i) {
      const Offcut& rest = edited->offcuts[i];
      const Vec2 origin = sawn.origins[i];
      const Outline outline(rest.outline);
      CHECK(outline.bounds().low.x == nearly(0));
      CHECK(outline.bounds().low.y == nearly(0));
      const std::vector<Outline> after = outlines_of(rest.defects);
      for (int k = 0; k < 100; ++k) {
        const Vec2 size = outline.bounds().size();
        const Vec2 p{random.between(0, size.x), random.between(0, size.y)};
        if (!outline.contains(p) || on_a_rim(before, p + origin) || on_a_rim(after, p)) continue;
        const bool was = in_a_defect(before, p + origin);
        REQUIRE(in_a_defect(after, p) == was);
        (was ? spoilt : sound)++;
      }
      REQUIRE(rest.photos.size() == offcut.photos.size());
      for (std::size_t photo = 0; photo < rest.photos.size(); ++photo)
        for (std::size_t m = 0; m < rest.photos[photo].marks.size(); ++m, ++marks) {
          const PhotoMark &now = rest.photos[photo].marks[m], &then = offcut.photos[photo].marks[m];
          REQUIRE(now.at_px == then.at_px);
          REQUIRE(now.at_mm.x + origin.x == nearly(then.at_mm.x));
          REQUIRE(now.at_mm.y + origin.y == nearly(then.at_mm.y));
        }
    }
  }
  CHECK(sound > seeds.count * 20);
  CHECK(spoilt > seeds.count);
  CHECK(marks > seeds.count);
}

TEST_CASE("leftovers of random cuts are good offcuts, but for those that are too narrow") {
  std::size_t good = 0, narrow = 0;
  for (std::uint64_t seed = 0; seed < 400; ++seed) {
    CAPTURE(seed);
    test::Random random(seed);
    const Offcut offcut = test::random_offcut(random);
    const EditedBin edited = cut(bin_of(offcut), "board", "", saw(random, offcut).leftovers);
    REQUIRE(edited);
    const std::vector<Problem> problems = validate(*edited);
    for (const Problem& problem : problems) REQUIRE(problem.what.find("is nowhere as wide as 3 mm") == 0);
    (problems.empty() ? good : narrow)++;
  }
  CHECK(good > 300);
  CAPTURE(narrow);
}

TEST_CASE("a leftover keeps what is true of it and drops the rest") {
  Offcut slice = board();
  slice.matched_set = "block";
  slice.slice = 2;
  slice.note = "smells of tar";
  slice.reserved = {{"knife", "left rear"}};
  const EditedBin edited = cut(bin_of(slice), "board", "knife", {right_half(61)});
  REQUIRE(edited);
  REQUIRE(edited->offcuts.size() == 1);
  const Offcut& rest = edited->offcuts[0];
  CHECK(rest.id == "board_rest");
  CHECK(rest.name == "Board (rest)");
  CHECK(rectangle_size(rest.outline) == FlatSize{59, 40});
  CHECK(rest.matched_set.empty());
  CHECK(rest.slice == 0);
  CHECK(rest.note == "smells of tar\nFrom slice 2 of block.");
  CHECK(rest.reserved.empty());
  CHECK(rest.kept_at == "box 3");
  CHECK(rest.moisture_percent == 8);
  CHECK(rest.grain == slice.grain);
  CHECK(validate(*edited).empty());
  // The knot is cut by the saw at x = 61, 1 mm past its middle; the check stuck out over the end.
  REQUIRE(rest.defects.size() == 2);
  const double segment = 9 * std::acos(1.0 / 3) - std::sqrt(8.0);
  CHECK(Outline(rest.defects[0].outline).area_mm2() == Approx(segment).epsilon(1e-9));
  CHECK(rest.defects[0].note == "loose");
  CHECK(Outline(rest.defects[1].outline).area_mm2() == Approx(20 * 2).epsilon(1e-9));
}

TEST_CASE("an offcut sawn through its thickness keeps one face, and the photos of that face") {
  Offcut offcut = board();
  offcut.show_faces = no_face;
  Leftover upper{rectangle({120, 40}), 9, upper_face}, lower{rectangle({120, 40}), 9, lower_face};
  const EditedBin edited = cut(bin_of(offcut), "board", "", {upper, lower});
  REQUIRE(edited);
  REQUIRE(edited->offcuts.size() == 2);
  CHECK(edited->offcuts[0].thickness_mm == 9);
  REQUIRE(edited->offcuts[0].photos.size() == 1);
  CHECK(edited->offcuts[0].photos[0].file == "up.jpg");
  CHECK(edited->offcuts[0].show_faces == lower_face);  // the sawn one
  REQUIRE(edited->offcuts[1].photos.size() == 1);
  CHECK(edited->offcuts[1].photos[0].file == "low.jpg");
  CHECK(edited->offcuts[1].show_faces == upper_face);
  CHECK(edited->offcuts[1].id == "board_rest_2");
  lower.thickness_mm = 11.5;
  CHECK(cut(bin_of(offcut), "board", "", {upper, lower}).refusal() ==
        "the leftovers are more than the offcut itself; no two may overlap");
  lower.thickness_mm = 20.1;
  CHECK(cut(bin_of(offcut), "board", "", {lower})
            .refusal()
            .find("leftover 1 must be as thick as its offcut or thinner") == 0);
}

TEST_CASE("ids of leftovers are numbered on, and never one that was there before") {
  Bin bin = bin_of(board());
  bin = *cut(bin, "board", "", {right_half(20)});
  CHECK(bin_ids(bin) == std::vector<std::string>{"board_rest"});
  const Leftover some{rectangle({50, 40}), 20}, more{{{{52, 0}}, {{100, 0}}, {{100, 40}}, {{52, 40}}}, 20};
  bin = *cut(bin, "board_rest", "", {some, more});
  CHECK(bin_ids(bin) == std::vector<std::string>{"board_rest_2", "board_rest_3"});
  CHECK(bin.offcuts[0].name == "Board (rest)");
  bin.offcuts[0].id = "a_very_long_name_of_wood";
  bin = *cut(bin, "a_very_long_name_of_wood", "", {{rectangle({20, 40}), 20}});
  CHECK(bin.offcuts.back().id == "a_very_long_name_of_rest");
  CHECK(bin.offcuts.back().id.size() <= 24);
  CHECK(id_problem(bin.offcuts.back().id).empty());
}

TEST_CASE("what can't be left of it is refused, and what others count on") {
  Bin bin = bin_of(board());
  CHECK(cut(bin, "board", "", {{{{{0, 0}}, {{9, 9}}, {{9, 0}}, {{0, 9}}}, 20}})
            .refusal()
            .find("leftover 1 is no outline: at node ") == 0);
  CHECK(cut(bin, "board", "", {right_half(20), {rectangle({120.02, 40}), 20}}).refusal() ==
        "leftover 2 lies partly outside of what it is left of");
  CHECK(cut(bin, "board", "", {{rectangle({120.005, 40}), 20}}));  // rounding of a plan
  CHECK(
      cut(bin, "board", "", {right_half(20), right_half(60)}).refusal().find("the leftovers are more than") ==
      0);
  bin = *reserve(bin, "board", {"other", "left"});
  CHECK(cut(bin, "board", "knife", {}).refusal() ==
        "\"board\" is reserved for \"other\"; release that first");
  CHECK(cut(bin, "board", "other", {})->offcuts.empty());
  bin.offcuts[0].alike = 2;
  const Bin after = *cut(bin, "board", "knife", {});
  CHECK(after.offcuts[0].alike == 1);
  CHECK(after.offcuts[0].reserved == bin.offcuts[0].reserved);
}

TEST_CASE("a rod gets shorter by what is used, and is gone when nothing is left") {
  Bin bin;
  bin.rods = {{"brass", "Brass", PinStock{}, 100}};
  bin.rods[0].reserved = {{"knife", "pins"}, {"other", "pins"}};
  const Bin shorter = *cut_rod(bin, "brass", "knife", 33);
  CHECK(shorter.rods[0].length_mm == 67);
  CHECK(shorter.rods[0].id == "brass");
  CHECK(shorter.rods[0].reserved == std::vector<Reservation>{{"other", "pins"}});
  CHECK(cut_rod(bin, "brass", "knife", 100.1).refusal().find("\"brass\" is 100 mm long") == 0);
  CHECK(cut_rod(bin, "brass", "knife", 0).refusal().find("\"brass\" is 100 mm long") == 0);
  CHECK(cut_rod(bin, "brass", "knife", 98).refusal() ==
        "\"brass\" is reserved for \"other\"; release that first");
  CHECK(cut_rod(shorter, "brass", "other", 65)->rods.empty());
  bin.rods[0].alike = 3;
  const Bin more = *cut_rod(bin, "brass", "knife", 33);
  REQUIRE(more.rods.size() == 2);
  CHECK(more.rods[0].alike == 2);
  CHECK(more.rods[0].length_mm == 100);
  CHECK(more.rods[1].id == "brass_rest");
  CHECK(more.rods[1].length_mm == 67);
  CHECK(more.rods[1].alike == 1);
}

TEST_CASE("of a sheet the largest part keeps the id") {
  Bin bin;
  bin.sheets = {{"red", "Red", "g10", 0.8, rectangle({100, 100})}};
  bin.sheets[0].reserved = {{"knife", "liner"}};
  const std::vector<Node> strip{{{0, 90}}, {{100, 90}}, {{100, 100}}, {{0, 100}}};
  const Bin after = *cut_sheet(bin, "red", "knife", {strip, rectangle({100, 60})});
  REQUIRE(after.sheets.size() == 2);
  CHECK(after.sheets[0].id == "red");
  CHECK(rectangle_size(after.sheets[0].outline) == FlatSize{100, 60});
  CHECK(after.sheets[0].reserved.empty());
  CHECK(after.sheets[1].id == "red_rest");
  CHECK(rectangle_size(after.sheets[1].outline) == FlatSize{100, 10});
  CHECK(cut_sheet(bin, "red", "knife", {})->sheets.empty());
  CHECK(cut_sheet(bin, "red", "else", {}).refusal() ==
        "\"red\" is reserved for \"knife\"; release that first");
  CHECK(cut_sheet(bin, "red", "knife", {rectangle({101, 60})}).refusal() ==
        "leftover 1 lies partly outside of what it is left of");
  bin.sheets[0].alike = 2;
  const Bin more = *cut_sheet(bin, "red", "knife", {strip});
  REQUIRE(more.sheets.size() == 2);
  CHECK(more.sheets[0].outline == rectangle({100, 100}));
  CHECK(more.sheets[0].alike == 1);
  CHECK(more.sheets[1].id == "red_rest");
}
