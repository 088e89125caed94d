// What can't be laid out is refused at the field that is wrong, with words that help.
#include <catch2/catch.hpp>
#include <cstdlib>

#include "bar.hpp"
#include "haftwright/design/validate.hpp"

using namespace haftwright;
using test::bar;

namespace {

/// The one problem a design is refused for. validate() must have let it pass: only the layout can tell.
Problem refusal(const Design& design) {
  for (const Problem& problem : validate(design)) FAIL(problem.field << ": " << problem.what);
  try {
    lay_out(design);
  } catch (const InputError& error) {
    REQUIRE(error.problems().size() == 1);
    return error.problems().front();
  }
  FAIL("was laid out");
  return {};
}

bool says(const Problem& problem, const std::string& words) {
  UNSCOPED_INFO(problem.what);
  return problem.what.find(words) != std::string::npos;
}

/// The last length in a message, "... is 7.90 mm".
double last_length_mm(const Problem& problem) {
  const std::size_t end = problem.what.rfind(" mm");
  const std::size_t start = problem.what.rfind(' ', end - 1);
  return std::strtod(problem.what.substr(start, end - start).c_str(), nullptr);
}

Design three_pieces(const Joint& first, const Joint& second) {
  Design design = bar();
  design.left.pieces.push_back(design.left.pieces[0]);
  design.left.pieces.back().id.clear();
  design.left.joints = {first, second};
  return design;
}

}  // namespace

TEST_CASE("joints that cross inside the handle") {
  // At the belly, on the inner face: 40 + 10 tan 30 over 44 - 10 tan 30.
  Problem problem = refusal(three_pieces({40, -30, 0, {}}, {44, 30, 0, {}}));
  CHECK(problem.field == "sides.left.joints[1].place_mm");
  CHECK(says(problem, "joint 2 meets joint 1 inside the handle"));
  // Only at the surface: 4 mm apart inside, and each leans 3.4 mm toward the other over 8 mm.
  problem = refusal(three_pieces({40, 0, 23, {}}, {44, 0, -23, {}}));
  CHECK(problem.field == "sides.left.joints[1].place_mm");
  // Half the lean clears.
  CHECK_NOTHROW(lay_out(three_pieces({40, 0, 11, {}}, {44, 0, -11, {}})));
  // Strips count: 1.5 mm to each side of two places 2.9 mm apart.
  problem = refusal(three_pieces({40, 0, 0, {{"g10", 3}}}, {42.9, 0, 0, {{"g10", 3}}}));
  CHECK(problem.field == "sides.left.joints[1].place_mm");
  CHECK_NOTHROW(lay_out(three_pieces({40, 0, 0, {{"g10", 3}}}, {43.1, 0, 0, {{"g10", 3}}})));
  Design design = bar();
  design.left.joints[0] = {5, 40, 0, {}};
  problem = refusal(design);
  CHECK(problem.field == "sides.left.joints[0].place_mm");
  CHECK(says(problem, "meets the front face"));
}

TEST_CASE("a piece of which nothing is left") {
  // 20 mm high and 8 mm thick: 3e-6 mm between its joints make 4.8e-4 mm3, 1e-5 mm make 1.6e-3 mm3.
  for (const double rake : {0.0, 20.0}) {
    const Problem problem = refusal(three_pieces({40, 0, rake, {}}, {40 + 3e-6, 0, rake, {}}));
    CHECK(problem.field == "sides.left.joints[0].place_mm");
    CHECK(says(problem, "nothing is left of the left middle piece"));
    CHECK_NOTHROW(lay_out(three_pieces({40, 0, rake, {}}, {40 + 1e-5, 0, rake, {}})));
  }
}

TEST_CASE("joints that miss the handle or run out of its end") {
  Design design = bar();
  design.left.joints[0].place_mm = 150;
  Problem problem = refusal(design);
  CHECK(problem.field == "sides.left.joints[0].place_mm");
  CHECK(says(problem, "does not cross the handle"));
  design.left.joints[0] = {97, 0, 30, {}};  // 97 + 8 tan 30 lies past the butt
  problem = refusal(design);
  CHECK(problem.field == "sides.left.joints[0].place_mm");
  CHECK(says(problem, "before it reaches the finished surface"));
}

TEST_CASE("a right side's joint is named where it stands in the file") {
  Design design = bar();
  design.right.joints = {{{150, 0, 0, {}}}};
  CHECK(refusal(design).field == "sides.right.joints[0].place_mm");
  // Taken from the left, and wrong only on the right because the front face there lies further back.
  design = bar();
  design.right.front = FrontFace{45, 0, 0};
  CHECK(refusal(design).field == "sides.left.joints[0].place_mm");
}

