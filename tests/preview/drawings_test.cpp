// The drawings beside the fold view: drill guide, sketch for readings, tang to start from, what lies over the
// fold view. Each is held against the handle, the guide or the measures that it shows.
#include <algorithm>
#include <catch2/catch.hpp>
#include <cmath>

#include "haftwright/alignment/reading_place.hpp"
#include "haftwright/checks/checks.hpp"
#include "haftwright/design/validate.hpp"
#include "haftwright/drawing/dimension_lines.hpp"
#include "haftwright/drawing/hit.hpp"
#include "haftwright/edits/pins.hpp"
#include "haftwright/geometry/outline_ops.hpp"
#include "haftwright/handle/lay_out.hpp"
#include "haftwright/preview/fold_marks.hpp"
#include "haftwright/preview/fold_spread.hpp"
#include "haftwright/preview/guide_plan.hpp"
#include "haftwright/preview/reading_sketch.hpp"
#include "haftwright/preview/starter_drawing.hpp"
#include "support/designs.hpp"
#include "support/nearly.hpp"
#include "support/random.hpp"
#include "support/random_design.hpp"

using namespace haftwright;

namespace {

constexpr Which kSides[] = {Which::left, Which::right};

/// How much a linear dimension says that it measures.
double measured_mm(const Dimension& dimension) {
  return std::abs(glm::dot(dimension.to - dimension.from, dimension.along));
}

std::vector<Dimension> dimensions_of(const Drawing& drawing, Dimension::Kind kind) {
  std::vector<Dimension> found;
  for (const Item& item : drawing.items)
    if (const auto* dimension = std::get_if<Dimension>(&item.shape); dimension && dimension->kind == kind)
      found.push_back(*dimension);
  return found;
}

double top_of_line(const Dimension& dimension, double mm_per_point) {
  return dimension_lines(dimension, mm_per_point).arrows.at(0)[0].y;
}

}  // namespace

TEST_CASE("every bore, fence, stop and window of a guide is drawn once, where it is, at its own size") {
  std::size_t bores = 0;
  for (std::uint64_t seed = 0; seed <= 60; ++seed) {
    const Design design = seed == 0 ? test::starter() : test::random_design(seed);
    const Handle handle = lay_out(design);
    DrillGuide guide{.plate = handle.tang};
    try {
      guide = lay_out_guide(design, handle);
    } catch (const InputError&) {
      continue;
    }
    const GuidePlan plan = draw_guide_plan(guide, handle);
    INFO("seed " << seed);
    REQUIRE(plan.parts.size() == guide.bores.size() + guide.locators.size() + guide.windows.size());
    std::vector<int> drawn(plan.parts.size(), 0);
    std::vector<std::pair<Vec2, double>> rounds;
    std::vector<std::vector<Node>> openings;
    for (const Item& item : plan.drawing.items) {
      if (!item.tag) continue;
      ++drawn.at(*item.tag);
      const GuidePart& part = plan.parts[*item.tag];
      if (const auto* circle = std::get_if<Circle>(&item.shape)) {
        CHECK(part.diameter_mm == 2 * circle->radius.mm);
        rounds.emplace_back(circle->centre, part.diameter_mm);
        if (part.spot.thing == Thing::bore) {
          const auto same = [&](const GuideBore& bore) {
            return bore.pin == part.spot.index && bore.at == circle->centre &&
                   bore.diameter_mm == part.diameter_mm;
          };
          CHECK(std::ranges::count_if(guide.bores, same) == 1);
          ++bores;
        }
      } else {
        openings.push_back(std::get<Fill>(item.shape).loops.at(0));
      }
      // What is pointed at is found, also where a clamp or a line runs over it.
      if (part.spot.thing == Thing::bore)
        CHECK(item_at(plan.drawing, std::get<Circle>(item.shape).centre, 0, 0.3));
    }
    CHECK(std::ranges::all_of(drawn, [](int count) { return count == 1; }));
    for (const GuideLocator& locator : guide.locators)
      CHECK(std::ranges::count(rounds, std::pair(locator.at, locator.diameter_mm)) == 1);
    for (const SightWindow& window : guide.windows)
      CHECK(std::ranges::count(openings, window.outline.nodes()) == 1);
  }
  CHECK(bores > 50);
}

