// The guide's plan: what makes both sides agree, measured on the plan itself.
#include <algorithm>
#include <catch2/catch.hpp>
#include <cmath>
#include <cstdlib>

#include "haftwright/design/starters.hpp"
#include "haftwright/design/validate.hpp"
#include "haftwright/geometry/outline_ops.hpp"
#include "haftwright/guide/drill_guide.hpp"
#include "haftwright/handle/lay_out.hpp"
#include "support/nearly.hpp"
#include "support/random_design.hpp"

using namespace haftwright;

namespace {

Design plain() {
  return starter_design(starter_outline(StraightTang{}), 4, LengthUnit::millimetre);
}

/// The same with scales of one piece, which have no joint line to sight.
Design jointless() {
  Design design = plain();
  design.left.joints.clear();
  design.left.pieces.resize(1);
  return design;
}

DrillGuide guide_of(const Design& design) {
  return lay_out_guide(design, lay_out(design));
}

const GuideLocator* find(const DrillGuide& guide, LocatorRole role, std::size_t nth = 0) {
  for (const GuideLocator& locator : guide.locators)
    if (locator.role == role && nth-- == 0) return &locator;
  return nullptr;
}

const Finding* find(const DrillGuide& guide, const std::string& id) {
  for (const Finding& finding : guide.findings)
    if (finding.id == id) return &finding;
  return nullptr;
}

std::size_t count(const DrillGuide& guide, const std::string& id) {
  return static_cast<std::size_t>(std::count_if(guide.findings.begin(), guide.findings.end(),
                                                [&](const Finding& finding) { return finding.id == id; }));
}

/// Every spine locator touches the spine at its one contact and nowhere cuts into the tang.
void check_contacts(const DrillGuide& guide, const Handle& handle, double allowance) {
  for (const GuideLocator& locator : guide.locators) {
    const double radius = locator.diameter_mm / 2;
    CHECK(glm::distance(locator.at, locator.contact) == Approx(radius).margin(1e-9));
    if (locator.role == LocatorRole::edge_fence)
      CHECK(handle.tang.depth_mm(locator.at) == Approx(-(radius + allowance)).margin(2e-6));
    if (locator.role == LocatorRole::tang_stop || locator.role == LocatorRole::butt_stop)
      CHECK(handle.tang.depth_mm(locator.at) == Approx(-radius).margin(2e-6));
  }
}

/// A window's sighting edge lies on the joint line it is for: both of its ends do, and it crosses the
/// outline.
void check_windows(const DrillGuide& guide, const Handle& handle) {
  for (const SightWindow& window : guide.windows) {
    REQUIRE((window.for_left || window.for_right));
    const SideLayout& side = window.for_left ? handle.left : handle.right;
    const CutPlane& plane = side.joints.at(window.joint).lines.front().plane;
    CHECK(plane.behind_mm(window.joint_from.x, window.joint_from.y, 0) == Approx(0).margin(1e-9));
    CHECK(plane.behind_mm(window.joint_to.x, window.joint_to.y, 0) == Approx(0).margin(1e-9));
    CHECK(side.finished.depth_mm(window.joint_to) < 0);
    CHECK(window.outline.nearest((window.joint_from + window.joint_to) * 0.5).distance_mm < 1e-9);
  }
}

}  // namespace

TEST_CASE("a plain handle gets a guide without a failing finding") {
  const Design design = plain();
  const Handle handle = lay_out(design);
  const DrillGuide guide = lay_out_guide(design, handle);
  for (const Finding& finding : guide.findings) {
    INFO(finding.id << " " << where_words(design, finding.where) << " " << finding.value << " "
                    << finding.limit);
    CHECK(finding.status != Status::fail);
  }
  REQUIRE(guide.bores.size() == design.pins.size());
  for (std::size_t i = 0; i < guide.bores.size(); ++i) CHECK(guide.bores[i].at == design.pins[i].at_mm);
  CHECK(guide.windows.size() == 2);  // one joint, both sides alike: spine and belly
  CHECK(guide.marks.size() == 8);    // letter, arrow and two clamp lands on each face
  check_contacts(guide, handle, 0);
  check_windows(guide, handle);
  CHECK(contains(guide.plate, handle.left.finished));
}

