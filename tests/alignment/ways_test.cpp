// The ways of drilling: what cancels, what is left, and the closed forms of each error.
#include "haftwright/alignment/ways.hpp"

#include <catch2/catch.hpp>
#include <cmath>
#include <filesystem>
#include <map>
#include <numbers>

#include "haftwright/alignment/assess.hpp"
#include "haftwright/design/validate.hpp"
#include "haftwright/files/project_file.hpp"
#include "haftwright/handle/lay_out.hpp"
#include "handle/bar.hpp"
#include "support/random_design.hpp"

using namespace haftwright;

namespace {

constexpr double kFreeLean = 0.5;  // deg, ShopErrors' default
const DrawSettings kFew{.draws = 2000, .threads = 1};

std::vector<Design> samples() {
  std::vector<Design> designs;
  for (const auto& file : std::filesystem::directory_iterator(HAFTWRIGHT_PROJECTS))
    if (file.path().extension() == ".json") designs.push_back(read_project(file.path()));
  return designs;
}

std::vector<Design> designs_to_try() {
  std::vector<Design> designs = samples();
  for (std::uint64_t seed = 0; seed < 60; ++seed) designs.push_back(test::random_design(seed));
  return designs;
}

/// The bar with pins of 3 mm in 3.1 mm holes, measured, along its middle.
Design pinned_bar(const std::vector<double>& places_x, double hole_mm = 3.1) {
  Design design = test::bar();
  for (const double x : places_x) {
    design.pins.push_back(test::pin_at({x, 0}, 3, hole_mm));
    design.pins.back().name = "pin " + std::to_string(design.pins.size());
  }
  return design;
}

ShopErrors no_errors() {
  ShopErrors errors;
  for (const ErrorRow& row : error_rows()) errors.*row.member = 0;
  return errors;
}

std::optional<DrillGuide> guide_of(const Design& design, const Handle& handle) {
  try {
    return lay_out_guide(design, handle);
  } catch (const InputError&) {
    return std::nullopt;
  }
}

/// Calls check(way, line up) for every way that this design can go.
template <class Check>
void each_way(const Design& design, Check check) {
  const Handle handle = lay_out(design);
  const auto guide = guide_of(design, handle);
  for (const WayRow& row : way_rows()) {
    if (!guide && (row.way == DrillWay::guide || row.way == DrillWay::guide_pinned)) continue;
    INFO(design.name << ", " << row.key);
    check(row.way, line_up(design, handle, row.way, guide ? &*guide : nullptr));
  }
}

LineUp line_up_of(const Design& design, DrillWay way) {
  const Handle handle = lay_out(design);
  const DrillGuide guide = lay_out_guide(design, handle);
  return line_up(design, handle, way, &guide);
}

/// What each variable of a source adds to some terms, by variable and summed.
std::vector<double> parts_of(const Chain& chain, const Terms& terms, std::string_view source) {
  std::map<std::size_t, double> sums;
  for (const Term& term : terms)
    if (chain.sources[chain.variables[term.variable].source].key == source)
      sums[term.variable] += term.mm_at_limit;
  std::vector<double> parts;
  for (const auto& [variable, sum] : sums)
    if (std::abs(sum) > 1e-12) parts.push_back(sum);
  return parts;
}

/// Index of the step at a joint line (or none: the front face).
std::size_t step_at(const LineUp& line_up, std::optional<std::size_t> joint, HandleEdge edge, bool surface) {
  for (std::size_t m = 0; m < line_up.measures.size(); ++m) {
    const MeetingPlace& place = line_up.places[line_up.measures[m].place];
    if (line_up.measures[m].kind == Measure::Kind::step_mm && place.joint == joint && place.edge == edge &&
        place.surface == surface)
      return m;
  }
  FAIL("no such measure");
  return 0;
}

const Terms& step_terms(const LineUp& line_up, std::size_t joint, HandleEdge edge = HandleEdge::spine,
                        bool surface = false) {
  return line_up.chain.measures[step_at(line_up, joint, edge, surface)].terms;
}

}  // namespace

