// The ways of drilling: what cancels, what is left, and the closed forms of how a scale is set.
#include "haftwright/alignment/ways.hpp"

#include "support/nearly.hpp"
#include "way_stacks.hpp"

using namespace haftwright;
using namespace haftwright::test;

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
      const Samples samples = sample(line_up.stack, {.samples = 64, .threads = 1});
      for (std::size_t m = 0; m < line_up.measures.size(); ++m) {
        const double nominal = line_up.stack.measures[m].nominal;
        CHECK(limits_of(line_up.stack, m).worst == Approx(std::abs(nominal)).margin(1e-6));
        CHECK(samples.measures[m].mean == Approx(nominal).margin(1e-5));
        CHECK(samples.measures[m].deviation < 1e-5);
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
        const Sensitivities& sensitivities = line_up.stack.measures[m].sensitivities;
        CHECK(parts_of(line_up.stack, sensitivities, "joint_place_mm").empty());
        if (!line_up.places[line_up.measures[m].place].joint) continue;
        CHECK(parts_of(line_up.stack, sensitivities, "joint_square_deg").empty());
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
        const Sensitivities& sensitivities =
            made.stack
                .measures[step_at(made, joint ? std::optional<std::size_t>(0) : std::nullopt,
                                  HandleEdge::spine, false)]
                .sensitivities;
        CHECK(parts_of(made.stack, sensitivities, key).size() == (way == DrillWay::by_eye ? 2u : 1u));
        CHECK(sensitivities.size() == parts_of(made.stack, sensitivities, key).size());
      }
    }
}

TEST_CASE("other lines keep both blanks' errors against the line that was set") {
  Design design = pinned_bar({20, 80});
  design.left.joints.push_back({70, 0, 0, {}});
  design.left.pieces.push_back(design.left.pieces.back());
  for (const DrillWay way : {DrillWay::by_eye, DrillWay::to_first, DrillWay::taped}) {
    const LineUp made = line_up_of(design, way);
    const auto parts = parts_of(made.stack, step_sensitivities(made, 1), "joint_place_mm");
    REQUIRE(parts.size() == 2);  // the length of the piece between, on each side
    for (const double part : parts)
      CHECK(std::abs(part) == test::nearly(design.drilling.errors.joint_place_mm));
  }
}

TEST_CASE("sight windows take up the place of the only joint, not that of the front face") {
  Design design = pinned_bar({20, 80});
  design.drilling.fronts_together = false;
  const LineUp made = line_up_of(design, DrillWay::guide);
  for (const HandleEdge edge : {HandleEdge::spine, HandleEdge::belly})
    for (const bool surface : {false, true})
      CHECK(parts_of(made.stack, step_sensitivities(made, 0, edge, surface), "joint_place_mm").empty());
  const Sensitivities& front =
      made.stack.measures[step_at(made, std::nullopt, HandleEdge::spine, false)].sensitivities;
  CHECK(parts_of(made.stack, front, "joint_place_mm").size() == 2);
  CHECK(parts_of(made.stack, front, "front_place_mm").size() == 2);
}