TEST_CASE("the plan's findings agree with a hand calculation") {
  Design design = plain();
  design.guide.plate_thickness_mm = 4.6;
  const DrillGuide guide = guide_of(design);
  // 3.1 mm drill: 1.5 x 3.1 = 4.65 mm wanted.
  const Finding* length = find(guide, "guide.length");
  REQUIRE(length);
  CHECK(length->limit == test::nearly(4.65));
  CHECK(length->status == Status::fail);
  // A plain bore is the drill and the guide clearance.
  CHECK(guide.bores[0].diameter_mm == test::nearly(3.15));
  design.guide.bushing_outside_mm = 8;
  const DrillGuide bushed = guide_of(design);
  CHECK(bushed.bores[0].diameter_mm == test::nearly(8.05));
  CHECK(bushed.bores[0].for_bushing);
  CHECK(bushed.bores[0].drill_mm == test::nearly(3.1));
}

TEST_CASE("a measured drill guides by its listed body, not by the hole it cuts") {
  Design design = plain();
  for (Pin& pin : design.pins) pin.scale_hole = {"1/8", 3.137};
  CHECK(guide_of(design).bores[0].drill_mm == test::nearly(3.175));
}

TEST_CASE("fences and stops: what serves whom") {
  Design design = plain();
  const DrillGuide flush = guide_of(design);
  CHECK(find(flush, LocatorRole::edge_fence)->serves == Serves::scales_and_tang);
  CHECK_FALSE(find(flush, LocatorRole::tang_stop));
  // A stop as well would keep a blank from bringing its joint line to the window.
  CHECK_FALSE(find(flush, LocatorRole::front_stop));
  CHECK(find(flush, LocatorRole::butt_stop)->serves == Serves::tang);

  design.guide.blank_allowance_mm = 1.5;
  const Handle handle = lay_out(design);
  const DrillGuide proud = lay_out_guide(design, handle);
  CHECK(find(proud, LocatorRole::edge_fence)->serves == Serves::both_scales);
  REQUIRE(find(proud, LocatorRole::tang_stop, 1));
  check_contacts(proud, handle, 1.5);

  design = jointless();
  const DrillGuide stopped = guide_of(design);
  REQUIRE(find(stopped, LocatorRole::front_stop));
  CHECK(find(stopped, LocatorRole::front_stop)->serves == Serves::both_scales);
  CHECK_FALSE(find(stopped, LocatorRole::front_stop, 1));
  design.right.front = FrontFace{1.0, 8, 0};
  const Handle uneven = lay_out(design);
  const DrillGuide two = lay_out_guide(design, uneven);
  REQUIRE(find(two, LocatorRole::front_stop, 1));
  CHECK(find(two, LocatorRole::front_stop)->serves == Serves::left_scale);
  const GuideLocator& right = *find(two, LocatorRole::front_stop, 1);
  CHECK(right.serves == Serves::right_scale);
  CHECK(uneven.right.front.behind_mm(right.contact.x, right.contact.y, 0) == Approx(0).margin(1e-9));
}

TEST_CASE("a front face that leans forward meets the stop pin at the pin's end") {
  Design design = jointless();
  design.left.front.rake_deg = -12;
  const Handle handle = lay_out(design);
  const DrillGuide guide = lay_out_guide(design, handle);
  REQUIRE(find(guide, LocatorRole::front_stop));
  const GuideLocator& stop = *find(guide, LocatorRole::front_stop);
  CHECK(handle.left.front.behind_mm(stop.contact.x, stop.contact.y, design.guide.fence_height_mm) ==
        Approx(0).margin(1e-9));
}

TEST_CASE("a tang of very many edges gets a plate of few, as far from the handle as asked for") {
  Design design = plain();
  const Outline few(starter_outline(BowedTang{}));
  std::vector<Node> many;
  for (const Edge& edge : few.edges()) {
    const int count = 1 + static_cast<int>(edge.length() / 0.4);
    for (int i = 0; i < count; ++i) many.push_back({edge.point(static_cast<double>(i) / count), 0});
  }
  REQUIRE(many.size() > 600);
  design.tang.outline = starter_outline(BowedTang{});
  const DrillGuide plain_guide = guide_of(design);
  design.tang.outline = many;
  const Handle handle = lay_out(design);
  const DrillGuide guide = lay_out_guide(design, handle);
  CHECK(guide.plate.edges().size() < 60);
  CHECK(contains(guide.plate, handle.left.finished));
  CHECK(boundary_distance_mm(guide.plate, handle.left.finished) ==
        Approx(design.guide.margin_mm).margin(0.15));
  CHECK(guide.plate.area_mm2() == Approx(plain_guide.plate.area_mm2()).epsilon(0.005));
  check_contacts(guide, handle, 0);
}