TEST_CASE("without errors and without room every measure is its nominal, whatever the way") {
  std::size_t ways = 0;
  for (Design design : designs_to_try()) {
    design.drilling.errors = no_errors();
    design.guide.guide_clearance_mm = 0;
    design.guide.bushing_outside_mm = std::nullopt;
    for (Pin& pin : design.pins) {
      pin.scale_hole = pin.liner_hole = pin.tang_hole = {.diameter_mm = pin.stock.diameter_mm()};
      pin.existing_tang_hole.clear();
    }
    each_way(design, [&](DrillWay, const LineUp& line_up) {
      ++ways;
      const Draws draws = draw(line_up.chain, {.draws = 64, .threads = 1});
      for (std::size_t m = 0; m < line_up.measures.size(); ++m) {
        const double nominal = line_up.chain.measures[m].nominal;
        CHECK(limits_of(line_up.chain, m).worst == Approx(std::abs(nominal)).margin(1e-6));
        CHECK(draws.measures[m].mean == Approx(nominal).margin(1e-5));
        CHECK(draws.measures[m].deviation < 1e-5);
      }
    });
  }
  CHECK(ways > 200);
}

TEST_CASE("halves of one block part their joints nowhere by the joint's place and slant") {
  std::size_t measures = 0;
  for (Design design : designs_to_try()) {
    design.right = {};
    design.drilling.one_block = true;
    each_way(design, [&](DrillWay, const LineUp& line_up) {
      for (std::size_t m = 0; m < line_up.measures.size(); ++m) {
        const Terms& terms = line_up.chain.measures[m].terms;
        CHECK(parts_of(line_up.chain, terms, "joint_place_mm").empty());
        if (!line_up.places[line_up.measures[m].place].joint) continue;
        CHECK(parts_of(line_up.chain, terms, "joint_square_deg").empty());
        ++measures;
      }
    });
  }
  CHECK(measures > 1000);
}

TEST_CASE("what the eye lines up is off by that setting alone") {
  for (const SetBy set_by : {SetBy::joint_line, SetBy::front_face})
    for (Design design : designs_to_try()) {
      design.drilling.set_by = set_by;
      design.drilling.fronts_together = false;
      const Handle handle = lay_out(design);
      for (const auto& [way, key] :
           {std::pair(DrillWay::by_eye, "set_along_mm"), std::pair(DrillWay::to_first, "match_along_mm"),
            std::pair(DrillWay::taped, "tape_along_mm")}) {
        INFO(design.name << ", " << key);
        const LineUp made = line_up(design, handle, way, nullptr);
        const bool joint =
            set_by == SetBy::joint_line && !design.left.joints.empty() && !design.right_side().joints.empty();
        const Terms& terms = made.chain
                                 .measures[step_at(made, joint ? std::optional<std::size_t>(0) : std::nullopt,
                                                   HandleEdge::spine, false)]
                                 .terms;
        CHECK(parts_of(made.chain, terms, key).size() == (way == DrillWay::by_eye ? 2u : 1u));
        CHECK(terms.size() == parts_of(made.chain, terms, key).size());
      }
    }
}

TEST_CASE("other lines keep both blanks' errors against the line that was set") {
  Design design = pinned_bar({20, 80});
  design.left.joints.push_back({70, 0, 0, {}});
  design.left.pieces.push_back(design.left.pieces.back());
  for (const DrillWay way : {DrillWay::by_eye, DrillWay::to_first, DrillWay::taped}) {
    const LineUp made = line_up_of(design, way);
    const auto parts = parts_of(made.chain, step_terms(made, 1), "joint_place_mm");
    REQUIRE(parts.size() == 4);
    for (const double part : parts) CHECK(std::abs(part) == Approx(design.drilling.errors.joint_place_mm));
  }
}