TEST_CASE("every reading is drawn on its own side, once, from and to where the caliper stands") {
  std::size_t lengths = 0;
  std::size_t steps = 0;
  for (std::uint64_t seed = 1; seed <= 60; ++seed) {
    Design design = test::random_design(seed);
    design.dry_fit.clear();
    const Handle handle = lay_out(design);
    if (common_joints(handle) == 0) continue;
    CaliperReading reading;
    for (const ReadingKind kind : {ReadingKind::length, ReadingKind::step}) {
      reading = {.joint = design.left.joints.front().id, .kind = kind, .reading_mm = 1};
      for (int i = 0; i < 4; ++i) {
        if (std::ranges::find(design.dry_fit, reading) == design.dry_fit.end())
          design.dry_fit.push_back(reading);
        reading = next_reading(design, handle, reading);
        reading.reading_mm = 1;
      }
    }
    test::Random random(seed);
    const std::size_t marked = random.index(design.dry_fit.size());
    INFO("seed " << seed);
    std::vector<int> drawn(design.dry_fit.size(), 0);
    int dots = 0;
    for (const Which side : kSides) {
      const Drawing drawing = draw_reading_sketch(design, handle, side, design.dry_fit[marked]);
      const Bounds& bounds = handle.side(side).finished.bounds();
      std::vector<double> rows;
      for (const Item& item : drawing.items) {
        dots += item.role == Role::measured_place;
        const auto* dimension = std::get_if<Dimension>(&item.shape);
        if (!dimension) continue;
        REQUIRE(item.tag);
        ++drawn.at(*item.tag);
        const CaliperReading& read = design.dry_fit[*item.tag];
        CHECK((item.role == Role::chosen_dimension) == (*item.tag == marked));
        CaliperReading here = read;
        here.side = side;
        const auto place = reading_place(design, handle, here);
        REQUIRE(place);
        CHECK(dimension->from == place->from);
        CHECK(dimension->to == place->to);
        if (read.kind == ReadingKind::step) {
          CHECK(measured_mm(*dimension) == 0);
          ++steps;
          continue;
        }
        CHECK(read.side == side);
        ++lengths;
        // Beyond the edge that it is taken at, in a row of its own.
        const double row = top_of_line(*dimension, 0.35);
        CHECK((read.at == HandleEdge::spine ? row > bounds.high.y : row < bounds.low.y));
        CHECK(std::ranges::none_of(rows, [&](double other) { return std::abs(other - row) < 1; }));
        rows.push_back(row);
      }
    }
    for (std::size_t i = 0; i < drawn.size(); ++i)
      CHECK(drawn[i] == (design.dry_fit[i].kind == ReadingKind::step ? 2 : 1));
    CHECK(dots == (design.dry_fit[marked].kind == ReadingKind::step ? 4 : 2));
  }
  CHECK(lengths > 60);
  CHECK(steps > 60);
}

TEST_CASE("a reading that is still to be taken is drawn over those that are") {
  Design design = test::starter();
  const Handle handle = lay_out(design);
  const CaliperReading next{
      .joint = design.left.joints.front().id, .at = HandleEdge::belly, .side = Which::right};
  const Drawing right = draw_reading_sketch(design, handle, Which::right, next);
  const auto found = dimensions_of(right, Dimension::Kind::linear);
  REQUIRE(found.size() == 1);
  const auto end = handle.right.joints[0].lines[0].belly.inner;
  CHECK(found[0].to == Vec2(end.x, end.y));
  CHECK(std::ranges::none_of(right.items, [](const Item& item) { return item.tag.has_value(); }));
  const Drawing left = draw_reading_sketch(design, handle, Which::left, next);
  CHECK(dimensions_of(left, Dimension::Kind::linear).empty());
  CHECK(std::ranges::none_of(left.items, [](const Item& item) { return item.role == Role::visible_edge; }));
}