TEST_CASE("joints that differ between the sides get windows of their own") {
  Design design = plain();
  std::vector<Joint> joints = design.left.joints;
  joints[0].place_mm += 9;
  design.right.joints = joints;
  const Handle handle = lay_out(design);
  const DrillGuide guide = lay_out_guide(design, handle);
  REQUIRE(guide.windows.size() == 4);
  CHECK(std::count_if(guide.windows.begin(), guide.windows.end(),
                      [](const SightWindow& window) { return window.for_left && !window.for_right; }) == 2);
  check_windows(guide, handle);
}

TEST_CASE("what can't be made is refused with the field that would help") {
  Design design = plain();
  design.pins.clear();
  CHECK_THROWS_AS(guide_of(design), InputError);
  design = plain();
  design.guide.fence_diameter_mm = 50;
  design.guide.stop_pin_mm = 30;
  design.guide.margin_mm = 14;
  try {
    guide_of(design);
    FAIL("neither fences nor pins wider than the plate's margin have a place");
  } catch (const InputError& error) {
    CHECK(error.problems().front().field == "guide.fence_diameter_mm");
  }
}

TEST_CASE("what the maker can get wrong makes the guide's findings fail") {
  const auto fails = [](const Design& design, const std::string& id) {
    const DrillGuide guide = guide_of(design);
    return std::any_of(guide.findings.begin(), guide.findings.end(), [&](const Finding& finding) {
      return finding.id == id && finding.status == Status::fail;
    });
  };
  Design design = plain();
  design.pins[1].at_mm = design.pins[0].at_mm + Vec2{4, 0};
  CHECK(fails(design, "guide.bore_wall"));
  design = plain();
  design.pins[1].at_mm = {design.pins[1].at_mm.x, 12};
  design.guide.least_wall_mm = 0.3;
  design.guide.window_length_mm = 25;  // spine and belly windows of the joint run into each other
  CHECK(fails(design, "guide.window_wall"));
  design = plain();
  design.guide.fence_height_mm = design.left.pieces[0].blank.thickness_mm;
  CHECK(fails(design, "guide.fence_height"));
  design = plain();
  // A window wide enough to reach past the front face takes support away and the clamp's room.
  design.left.joints[0].place_mm = 20;
  design.guide.window_width_mm = 45;
  design.guide.window_length_mm = 12;
  CHECK(fails(design, "guide.clamp_room"));
  design = plain();
  // Two windows as wide as 45 of the 110 mm, together as long as the handle is high.
  design.guide.window_width_mm = 45;
  design.guide.window_length_mm = 16;
  CHECK(fails(design, "guide.support"));
  design = plain();
  design.pins[0].tang_hole = {"", 3.6};
  CHECK(fails(design, "guide.same_drill"));
}

TEST_CASE("random handles: bores on the pins, clean contacts, true windows, finite findings") {
  const std::uint64_t tried = std::getenv("HAFTWRIGHT_LONG")    ? 2000
                              : std::getenv("HAFTWRIGHT_SHORT") ? 120
                                                                : 500;
  std::size_t made = 0;
  for (std::uint64_t seed = 0; seed < tried; ++seed) {
    const Design design = test::random_design(seed);
    const Handle handle = lay_out(design);
    INFO("seed " << seed);
    DrillGuide guide{handle.tang};
    try {
      guide = lay_out_guide(design, handle);
    } catch (const InputError& error) {
      CHECK(error.problems().front().field.substr(0, 5) == "guide");
      continue;
    }
    ++made;
    REQUIRE(guide.bores.size() == design.pins.size());
    for (std::size_t i = 0; i < guide.bores.size(); ++i) CHECK(guide.bores[i].at == design.pins[i].at_mm);
    check_contacts(guide, handle, design.guide.blank_allowance_mm);
    check_windows(guide, handle);
    for (const Finding& finding : guide.findings) {
      CHECK(std::isfinite(finding.value));
      CHECK(std::isfinite(finding.limit));
    }
    CHECK(count(guide, "guide.bore_wall") == guide.bores.size());
    CHECK(count(guide, "guide.window_wall") == guide.windows.size());
    CHECK_FALSE(find_fault(guide.plate.nodes()));
  }
  CHECK(made > tried * 9 / 10);
}