TEST_CASE("sight windows take up the place of the only joint, not that of the front face") {
  Design design = pinned_bar({20, 80});
  design.drilling.fronts_together = false;
  const LineUp made = line_up_of(design, DrillWay::guide);
  for (const HandleEdge edge : {HandleEdge::spine, HandleEdge::belly})
    for (const bool surface : {false, true})
      CHECK(parts_of(made.chain, step_terms(made, 0, edge, surface), "joint_place_mm").empty());
  const Terms& front = made.chain.measures[step_at(made, std::nullopt, HandleEdge::spine, false)].terms;
  CHECK(parts_of(made.chain, front, "joint_place_mm").size() == 2);
  CHECK(parts_of(made.chain, front, "front_place_mm").size() == 2);
}

TEST_CASE("front faces shaped together are parted by their rake alone, before the play at glue-up") {
  for (const Design& design : designs_to_try()) {
    if (!design.mirrored() || !design.drilling.fronts_together) continue;
    each_way(design, [](DrillWay, const LineUp& made) {
      for (const bool surface : {false, true}) {
        const Terms& front =
            made.chain.measures[step_at(made, std::nullopt, HandleEdge::spine, surface)].terms;
        const auto of = [&](std::string_view source) { return parts_of(made.chain, front, source).size(); };
        CHECK(front.size() == of("joint_rake_deg") + of("thickness_mm"));
        CHECK(of("joint_rake_deg") == (surface ? 1u : 0u));
      }
    });
  }
}

TEST_CASE("without a joint a blank sits against its front stop") {
  Design design = pinned_bar({20, 80});
  design.drilling.fronts_together = false;
  design.left.joints.clear();
  design.left.pieces.resize(1);
  each_way(design, [&](DrillWay way, const LineUp& made) {
    CHECK(made.measures.size() == 6);  // the front face at spine and belly, low and high, and its direction
    if (way != DrillWay::guide) return;
    const Terms& front = made.chain.measures[step_at(made, std::nullopt, HandleEdge::spine, false)].terms;
    CHECK(parts_of(made.chain, front, "front_place_mm").empty());
    // The stop touches at mid-height: out of square, and turned on the fences, the spine end still goes.
    CHECK(parts_of(made.chain, front, "joint_square_deg").size() == 2);
    CHECK(parts_of(made.chain, front, "fence_seat_mm").size() == 6);
  });
}

TEST_CASE("seats on two fences turn a blank by their difference over the fences' distance") {
  const Design design = pinned_bar({20, 80});
  const Handle handle = lay_out(design);
  const DrillGuide guide = lay_out_guide(design, handle);
  std::vector<double> fences_x;
  for (const GuideLocator& locator : guide.locators)
    if (locator.role == LocatorRole::spine_fence) fences_x.push_back(locator.contact.x);
  REQUIRE(fences_x.size() == 2);
  const LineUp made = line_up(design, handle, DrillWay::guide, &guide);
  // Windows at spine and belly, 10 mm off the axis both: the blank turns about the joint's middle.
  const double turn_of_one = design.drilling.errors.fence_seat_mm / std::abs(fences_x[1] - fences_x[0]);
  for (const HandleEdge edge : {HandleEdge::spine, HandleEdge::belly}) {
    const auto parts = parts_of(made.chain, step_terms(made, 0, edge), "fence_seat_mm");
    REQUIRE(parts.size() == 4);
    for (const double part : parts) CHECK(std::abs(part) == Approx(10 * turn_of_one));
  }
  // Two windows a side, half of each sighting error.
  const auto sights = parts_of(made.chain, step_terms(made, 0), "sight_mm");
  REQUIRE(sights.size() == 4);
  for (const double sight : sights) CHECK(std::abs(sight) == Approx(design.drilling.errors.sight_mm / 2));
}