TEST_CASE("the measures at a tang to start from are those of its outline") {
  std::size_t drawn = 0;
  const auto check = [&](const auto& tang) {
    const Outline outline(starter_outline(tang));
    const Drawing drawing = draw_starter(tang, LengthUnit::millimetre);
    for (const Dimension& dimension : dimensions_of(drawing, Dimension::Kind::linear)) {
      CHECK(std::stod(dimension.words) == Approx(measured_mm(dimension)).margin(6e-4));
      ++drawn;
    }
    for (const Dimension& radius : dimensions_of(drawing, Dimension::Kind::leader)) {
      const Edge& arc = outline.edges()[outline.nearest(radius.from).edge];
      CHECK(outline.nearest(radius.from).distance_mm < 1e-9);
      CHECK(radius.words.starts_with("R "));
      CHECK(std::stod(radius.words.substr(2)) == Approx(arc.radius).margin(6e-4));
      ++drawn;
    }
    const auto says = [&](double mm) {
      return std::ranges::any_of(dimensions_of(drawing, Dimension::Kind::linear), [&](const Dimension& one) {
        return std::abs(std::stod(one.words) - mm) < 6e-4;
      });
    };
    CHECK(says(outline.bounds().high.x));
    CHECK(says(-outline.bounds().low.x));
    // The outline's own height at the front face.
    const auto at_front = crossings(outline, {0, 0}, {0, 1});
    REQUIRE(at_front.size() == 2);
    CHECK(says(at_front[1].along_mm - at_front[0].along_mm));
  };
  test::Random random(4);
  for (int i = 0; i < 40; ++i) {
    const double length = random.between(90, 130);
    check(StraightTang{length, random.between(20, 30), random.between(22, 32), random.between(2, 8),
                       random.between(3, 12)});
    check(BowedTang{length, random.between(20, 30), random.between(24, 32), random.between(0.5, 3),
                    random.between(0.5, 3), random.between(2, 8), random.between(3, 12)});
  }
  CHECK(drawn == 40 * (4 + 1) + 40 * (6 + 1));
  CHECK_THROWS_AS(draw_starter(StraightTang{.length_mm = -1}, LengthUnit::millimetre), std::invalid_argument);
  // In fractions the unit is written.
  for (const Dimension& one :
       dimensions_of(draw_starter(StraightTang{}, LengthUnit::inch_fraction), Dimension::Kind::linear))
    CHECK(one.words.ends_with("in"));
}

TEST_CASE("a bow's dimension ends on the outline") {
  const BowedTang tang;
  const Outline outline(starter_outline(tang));
  std::size_t bows = 0;
  for (const Dimension& one :
       dimensions_of(draw_starter(tang, LengthUnit::millimetre), Dimension::Kind::linear)) {
    if (measured_mm(one) > 3) continue;
    CHECK(outline.nearest(one.to).distance_mm < 1e-6);
    ++bows;
  }
  CHECK(bows == 2);
}

TEST_CASE("a clear zone is as wide as its finding asks, round each hole in a scale") {
  std::size_t zones = 0;
  for (std::uint64_t seed = 1; seed <= 40; ++seed) {
    const Design design = test::random_design(seed);
    const Handle handle = lay_out(design);
    const FoldMap map(handle, FoldAbout::spine, 4);
    const std::vector<Finding> findings = run_checks(design, handle);
    const Drawing drawing = draw_clear_zones(design, map, findings);
    std::size_t wanted = 0;
    for (const Finding& finding : findings) {
      if (finding.id != "hole.edge") continue;
      const Pin& pin = design.pins[pin_of(finding.where).value()];
      const Which side = finding.where.at.sides == Sides::right ? Which::right : Which::left;
      const auto round = [&](const Item& item) {
        const auto& circle = std::get<Circle>(item.shape);
        return glm::distance(circle.centre, map.on_face(side, pin.at_mm)) < 1e-9 &&
               std::abs(2 * (circle.radius.mm - finding.limit) - pin.scale_hole.actual_mm()) < 1e-9 &&
               (item.role == Role::zone_pass) == (finding.status == Status::pass);
      };
      INFO("seed " << seed);
      CHECK(std::ranges::any_of(drawing.items, round));
      ++wanted;
    }
    CHECK(drawing.items.size() == wanted);
    zones += wanted;
  }
  CHECK(zones > 40);
}