TEST_CASE("front faces shaped together are parted by their rake alone, before the clearance at glue-up") {
  for (const Design& design : designs_to_try()) {
    if (!design.mirrored() || !design.drilling.fronts_together) continue;
    each_way(design, [](DrillWay, const LineUp& made) {
      for (const bool surface : {false, true}) {
        const Sensitivities& front =
            made.stack.measures[step_at(made, std::nullopt, HandleEdge::spine, surface)].sensitivities;
        const auto of = [&](std::string_view contributor) {
          return parts_of(made.stack, front, contributor).size();
        };
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
    const Sensitivities& front =
        made.stack.measures[step_at(made, std::nullopt, HandleEdge::spine, false)].sensitivities;
    CHECK(parts_of(made.stack, front, "front_place_mm").empty());
    // The stop touches at mid-height: out of square, and turned on the fences, the spine end still goes.
    CHECK(parts_of(made.stack, front, "joint_square_deg").size() == 2);
    CHECK(parts_of(made.stack, front, "fence_seat_mm").size() == 6);
  });
}

TEST_CASE("seats on two fences turn a blank by their difference over the fences' distance") {
  const Design design = pinned_bar({20, 80});
  const Handle handle = lay_out(design);
  const DrillGuide guide = lay_out_guide(design, handle);
  std::vector<double> fences_x;
  for (const GuideLocator& locator : guide.locators)
    if (locator.role == LocatorRole::edge_fence) fences_x.push_back(locator.contact.x);
  REQUIRE(fences_x.size() == 2);
  const LineUp made = line_up(design, handle, DrillWay::guide, &guide);
  // Windows at spine and belly, 10 mm off the axis both: the blank turns about the joint's middle.
  const double turn_of_one = design.drilling.errors.fence_seat_mm / std::abs(fences_x[1] - fences_x[0]);
  for (const HandleEdge edge : {HandleEdge::spine, HandleEdge::belly}) {
    const auto parts = parts_of(made.stack, step_sensitivities(made, 0, edge), "fence_seat_mm");
    REQUIRE(parts.size() == 4);
    for (const double part : parts) CHECK(std::abs(part) == test::nearly(10 * turn_of_one));
  }
  // Two windows a side, half of each sighting error.
  const auto sights = parts_of(made.stack, step_sensitivities(made, 0), "sight_mm");
  REQUIRE(sights.size() == 4);
  for (const double sight : sights)
    CHECK(std::abs(sight) == test::nearly(design.drilling.errors.sight_mm / 2));
}

TEST_CASE("fences at the belly, and pins where an edge is steep, hold a blank by their own lines of push") {
  const Design design = pinned_bar({20, 80});
  const Handle handle = lay_out(design);
  DrillGuide guide = lay_out_guide(design, handle);
  const double seat = design.drilling.errors.fence_seat_mm;
  for (const HandleEdge edge : {HandleEdge::spine, HandleEdge::belly}) {
    for (const double lean_deg : {0.0, 25.0}) {
      INFO(name_of(edge) << ", " << lean_deg << " deg");
      const double side = edge == HandleEdge::spine ? 1 : -1;
      std::vector<Vec2> at, push;
      for (GuideLocator& locator : guide.locators) {
        if (locator.role != LocatorRole::edge_fence) continue;
        const double lean = (at.empty() ? -lean_deg : lean_deg) * std::numbers::pi / 180;
        locator.edge = edge;
        locator.contact = {locator.contact.x, side * 10};
        push.push_back({std::sin(lean), side * std::cos(lean)});
        at.push_back(locator.contact);
        locator.at = locator.contact + push.back() * (locator.diameter_mm / 2);
      }
      REQUIRE(at.size() == 2);
      // Lined up in the windows at y = 10 and y = -10 the blank can't shift along; up by dy and turned by t,
      // each contact moves along its push by push.y (dy + t x) - push.x t y.
      const auto lever = [&](std::size_t i) { return push[i].y * at[i].x - push[i].x * at[i].y; };
      const double det = push[0].y * lever(1) - push[1].y * lever(0);
      const double by_first = seat * push[1].y / det, by_second = seat * push[0].y / det;
      const LineUp made = line_up(design, handle, DrillWay::guide, &guide);
      for (const HandleEdge end : {HandleEdge::spine, HandleEdge::belly}) {
        std::vector<double> parts = parts_of(made.stack, step_sensitivities(made, 0, end), "fence_seat_mm");
        REQUIRE(parts.size() == 4);
        for (double& part : parts) part = std::abs(part);
        std::ranges::sort(parts);
        std::vector<double> wanted{std::abs(10 * by_first), std::abs(10 * by_first), std::abs(10 * by_second),
                                   std::abs(10 * by_second)};
        std::ranges::sort(wanted);
        for (std::size_t i = 0; i < 4; ++i) CHECK(parts[i] == test::nearly(wanted[i]));
      }
    }
  }
}

TEST_CASE("a longer guide makes nothing worse") {
  for (Design design : samples()) {
    std::vector<double> before;
    for (const double thickness : {6.0, 9.0, 12.0, 18.0}) {
      design.guide.plate_thickness_mm = thickness;
      const LineUp made = line_up_of(design, DrillWay::guide);
      std::vector<double> worst;
      for (std::size_t m = 0; m < made.measures.size(); ++m) worst.push_back(limits_of(made.stack, m).worst);
      for (std::size_t m = 0; m < before.size(); ++m) CHECK(worst[m] <= before[m] + 1e-9);
      before = worst;
    }
  }
}

TEST_CASE("no pin, one pin and sixty-four pins are answered") {
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
      CHECK(report.samples.measures.size() == report.line_up.measures.size());
      CHECK(std::isfinite(report.samples.any_size_95));
      for (const Limits& limits : report.limits) CHECK(std::isfinite(limits.worst));
      // Nothing but the eye turns a scale that no second pin holds.
      if (places.size() < 2)
        CHECK(std::ranges::count(report.line_up.stack.contributors, "match_turn_deg", &Contributor::key) ==
              1);
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

TEST_CASE("a drill that does not pass the tang's hole which is to guide it is said") {
  Design design = pinned_bar({20, 80}, 5.1);
  design.tang.holes = {{"old", {20, 0}, 4.5}};
  design.pins[0].existing_tang_hole = "old";
  design.pins[0].tang_hole = {};
  for (const WayRow& row : way_rows()) {
    INFO(row.key);
    const bool through_tang = row.way == DrillWay::by_eye || row.way == DrillWay::to_first;
    const WayReport report = assess_way(design, lay_out(design), row.way, kFew);
    CHECK(report.problem == way_problem(design, row.way));
    CHECK(report.problem.starts_with(through_tang
                                         ? "the scales' drill of 5.10 mm for the pin 1 does not pass "
                                           "the tang's hole of 4.50 mm"
                                         : ""));
    CHECK(report.problem.empty() == !through_tang);
  }
  // A drilled hole lets pass the drill that made it, though it measures less; a measured one as well as it is
  // known.
  design = pinned_bar({20, 80});
  design.pins[0].tang_hole = design.pins[0].scale_hole = {.drill = "1/8", .diameter_mm = 3.137};
  CHECK(way_problem(design, DrillWay::by_eye).empty());
  design = pinned_bar({20, 80}, 5.1);
  design.pins[0].tang_hole = {.diameter_mm = 5.085};
  CHECK(way_problem(design, DrillWay::to_first).empty());
  design.pins[0].tang_hole = {.diameter_mm = 5.07};
  CHECK_FALSE(way_problem(design, DrillWay::to_first).empty());
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

TEST_CASE("every contributor tells its size and who has it") {
  for (const Design& design : samples())
    each_way(design, [&](DrillWay way, const LineUp& made) {
      REQUIRE(made.contributors.size() == made.stack.contributors.size());
      for (std::size_t s = 0; s < made.contributors.size(); ++s) {
        const std::string& key = made.stack.contributors[s].key;
        INFO(key);
        const ContributorInfo& info = made.contributors[s];
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
          CHECK(info.sharing == (design.drilling.one_block && design.drilling.fronts_together
                                     ? Sharing::both
                                     : Sharing::each_side));
        if (key == "joint_rake_deg" && !design.drilling.one_block) CHECK(info.sharing == Sharing::each_side);
        if (key == "joint_place_mm")
          CHECK(info.sharing == (design.drilling.one_block ? Sharing::both : Sharing::each_side));
      }
      CHECK(!way_row(way).shared.empty());
    });
}

TEST_CASE("a contributor is told with its size and who has it") {
  const ContributorInfo even{0.0254, "mm", DistributionShape::rectangular, Sharing::once};
  CHECK(words_of({0.2, "mm", DistributionShape::normal, Sharing::each_side}, LengthUnit::millimetre) ==
        "within 0.20 mm, each side its own");
  CHECK(words_of(even, LengthUnit::inch_fraction) == "up to 0.0010 in, once, between the sides");
  CHECK(words_of({0.25, "deg", DistributionShape::normal, Sharing::both}, LengthUnit::inch) ==
        "within 0.25 deg, the same for both sides");
}

TEST_CASE("lengths of pieces, strips and glue films ahead of a joint add up") {
  Design design = pinned_bar({20, 80});
  design.drilling.set_by = SetBy::front_face;
  design.drilling.fronts_together = false;
  const auto add_joint = [&](double place, std::vector<Sheet> strips) {
    design.left.joints.push_back({place, 0, 0, std::move(strips)});
    design.left.pieces.push_back(design.left.pieces.back());
  };
  design.left.joints.clear();
  design.left.pieces.resize(1);
  for (int j = 0; j < 4; ++j) add_joint(25.0 + 15 * j, {{"brass_c26000", 0.5}, {"brass_c26000", 0.5}});
  const ShopErrors& errors = design.drilling.errors;
  const LineUp made = line_up_of(design, DrillWay::to_first);
  for (std::size_t joint = 0; joint < 4; ++joint)
    for (std::size_t line = 0; line < 3; ++line) {
      const auto m =
          static_cast<std::size_t>(std::ranges::find_if(made.measures,
                                                        [&](const MeasureInfo& info) {
                                                          const MeetingPlace& place = made.places[info.place];
                                                          return place.joint == joint && place.line == line &&
                                                                 place.edge == HandleEdge::spine &&
                                                                 !place.surface &&
                                                                 info.kind == Measure::Kind::step_mm;
                                                        }) -
                                   made.measures.begin());
      const Sensitivities& sensitivities = made.stack.measures[m].sensitivities;
      const auto of = [&](std::string_view contributor, double size) {
        const auto parts = parts_of(made.stack, sensitivities, contributor);
        for (const double part : parts) CHECK(std::abs(part) == test::nearly(size));
        return parts.size();
      };
      // On each side: a piece ahead of every joint; two strips and three films in each joint passed, and a
      // film and a strip for each line within this one.
      CHECK(of("joint_place_mm", errors.joint_place_mm) == 2 * (joint + 1));
      CHECK(of("strip_thickness_mm", errors.strip_thickness_mm) == 2 * (2 * joint + line));
      CHECK(of("glue_film_mm", errors.glue_film_mm) == 2 * (3 * joint + line));
    }
}

TEST_CASE("the eleventh joint of equal pieces is off by ten lengths against the first") {
  // Each of ten lengths on both sides within 0.2 mm: 0.2 times the root of 20 is 0.894 mm. A slanted line's
  // end slides along the edge, which takes 1.5 % off.
  Design design = read_project(HAFTWRIGHT_PROJECTS "/reed_knife.json");
  design.drilling = {};
  design.drilling.way = DrillWay::to_first;
  const LineUp made = line_up_of(design, DrillWay::to_first);
  const std::size_t m = step_at(made, 10, HandleEdge::spine, false);
  double squares = 0;
  for (const double part : parts_of(made.stack, made.stack.measures[m].sensitivities, "joint_place_mm"))
    squares += part * part;
  const double slides = std::abs(made.places[made.measures[m].place].left.place);
  CHECK(slides > 0.98);
  CHECK(std::sqrt(squares) == test::nearly(slides * 0.2 * std::sqrt(20)));
}

TEST_CASE("set by the front face, a scale keeps that face's error as it was sawn, in its joints") {
  Design design = pinned_bar({20, 80});
  design.drilling.set_by = SetBy::front_face;
  const LineUp made = line_up_of(design, DrillWay::to_first);
  CHECK(parts_of(made.stack, step_sensitivities(made, 0), "front_place_mm").size() == 2);
  design.drilling.set_by = SetBy::joint_line;
  const LineUp by_joint = line_up_of(design, DrillWay::to_first);
  CHECK(parts_of(by_joint.stack, step_sensitivities(by_joint, 0), "front_place_mm").empty());
}