TEST_CASE("a guided drill leans and is off by its room, as jig and fixture work reckons it") {
  // Clearance c in a guide Lg long at a gap g: off by c/2 + c (g + z)/Lg at depth z, leaning by c/Lg. Worked
  // figures for g = 3: entry (z = 0), exit (z = 6) and lean in degrees; derived by hand, to the digits given.
  struct Row {
    double clearance, length, entry, exit, lean_deg;
  };
  for (const Row& row : {Row{0.05, 12, 0.0375, 0.0625, 0.239}, Row{0.05, 6, 0.05, 0.1, 0.477},
                         Row{0.1, 12, 0.075, 0.125, 0.477}}) {
    Design design = pinned_bar({20, 80});
    design.guide.guide_clearance_mm = row.clearance;
    design.guide.plate_thickness_mm = row.length;
    const LineUp made = line_up_of(design, DrillWay::guide);
    const ChainPin& pin = made.chain.plays.front().pins.front();
    const auto rooms = parts_of(made.chain, pin.offset_x, "drill_room");
    const auto leans = parts_of(made.chain, pin.offset_x, "drill_lean_deg");
    REQUIRE(rooms.size() == 2);  // left and right each their own
    REQUIRE(leans.size() == 2);
    const double room = std::abs(rooms.front());
    const double lean = std::abs(leans.front()) / 4;  // the middle of an 8 mm scale
    CHECK(room + lean * 3 == Approx(row.entry));
    CHECK(room + lean * 9 == Approx(row.exit));
    CHECK(std::atan(lean) * 180 / std::numbers::pi == Approx(row.lean_deg).margin(5e-4));
    CHECK(pin.leans.size() == 2);
  }
}

TEST_CASE("a bushing's published room takes the place of the plain bore's") {
  Design design = pinned_bar({20, 80});
  design.guide.bushing_outside_mm = 6;
  const LineUp made = line_up_of(design, DrillWay::guide);
  // ANSI B94.33, bore up to 1/4 in: +.0001 to +.0004 in over the drill.
  for (const double room : parts_of(made.chain, made.chain.plays.front().pins.front().offset_x, "drill_room"))
    CHECK(std::abs(room) == Approx(0.0004 * 25.4 / 2));
}

TEST_CASE("scales drilled as one are parted by what the hole leans over the tang between them") {
  const LineUp made = line_up_of(pinned_bar({20, 80}), DrillWay::taped);
  const ChainPin& pin = made.chain.plays.front().pins.front();
  const auto leans = parts_of(made.chain, pin.offset_x, "drill_lean_deg");
  REQUIRE(leans.size() == 1);
  CHECK(std::abs(leans.front()) == Approx(4 * std::tan(kFreeLean * std::numbers::pi / 180)));
  CHECK(pin.offset_x.size() == 2);  // the same variable from both sides
  CHECK(pin.leans.empty());
}

TEST_CASE("the second scale's holes follow the first's but for the drill's own room") {
  const Design design = pinned_bar({20, 80});
  const LineUp made = line_up_of(design, DrillWay::to_first);
  const ChainPin& pin = made.chain.plays.front().pins.front();
  const double room_mm = design.drilling.errors.drill_play_mm;
  const auto rooms = parts_of(made.chain, pin.offset_x, "drill_room");
  const auto leans = parts_of(made.chain, pin.offset_x, "drill_lean_deg");
  REQUIRE(rooms.size() == 1);
  REQUIRE(leans.size() == 1);
  CHECK(std::abs(rooms.front()) == Approx(room_mm / 2));
  CHECK(std::abs(leans.front()) == Approx(room_mm / (8 + 4) * 8 / 2));  // held over scale and tang
}