TEST_CASE("front faces that leave no handle, part it or have no steel under them") {
  Design design = bar();
  design.left.front.place_mm = 120;
  Problem problem = refusal(design);
  CHECK(problem.field == "sides.left.front.place_mm");
  CHECK(says(problem, "no handle is left"));
  design.left.front.place_mm = -12;
  problem = refusal(design);
  CHECK(problem.field == "sides.left.front.place_mm");
  CHECK(says(problem, "ahead of the tang's outline"));
  // Two prongs toward the front, both cut.
  design = bar();
  design.tang.outline = {{{-10, -10}, 0}, {{100, -10}, 0}, {{100, 10}, 0}, {{-10, 10}, 0},
                         {{-10, 4}, 0},   {{95, 4}, 0},    {{95, -4}, 0},  {{-10, -4}, 0}};
  design.left.joints.clear();
  design.left.pieces.resize(1);
  design.left.front = {97, 60, 0};
  CHECK_NOTHROW(lay_out(design));
  design.tang.outline = {{{-10, -10}, 0}, {{100, -10}, 0}, {{100, -4}, 0}, {{5, -4}, 0},
                         {{5, 4}, 0},     {{100, 4}, 0},   {{100, 10}, 0}, {{-10, 10}, 0}};
  design.left.front = {10, 0, 0};
  problem = refusal(design);
  CHECK(problem.field == "sides.left.front.place_mm");
  CHECK(says(problem, "into 2 parts"));
}

TEST_CASE("a round-over that eats the wall: where, how much is left, and what would do") {
  Design design = bar();
  design.left.liners = {{"g10", 2}};
  design.left.finish.thickness_mm = {{0, 8}, {100, 7}};
  design.left.finish.round_over_mm = 6;
  const Problem problem = refusal(design);
  CHECK(problem.field == "sides.left.finish.round_over_mm");
  CHECK(says(problem, "x 100.00 mm"));  // thinnest at the butt
  const double greatest = last_length_mm(problem);
  // 5 mm above the liners at the butt and 0.1 to stay: about 4.9, a little more than lies over the wall's top
  // where the surface falls toward the butt.
  CHECK(greatest == Approx(4.9).margin(0.1));
  design.left.finish.round_over_mm = greatest;
  CHECK_NOTHROW(lay_out(design));
  design.left.finish.round_over_mm = greatest + 0.02;
  CHECK(refusal(design).field == "sides.left.finish.round_over_mm");
}

TEST_CASE("a surface that comes down to the liners") {
  Design design = bar();
  design.left.liners = {{"g10", 3}};
  design.left.finish.thickness_mm = {{0, 8}, {60, 3.05}, {100, 8}};
  Problem problem = refusal(design);
  CHECK(problem.field == "sides.left.finish.thickness");
  CHECK(says(problem, "0.05 mm above the liners at x 60.00 mm"));
  design = bar();
  design.left.finish.crown_radius_mm = 12;  // drops 12 - sqrt(44) = 5.4 mm at the walls
  design.left.liners = {{"g10", 2.6}};
  CHECK(refusal(design).field == "sides.left.finish.thickness");
  design.left.liners = {{"g10", 2.4}};
  CHECK_NOTHROW(lay_out(design));
  design.left.finish.crown_radius_mm = 9.9;
  problem = refusal(design);
  CHECK(problem.field == "sides.left.finish.crown_radius_mm");
  CHECK(says(problem, "10.00 mm"));
}

TEST_CASE("a pin that comes out through a leaning front face") {
  Design design = bar();
  design.pins = {test::pin_at({3, 0}, 3, 3.1)};
  CHECK_NOTHROW(lay_out(design));
  design.left.front.rake_deg = 30;  // 8 tan 30 is 4.6 mm back at the surface
  try {
    lay_out(design);
    FAIL("was laid out");
  } catch (const InputError& error) {
    CHECK(error.problems().front().field == "pins[0]");
  }
}

TEST_CASE("a taper that leaves no steel ahead of the front face, or too much") {
  Design design = bar();
  const double front_mm = Outline(design.tang.outline).bounds().low.x;
  const double rear_mm = Outline(design.tang.outline).bounds().high.x;
  REQUIRE(front_mm < 0);
  design.tang.thickness_front_mm = 2;
  // 0.5 mm at the front end: as thin as steel may be.
  const double steepest = 2 + 1.5 / -front_mm * rear_mm;
  design.tang.outline = {
      {{front_mm, -10}, 0}, {{rear_mm / 20, -10}, 0}, {{rear_mm / 20, 10}, 0}, {{front_mm, 10}, 0}};
  design.tang.thickness_butt_mm = 2 + (steepest - 2) / 20 * 1.02;
  design.pins.clear();
  const Problem problem = refusal(design);
  CHECK(problem.field == "tang.thickness_butt_mm");
  CHECK(says(problem, "from 0.5 to 20 mm"));
}
