// The order of work: what it says, and that its figures are those of the plan.
#include <algorithm>
#include <catch2/catch.hpp>
#include <cmath>

#include "haftwright/design/starters.hpp"
#include "haftwright/design/units.hpp"
#include "haftwright/design/validate.hpp"
#include "haftwright/guide/order_of_work.hpp"
#include "haftwright/handle/lay_out.hpp"
#include "support/nearly.hpp"
#include "support/random_design.hpp"

using namespace haftwright;

namespace {

Design plain() {
  return starter_design(starter_outline(StraightTang{}), 4, LengthUnit::millimetre);
}

struct Work {
  explicit Work(const Design& design)
      : handle(lay_out(design)),
        guide(lay_out_guide(design, handle)),
        steps(order_of_work(design, handle, guide)),
        text(order_of_work_text(steps)) {}
  bool says(const std::string& words) const { return text.find(words) != std::string::npos; }
  std::size_t at(const std::string& words) const {
    INFO(text);
    REQUIRE(says(words));
    return text.find(words);
  }

  Handle handle;
  DrillGuide guide;
  std::vector<WorkStep> steps;
  std::string text;
};

std::string mm(double value) {
  return format_length(value, LengthUnit::millimetre);
}

}  // namespace

TEST_CASE("the order of work starts with cautions and goes from the blanks to the dry fit") {
  const Work work(plain());
  CHECK(work.steps.front().caution);
  CHECK(work.text.starts_with("Caution: "));
  CHECK(work.at("never hold them by hand") < work.at("eye protection"));
  CHECK(work.at("eye protection") < work.at("1. Work the spine edge of the left blank to its line"));
  CHECK(work.at("the left blank to its line") < work.at("Lay the left blank"));
  CHECK(work.at("Lay the left blank") < work.at("Lay the right blank"));
  CHECK(work.at("Lay the right blank") < work.at("Lay the tang"));
  CHECK(work.at("Lay the tang") < work.at("before any adhesive is mixed"));
  const auto first =
      std::find_if(work.steps.begin(), work.steps.end(), [](const WorkStep& s) { return !s.caution; });
  CHECK(std::none_of(first, work.steps.end(), [](const WorkStep& s) { return s.caution; }));
}

TEST_CASE("the order of work tells from where to where the edge has to be worked") {
  const Work work(plain());
  std::vector<GuideLocator> fences;
  for (const GuideLocator& locator : work.guide.locators)
    if (locator.role == LocatorRole::edge_fence) fences.push_back(locator);
  std::sort(fences.begin(), fences.end(), [](const auto& a, const auto& b) { return a.at.x < b.at.x; });
  const double front = work.handle.left.front_spine.inner.x;
  CHECK(work.says("at least from " + mm(fences[0].contact.x - worked_beside_mm(fences[0]) - front) + " to " +
                  mm(fences[1].contact.x + worked_beside_mm(fences[1]) - front)));
  CHECK(work.says("Front, butt and the other edge may stay oversize."));
  Design proud = plain();
  proud.guide.blank_allowance_mm = 0.8;
  CHECK(Work(proud).says("parallel to its line, 0.80 mm outside it"));
}

TEST_CASE("the tang's packing keeps the fences off the table, by figures") {
  // 5 mm fences, a tang of 4 mm and 1 mm of room under them.
  const Work work(plain());
  CHECK(tang_packing_mm(work.handle, work.guide) == test::nearly(2));
  CHECK(work.says("packing at least 2.00 mm thick"));
  Design low = plain();
  low.guide.fence_height_mm = 2.5;
  const Work none(low);
  CHECK(tang_packing_mm(none.handle, none.guide) == 0);
  CHECK_FALSE(none.says("packing"));
  CHECK(none.says("the tang below, onto waste board."));
}

TEST_CASE("a tapered tang: the wedge's way round, the packing that sets the bores upright, the strip") {
  Design design = plain();
  design.tang.thickness_front_mm = 4;
  design.tang.thickness_butt_mm = 2;
  const Work work(design);
  CHECK(work.says("The plate is a wedge"));
  // Half the taper over the scale's length.
  const double run = work.handle.left.finished.bounds().size().x;
  CHECK(work.says(mm(-work.handle.tang_slope / 2 * run) + " at its butt end"));
  // Between plate and tang both faces fall away: at the strip the gap is what both lose from the front on.
  const TangStrip strip = tang_strip(work.handle, work.guide);
  const double front = std::max(work.handle.tang.bounds().low.x, work.guide.plate.bounds().low.x);
  const auto faces = [&](double x) { return work.guide.face_z_mm(x) + work.handle.tang_thickness_mm(x) / 2; };
  CHECK(strip.thickness_mm == test::nearly(faces(front) - faces(strip.at_x_mm)));
  CHECK(work.says("put a strip " + mm(strip.thickness_mm)));
  CHECK_FALSE(Work(plain()).says("strip"));
}

TEST_CASE("liners, a leaning front and hardened steel are spoken of where they are there") {
  Design design = plain();
  design.left.liners.clear();
  CHECK_FALSE(Work(design).says("liner"));
  design.left.liners.push_back({});
  design.left.liners.back().thickness_mm = 0.8;
  const Work lined(design);
  CHECK(lined.at("Leave the liners off the left scale: they would hide its joint lines") <
        lined.at("Lay the left blank"));
  CHECK(lined.says("Clamp each liner"));

  design = plain();
  design.left.joints.clear();
  design.left.pieces.resize(1);
  design.left.front.rake_deg = -20;
  const Work stopped(design);
  // tan 20 degrees: 0.364 mm of travel for each mm that the stop stands higher or lower.
  CHECK(stopped.says("until it stands exactly 5.00 mm above the L face"));
  CHECK(stopped.says("each 1.00 mm of height moves the scale by 0.36 mm"));
  CHECK(stopped.says("Pull the front stop pin out again"));

  design = plain();
  CHECK_FALSE(Work(design).says("hardened"));
  design.tang.hardened = true;
  CHECK(Work(design).says("The tang is hardened"));
  for (Pin& pin : design.pins) {
    design.tang.holes.push_back({"hole_" + std::to_string(design.tang.holes.size()), pin.at_mm, 3.3});
    pin.existing_tang_hole = design.tang.holes.back().id;
    pin.tang_hole = {};
  }
  const Work drilled(design);
  CHECK_FALSE(drilled.says("hardened"));
  CHECK(drilled.says("The tang has its holes already"));
}

TEST_CASE("lengths are in the unit that the project shows") {
  Design design = plain();
  design.shown_unit = LengthUnit::inch;
  const Work work(design);
  CHECK(work.says(" in"));
  CHECK_FALSE(work.says(" mm"));
}

TEST_CASE("random handles' orders of work hold whole sentences and finite figures") {
  for (std::uint64_t seed = 0; seed < 60; ++seed) {
    INFO("seed " << seed);
    try {
      const Work work(test::random_design(seed));
      CHECK(work.steps.size() >= 8);
      for (const WorkStep& step : work.steps) {
        INFO(step.words);
        CHECK(step.words.back() == '.');
        CHECK(step.words.find("nan") == std::string::npos);
        CHECK(step.words.find("inf") == std::string::npos);
        CHECK(step.words.find(" -") == std::string::npos);  // no negative lengths
      }
    } catch (const InputError&) {
    }
  }
}