TEST_CASE("a tang hole larger than the drill lets the drill go where it likes") {
  Design design = pinned_bar({20, 80});
  design.tang.holes = {{"old", {20, 0}, 4.1}};
  design.pins[0].existing_tang_hole = "old";
  design.pins[0].tang_hole = {};
  const LineUp made = line_up_of(design, DrillWay::by_eye);
  const auto room = [&](std::size_t pin) {
    const auto parts = parts_of(made.chain, made.chain.plays.front().pins[pin].offset_x, "drill_room");
    return std::abs(parts.at(0));
  };
  CHECK(room(0) == Approx((4.1 - 3.1 + design.drilling.errors.drill_play_mm) / 2));
  CHECK(room(1) == Approx(design.drilling.errors.drill_play_mm / 2));
  // A lean of 1 mm in 4 is more than that of a drill that nothing guides.
  const auto leans = parts_of(made.chain, made.chain.plays.front().pins[0].offset_x, "drill_lean_deg");
  CHECK(std::abs(leans.at(0)) == Approx(4 * std::tan(kFreeLean * std::numbers::pi / 180)));
}

TEST_CASE("a longer guide makes nothing worse") {
  for (Design design : samples()) {
    std::vector<double> before;
    for (const double thickness : {6.0, 9.0, 12.0, 18.0}) {
      design.guide.plate_thickness_mm = thickness;
      const LineUp made = line_up_of(design, DrillWay::guide);
      std::vector<double> worst;
      for (std::size_t m = 0; m < made.measures.size(); ++m) worst.push_back(limits_of(made.chain, m).worst);
      for (std::size_t m = 0; m < before.size(); ++m) CHECK(worst[m] <= before[m] + 1e-9);
      before = worst;
    }
  }
}

TEST_CASE("one more pin never gives a scale more play") {
  std::size_t compared = 0;
  for (Design design : designs_to_try()) {
    design.drilling.errors = no_errors();
    while (design.pins.size() > 2) {
      Design fewer = design;
      fewer.pins.pop_back();
      const LineUp many = line_up(design, lay_out(design), DrillWay::to_first, nullptr);
      const LineUp few = line_up(fewer, lay_out(fewer), DrillWay::to_first, nullptr);
      for (std::size_t m = 0; m < many.measures.size(); ++m, ++compared)
        CHECK(limits_of(many.chain, m).play <= limits_of(few.chain, m).play + 1e-9);
      design = fewer;
    }
  }
  CHECK(compared > 1000);
}

TEST_CASE("two pins' play at a joint's end is that of the closed form, less the wider they stand") {
  double before = HUGE_VAL;
  for (const double spread : {20.0, 40.0, 60.0, 80.0}) {
    Design design = pinned_bar({50 - spread / 2, 50 + spread / 2});
    design.left.joints.front().place_mm = 50;
    design.drilling.errors = no_errors();
    const LineUp made = line_up(design, lay_out(design), DrillWay::to_first, nullptr);
    const double play = limits_of(made.chain, step_at(made, 0, HandleEdge::spine, false)).play;
    // Both holes' room together, 0.1 mm. Each pin may leave its middle by that: along x all of it goes into
    // the shift; across, turning, the spine goes along by 10 mm times the turn.
    CHECK(play == Approx(0.1 * std::hypot(1, 20 / spread)));
    CHECK(play < before);
    before = play;
  }
}

TEST_CASE("a drilled hole that was not measured lies in its published range") {
  Design design = pinned_bar({20, 80});
  for (Pin& pin : design.pins) pin.scale_hole = pin.liner_hole = pin.tang_hole = {.drill = "3.1 mm"};
  const LineUp made = line_up_of(design, DrillWay::to_first);
  const ChainPin& pin = made.chain.plays.front().pins.front();
  // AND10387: .0135 to .1250 in, +.004 -.001 in; both sides' radii together.
  CHECK(pin.radius_mm == Approx(3.1 + (0.004 - 0.001) / 2 * 25.4 - 3));
  for (const double part : parts_of(made.chain, pin.radius, "hole_allowance"))
    CHECK(part == Approx((0.004 + 0.001) / 2 * 25.4 / 2));
  CHECK(parts_of(made.chain, pin.radius, "hole_allowance").size() == 2);
  CHECK(parts_of(made.chain, pin.radius, "hole_size_mm").empty());
}

