// Each finding about locators and the drill fails on a plan spoilt in the one way that it is there for.
#include <algorithm>
#include <catch2/catch.hpp>
#include <cmath>

#include "haftwright/design/starters.hpp"
#include "haftwright/design/validate.hpp"
#include "haftwright/geometry/outline_ops.hpp"
#include "haftwright/guide/drill_guide.hpp"
#include "haftwright/handle/lay_out.hpp"
#include "support/nearly.hpp"

using namespace haftwright;

namespace {

Design plain() {
  return starter_design(starter_outline(StraightTang{}), 4, LengthUnit::millimetre);
}

struct Laid {
  explicit Laid(Design made)
      : design(std::move(made)), handle(lay_out(design)), guide(lay_out_guide(design, handle)) {}
  GuideLocator& locator(LocatorRole role) {
    return *std::find_if(guide.locators.begin(), guide.locators.end(),
                         [&](const GuideLocator& locator) { return locator.role == role; });
  }
  std::vector<Finding> of(const std::string& id) const {
    std::vector<Finding> found = check_guide(design, handle, guide);
    std::erase_if(found, [&](const Finding& finding) { return finding.id != id; });
    return found;
  }
  bool fails(const std::string& id, const std::string& in_where = "") const {
    const std::vector<Finding> found = of(id);
    return std::any_of(found.begin(), found.end(), [&](const Finding& finding) {
      return finding.status == Status::fail &&
             where_words(design, finding.where).find(in_where) != std::string::npos;
    });
  }

  Design design;
  Handle handle;
  DrillGuide guide;
};

/// Tangent to an edge at x, from outside, as an earlier layout set its fences: whatever the edge does there.
void set_fence(Laid& laid, GuideLocator& fence, double x) {
  const auto hits = crossings(laid.handle.tang, {x, 0}, {0, 1});
  const Nearest at = laid.handle.tang.nearest(hits.back().point);
  const Vec2 along = laid.handle.tang.edges()[at.edge].direction(at.t);
  fence.contact = at.point;
  fence.at = at.point + Vec2{along.y, -along.x} * (fence.diameter_mm / 2);
}

}  // namespace

TEST_CASE("a fence at the butt's corner meets the untrimmed blank, though not the finished scale") {
  Laid laid(plain());
  REQUIRE_FALSE(laid.fails("guide.locator_clear"));
  REQUIRE_FALSE(laid.fails("guide.edge_slope"));
  auto rear = std::find_if(laid.guide.locators.rbegin(), laid.guide.locators.rend(),
                           [](const GuideLocator& l) { return l.role == LocatorRole::edge_fence; });
  const double butt = laid.handle.tang.bounds().high.x;
  set_fence(laid, *rear, butt - 1);  // on the rounded corner
  // Wood left at the butt, where the edge turns down, ends beside the fence: the blank is not worked there.
  CHECK(laid.fails("guide.edge_slope"));
  CHECK_FALSE(laid.fails("guide.locator_clear", "finished"));
  CHECK(laid.fails("guide.locator_clear", "blank"));
}

TEST_CASE("a blank that stands proud of its line by a large allowance still fits between its fences") {
  Design design = plain();
  for (const double allowance : {0.4, 1.5, 4.0}) {
    INFO(allowance);
    design.guide.blank_allowance_mm = allowance;
    const Laid laid(design);
    CHECK_FALSE(laid.fails("guide.locator_clear"));
    CHECK_FALSE(laid.fails("guide.locator_touch"));
    CHECK_FALSE(laid.fails("guide.edge_slope"));
  }
}

TEST_CASE("a fence inside a scale that stands proud of the tang is found") {
  Design design = plain();
  Laid laid(design);
  GuideLocator& fence = laid.locator(LocatorRole::edge_fence);
  fence.at.y -= 0.284;
  fence.contact.y -= 0.284;
  CHECK(laid.fails("guide.locator_clear", "spine fence"));
  CHECK(laid.of("guide.locator_clear").size() >= laid.guide.locators.size());
}

TEST_CASE("a locator that a part does not reach is found, for scales and for the tang") {
  Laid laid(plain());
  REQUIRE_FALSE(laid.fails("guide.locator_touch"));
  laid.locator(LocatorRole::edge_fence).at.y += 0.05;
  CHECK(laid.fails("guide.locator_touch", "scale"));
  Laid other(plain());
  other.locator(LocatorRole::butt_stop).at.x += 0.05;
  CHECK(other.fails("guide.locator_touch", "tang"));
  Laid third(plain());
  third.locator(LocatorRole::butt_stop).at.x -= 0.05;
  CHECK(third.fails("guide.locator_clear", "tang"));
}