TEST_CASE("a stretch on a face is dimensioned straight, one from side to side by its step along the handle") {
  const Handle handle = lay_out(test::starter());
  const FoldMap map(handle, FoldAbout::spine, 4);
  const Dimension face =
      stretch_dimension(map, {{FoldRegion::right_face, 20, 3}, {FoldRegion::right_face, 23, 7}});
  CHECK(measured_mm(face) == test::nearly(5));
  CHECK(face.from == map.on_face(Which::right, {20, 3}));
  const Dimension over =
      stretch_dimension(map, {{FoldRegion::edge_strip, 40, 9}, {FoldRegion::edge_strip, 40.4, -9}});
  CHECK(measured_mm(over) == test::nearly(0.4));
  CHECK(top_of_line(over, 0.01) == test::nearly(map.on_strip(0, 0).y));
}

TEST_CASE("a held pin shows how far its neighbours are, and where it has settled") {
  Design design = test::starter();
  const double gap = design.pins[1].at_mm.x - design.pins[0].at_mm.x;
  const Handle handle = lay_out(design);
  const FoldDrawing fold = draw_fold(design, handle);
  const auto near =
      dimensions_of(draw_neighbours(design, fold.map, 1, Which::right), Dimension::Kind::linear);
  REQUIRE(near.size() == 2);
  CHECK(measured_mm(near[0]) == test::nearly(gap));
  CHECK(near[0].words == fine_length(gap, LengthUnit::millimetre, 2));
  CHECK(near[0].from == fold.map.on_face(Which::right, design.pins[1].at_mm));
  CHECK(draw_neighbours(design, fold.map, 0, Which::left).items.size() == 1);
  CHECK(draw_neighbours(design, fold.map, 99, Which::left).items.empty());

  // In the middle between its neighbours and level with both: one line across, one along each face.
  const Drawing settled = draw_settled(design, fold.map, fold.bounds, 1);
  CHECK(settled.items.size() >= 3);
  for (const Item& item : settled.items) {
    const auto& nodes = std::get<Stroke>(item.shape).nodes;
    const bool across = nodes[0].at.x == nodes[1].at.x;
    if (across) CHECK(nodes[0].at.x == test::nearly(design.pins[1].at_mm.x));
  }
  design.pins[1].at_mm += Vec2{0.37, 0.21};
  CHECK(draw_settled(design, fold.map, fold.bounds, 1).items.empty());
  CHECK(draw_settled(design, fold.map, fold.bounds, 99).items.empty());
}

TEST_CASE("bands of a line-up are as wide as 95 of 100 handles need, on both sides and over the edge") {
  Design design = test::starter();
  design.right.joints = design.left.joints;
  design.right.joints->front().place_mm += 0.3;
  const Handle handle = lay_out(design);
  const WayReport way = assess_way(design, handle, DrillWay::by_eye, {.samples = 4000});
  REQUIRE(way.problem.empty());
  for (const FoldAbout about : {FoldAbout::spine, FoldAbout::belly}) {
    const FoldMap map(handle, about, 4);
    const FoldSpread spread = draw_spread(way, map);
    std::size_t bands = 0;
    std::size_t limits = 0;
    for (const Item& item : spread.drawing.items) {
      limits += item.role == Role::limit;
      const auto* band = std::get_if<Band>(&item.shape);
      if (!band) continue;
      ++bands;
      for (const auto& rung : {band->from, band->to}) {
        CHECK((rung[0].x <= rung[1].x && rung[1].x <= rung[2].x));
        // Some step measure of this handle has just this width.
        CHECK(std::ranges::any_of(way.samples.measures, [&](const Distribution& one) {
          return std::abs(rung[2].x - rung[0].x - (one.high_95 - one.low_95)) < 1e-9;
        }));
      }
    }
    // Joint lines and front faces, on two faces and two halves of the strip.
    const std::size_t lines = handle.left.joints[0].lines.size() + 1;
    CHECK(bands == 4 * lines);
    CHECK(limits > 0);
    REQUIRE(!spread.ends.empty());
    for (const SpreadEnd& end : spread.ends) {
      CHECK(end.low.x < end.high.x);
      CHECK(map.to_handle(end.low).region == FoldRegion::edge_strip);
      CHECK(end.strip_above == (map.on_strip(0, 0).y > end.low.y));
    }
  }
}