TEST_CASE("pins that are thicker than their holes do not go in, and the figures stay finite") {
  const Design design = read_project(HAFTWRIGHT_PROJECTS "/marking_knife.json");
  each_way(design, [](DrillWay, const LineUp& made) {
    const Draws draws = draw(made.chain, kFew);
    CHECK(draws.no_fit.share > 0.9);
    for (const Distribution& measure : draws.measures) {
      CHECK(std::isfinite(measure.mean));
      CHECK(std::isfinite(measure.size_95));
    }
    CHECK(std::isfinite(draws.any_size_95));
  });
}

TEST_CASE("pins fixed midway between both scales' holes leave each scale half the room, as far in all") {
  for (const Design& design : samples()) {
    const LineUp apart = line_up_of(design, DrillWay::guide);
    const LineUp fixed = line_up_of(design, DrillWay::guide_pinned);
    REQUIRE(fixed.chain.plays.size() == 3);  // left and right on the pins, and the tang in between
    for (std::size_t i = 0; i < design.pins.size(); ++i) {
      const ChainPin& left = fixed.chain.plays[0].pins[i];
      const ChainPin& right = fixed.chain.plays[1].pins[i];
      const ChainPin& both = apart.chain.plays[0].pins[i];
      CHECK(left.radius_mm + right.radius_mm == Approx(both.radius_mm));
      // Where the holes are off against each other, each scale is by half of it, one the other way.
      for (const char* source : {"drill_room", "drill_lean_deg"}) {
        const auto of_left = parts_of(fixed.chain, left.offset_x, source);
        const auto of_right = parts_of(fixed.chain, right.offset_x, source);
        const auto of_both = parts_of(apart.chain, both.offset_x, source);
        REQUIRE(of_left.size() == of_both.size());
        REQUIRE(of_right.size() == of_both.size());
        for (std::size_t v = 0; v < of_both.size(); ++v) {
          CHECK(of_left[v] == Approx(-of_right[v]));
          CHECK(of_left[v] == Approx(of_both[v] / 2));
        }
      }
    }
  }
  Design design = pinned_bar({20, 80});
  design.drilling.errors = no_errors();
  design.guide.guide_clearance_mm = 0;
  const LineUp apart = line_up_of(design, DrillWay::guide);
  const LineUp fixed = line_up_of(design, DrillWay::guide_pinned);
  const Draws free_draws = draw(apart.chain, kFew);
  const Draws fixed_draws = draw(fixed.chain, kFew);
  for (std::size_t m = 0; m < apart.measures.size(); ++m) {
    if (apart.chain.measures[m].kind != Measure::Kind::step_mm) continue;
    CHECK(limits_of(fixed.chain, m).play == Approx(limits_of(apart.chain, m).play));
    // Two halves drawn each on its own, not one whole: variances add up to half.
    CHECK(fixed_draws.measures[m].deviation ==
          Approx(free_draws.measures[m].deviation / std::sqrt(2)).epsilon(0.1));
  }
}

TEST_CASE("a tang hole that its pin does not go through is told whatever the scales' holes are") {
  Design design = pinned_bar({20, 80});
  design.pins[1].tang_hole.diameter_mm = 2.7;
  for (const DrillWay way : {DrillWay::taped, DrillWay::guide, DrillWay::guide_pinned}) {
    CHECK(draw(line_up_of(design, way).chain, kFew).no_fit.share > 0.99);
    CHECK(draw(line_up_of(pinned_bar({20, 80}), way).chain, kFew).no_fit.share < 0.5);
  }
}