TEST_CASE("a fence under a front face that leans over it keeps the scale from lifting out") {
  Design design = plain();
  design.left.joints.clear();
  design.left.pieces.resize(1);
  design.left.front.rake_deg = -30;
  Laid laid(design);
  REQUIRE_FALSE(laid.fails("guide.lift_out"));
  // Ahead of the front face, clear of it as high as the fence is, but not above.
  const GuideLocator stop = laid.locator(LocatorRole::front_stop);
  GuideLocator& fence = laid.locator(LocatorRole::edge_fence);
  fence.at = stop.at - Vec2{(fence.diameter_mm - stop.diameter_mm) / 2 + 0.2, 0};
  CHECK_FALSE(laid.fails("guide.locator_clear", "finished"));
  CHECK(laid.fails("guide.lift_out"));
}

TEST_CASE("a drill too short for plate, blank and the chuck over a fence is found") {
  Design design = plain();
  REQUIRE_FALSE(Laid(design).fails("guide.drill_reach"));
  design.guide.plate_thickness_mm = 30;
  const Laid thick(design);
  CHECK(thick.fails("guide.drill_reach"));
  // A pin right beside a fence: the chuck comes down on the fence and its height counts.
  Laid beside(plain());
  const double before = beside.of("guide.drill_reach").front().limit;
  GuideLocator& fence = beside.locator(LocatorRole::edge_fence);
  fence.at = beside.guide.bores.front().at + Vec2{0, 25 + fence.diameter_mm / 2 + 0.1};
  for (GuideLocator& other : beside.guide.locators)
    if (!other.loose && &other != &fence) other.at.x += 500;
  const double clear = beside.of("guide.drill_reach").front().limit;
  fence.at.y -= 0.2;
  const double over = beside.of("guide.drill_reach").front().limit;
  CHECK(over == test::nearly(clear + beside.guide.fence_height_mm));
  CHECK((before == test::nearly(over) || before == test::nearly(clear)));
  // Plate, the thickest blank, and the point of a 118 degree drill: half its size over tan 59 degrees.
  double blank = 0;
  for (const Piece& piece : beside.design.left.pieces) blank = std::max(blank, piece.blank.thickness_mm);
  CHECK(clear == test::nearly(12 + blank + 3.1 / 2 / std::tan(59 / 57.29577951308232)));
}

TEST_CASE("a plate with parallel faces on a tapered tang leans the holes by half the taper each") {
  Design design = plain();
  design.tang.thickness_front_mm = 5;
  design.tang.thickness_butt_mm = 1.6;
  Laid wedged(design);
  CHECK(wedged.of("guide.lean").empty());
  CHECK(wedged.guide.thickness_slope == wedged.handle.tang_slope);
  design.guide.wedged = false;
  Laid parallel(design);
  CHECK(parallel.guide.thickness_slope == 0);
  REQUIRE(parallel.of("guide.lean").size() == design.pins.size());
  CHECK(parallel.fails("guide.lean"));
  const Finding lean = parallel.of("guide.lean").front();
  CHECK(std::tan(lean.value / 57.29577951308232) == test::nearly(-parallel.handle.tang_slope / 2));
  // With room enough for it, it passes.
  for (Pin& pin : design.pins) pin.scale_hole = {"", pin.stock.diameter_mm() + 0.5};
  CHECK_FALSE(Laid(design).fails("guide.lean"));
}

TEST_CASE("fences close together, a bore beside a fence and a thin wall beside a stop are found") {
  Laid close(plain());
  REQUIRE_FALSE(close.fails("guide.fence_spread"));
  GuideLocator& front = close.locator(LocatorRole::edge_fence);
  set_fence(close, front, front.contact.x + 50);
  CHECK(close.fails("guide.fence_spread"));

  Laid beside(plain());
  REQUIRE_FALSE(beside.fails("guide.fence_clear"));
  GuideLocator& fence = beside.locator(LocatorRole::edge_fence);
  const GuideBore& bore = beside.guide.bores.front();
  fence.at = bore.at + Vec2{0, (bore.diameter_mm + fence.diameter_mm) / 2 + 1};
  CHECK(beside.fails("guide.fence_clear"));

  Laid thin(plain());
  REQUIRE_FALSE(thin.fails("guide.stop_wall"));
  thin.locator(LocatorRole::butt_stop).at.x = thin.guide.plate.bounds().high.x - 4;
  CHECK(thin.fails("guide.stop_wall"));
}

TEST_CASE("a wedge keeps the thickness asked for at its thinnest bore, and is refused where it runs out") {
  Design design = plain();
  design.tang.thickness_front_mm = 5;
  design.tang.thickness_butt_mm = 2;
  const Laid laid(design);
  double thinnest = HUGE_VAL;
  for (const GuideBore& bore : laid.guide.bores)
    thinnest = std::min(thinnest, laid.guide.thickness_at_mm(bore.at.x));
  CHECK(thinnest == test::nearly(design.guide.plate_thickness_mm));
  design.tang.thickness_front_mm = 8;
  design.tang.thickness_butt_mm = 1;
  design.guide.plate_thickness_mm = 3;
  try {
    Laid refused(design);
    FAIL("a wedge that runs out behind its last bore");
  } catch (const InputError& error) {
    CHECK(error.problems().front().field == "guide.plate_thickness_mm");
  }
}