TEST_CASE("no pin, one pin and sixty-four pins are reckoned") {
  std::vector<double> many;
  for (int i = 0; i < 64; ++i) many.push_back(2 + 1.5 * i);
  for (const auto& places : {std::vector<double>{}, std::vector<double>{50}, many}) {
    const Design design = pinned_bar(places);
    for (const WayRow& row : way_rows()) {
      INFO(places.size() << " pins, " << row.key);
      const WayReport report = assess_way(design, lay_out(design), row.way, kFew);
      if (!report.problem.empty()) {
        CHECK(report.line_up.measures.empty());
        continue;
      }
      CHECK(report.draws.measures.size() == report.line_up.measures.size());
      CHECK(std::isfinite(report.draws.any_size_95));
      for (const Limits& limits : report.limits) CHECK(std::isfinite(limits.worst));
      // Nothing but the eye turns a scale that no second pin holds.
      if (places.size() < 2)
        CHECK(std::ranges::count(report.line_up.chain.sources, "match_turn_deg", &Source::key) == 1);
    }
  }
}

TEST_CASE("a way that can't be gone says so in plain words") {
  const Design design = test::bar();
  const WayReport report = assess_way(design, lay_out(design), DrillWay::guide, kFew);
  CHECK(report.problem ==
        "no drill guide can be made: there is no pin, so there is no hole to guide a drill to");
  CHECK_THROWS_AS(line_up(design, lay_out(design), DrillWay::guide, nullptr), std::invalid_argument);
}

TEST_CASE("only joints that both sides have are held against each other") {
  Design design = pinned_bar({20, 80});
  design.right.joints = {{40, 0, 0, {}}, {70, 0, 0, {}}};
  design.right.pieces = {design.left.pieces[0], design.left.pieces[1], design.left.pieces[1]};
  each_way(design, [](DrillWay, const LineUp& made) {
    for (const MeetingPlace& place : made.places) CHECK(place.joint.value_or(0) == 0);
    CHECK(made.places.size() == 8);
  });
}

TEST_CASE("every source tells its size and who has it") {
  for (const Design& design : samples())
    each_way(design, [&](DrillWay way, const LineUp& made) {
      REQUIRE(made.sources.size() == made.chain.sources.size());
      for (std::size_t s = 0; s < made.sources.size(); ++s) {
        const std::string& key = made.chain.sources[s].key;
        INFO(key);
        const SourceInfo& info = made.sources[s];
        const auto row = std::ranges::find(error_rows(), key, &ErrorRow::key);
        // A guided drill leans less.
        if (key == "drill_lean_deg")
          CHECK(info.size <= kFreeLean + 1e-12);
        else if (row != error_rows().end())
          CHECK(info.size == design.drilling.errors.*row->member);
        CHECK(!words_of(info.sharing).empty());
        if (key == "set_along_mm") CHECK(info.sharing == Sharing::each_side);
        if (key == "match_along_mm" || key == "tape_along_mm") CHECK(info.sharing == Sharing::once);
        if (key == "pin_size_mm") CHECK(info.sharing == Sharing::both);
        if (key == "front_place_mm")
          CHECK(info.sharing == (design.drilling.fronts_together ? Sharing::both : Sharing::each_side));
        // Front faces, shaped together, share theirs; joints do not.
        if (key == "joint_rake_deg" && !design.drilling.one_block) CHECK(info.sharing == Sharing::each_side);
        if (key == "joint_place_mm")
          CHECK(info.sharing == (design.drilling.one_block ? Sharing::both : Sharing::each_side));
      }
      CHECK(!way_row(way).shared.empty());
    });
}

TEST_CASE("a source is told with its size and who has it") {
  const SourceInfo even{0.0254, "mm", Spread::rectangular, Sharing::once};
  CHECK(words_of({0.2, "mm", Spread::normal, Sharing::each_side}, LengthUnit::millimetre) ==
        "within 0.20 mm, each side its own");
  CHECK(words_of(even, LengthUnit::inch_fraction) == "up to 0.0010 in, once, between the sides");
  CHECK(words_of({0.25, "deg", Spread::normal, Sharing::both}, LengthUnit::inch) ==
        "within 0.25 deg, the same for both sides");
}
