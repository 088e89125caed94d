// The handle's exact bodies, held against the layout: surface, volumes, holes, STEP.
#include <algorithm>
#include <catch2/catch.hpp>
#include <cmath>
#include <cstdlib>
#include <iostream>
#include <sstream>

#include "haftwright/design/validate.hpp"
#include "haftwright/files/project_file.hpp"
#include "haftwright/handle/lay_out.hpp"
#include "haftwright/handle/volumes.hpp"
#include "haftwright/solids/solids.hpp"
#include "step_checks.hpp"
#include "support/random_design.hpp"
#include "support/seeds.hpp"

using namespace haftwright;
using namespace haftwright::test;

namespace {

Design sample(const std::string& name) {
  return read_project(std::string(HAFTWRIGHT_PROJECTS) + "/" + name + ".json");
}

/// A place where the solid's outside is this part's finished surface and nothing else: clear of cut faces and
/// holes.
bool is_surface_of(const Handle& handle, const SideLayout& side, const Part& part, Vec2 p) {
  constexpr double kClear = 0.3;
  if (side.edge.depth_mm(p) < 0.05) return false;
  const double s = side.scale_height_mm(p);
  if (part.front.behind_mm(p.x, p.y, s) < kClear) return false;
  if (!part.to_butt && part.rear.behind_mm(p.x, p.y, s) > -kClear) return false;
  return std::none_of(handle.pins.begin(), handle.pins.end(), [&](const PinLayout& pin) {
    return std::any_of(pin.layers.begin(), pin.layers.end(), [&](const HoleLayer& layer) {
      return glm::distance(pin.at, p) < layer.diameter_mm / 2 + 0.1;
    });
  });
}

struct Worst {
  double surface_mm = 0;
  double at_corners_mm = 0;
  double outside_box_mm = 0;  ///< how far a place of the surface lies above the body's box
  double volume_share = 0;
  std::size_t places = 0;
};

void hold_surface(const Bodies& bodies, std::size_t body, const Handle& handle, const SideLayout& side,
                  const Part& part, Worst& worst) {
  const double reach = 2 * side.surface.shape().round_over_mm + 1;
  const BodyFacts& facts = bodies.facts().at(body);
  const double box_top = side.which == Which::left ? facts.high.z : -facts.low.z;
  // The box is no larger than it has to be: with an even tang its top is the greatest finished height, or
  // less where a hole is drilled at that place.
  if (handle.tang_slope == 0 && bodies.warnings().empty())
    CHECK(box_top < handle.tang_thickness_front_mm / 2 + side.liner_total_mm + part.s_high_mm + 0.02);
  for (double x = part.plan_bounds.low.x + 0.35; x < part.plan_bounds.high.x; x += 3.1) {
    for (double y = part.plan_bounds.low.y + 0.21; y < part.plan_bounds.high.y; y += 1.3) {
      const Vec2 p{x, y};
      if (!is_surface_of(handle, side, part, p)) continue;
      const double wanted = handle.tang_thickness_mm(x) / 2 + side.liner_total_mm + side.scale_height_mm(p);
      const double made = std::abs(bodies.outermost_z(body, p, side.which == Which::left));
      const bool corner = std::any_of(side.edge.nodes().begin(), side.edge.nodes().end(),
                                      [&](const Node& node) { return glm::distance(node.at, p) < reach; });
      double& most = corner ? worst.at_corners_mm : worst.surface_mm;
      most = std::max(most, std::isfinite(made) ? std::abs(made - wanted) : HUGE_VAL);
      worst.outside_box_mm = std::max(worst.outside_box_mm, made - box_top);
      ++worst.places;
    }
  }
}

/// Both sides, part by part, in the order of the bodies.
Worst hold_against_layout(const Bodies& bodies, const Design& design, const Handle& handle) {
  const HandleVolumes volumes = volumes_of(design, handle);
  Worst worst;
  std::size_t body = 0;
  for (const Which which : {Which::left, Which::right}) {
    const SideLayout& side = handle.side(which);
    for (std::size_t i = 0; i < side.parts.size(); ++i) {
      const Part& part = side.parts[i];
      const BodyFacts& facts = bodies.facts().at(body);
      CHECK(facts.name == part.name);
      CHECK(facts.closed_and_valid);
      const double share = std::abs(facts.volume_mm3 / volumes.side(which).parts[i].left_mm3() - 1);
      worst.volume_share = std::max(worst.volume_share, share);
      if (part.kind == PartKind::piece) hold_surface(bodies, body, handle, side, part, worst);
      ++body;
    }
  }
  CHECK(bodies.facts().at(body).name == "tang");
  CHECK(bodies.facts().at(body).volume_mm3 == Approx(volumes.tang_mm3).epsilon(1e-3));
  CHECK(bodies.facts().size() == body + 1 + handle.pins.size());
  return worst;
}

void require_good(const Worst& worst) {
  CHECK(worst.places > 20);
  CHECK(worst.surface_mm < 0.02);
  CHECK(worst.at_corners_mm < 0.05);
  CHECK(worst.outside_box_mm < 1e-6);
  CHECK(worst.volume_share < 1e-3);
}

/// Every pin's hole is in the body of some part of each layer, on the pin's axis and of the layer's radius.
void check_holes(const Bodies& bodies, const Handle& handle) {
  for (const PinLayout& pin : handle.pins)
    for (const HoleLayer& layer : pin.layers)
      CHECK(std::any_of(bodies.facts().begin(), bodies.facts().end(), [&](const BodyFacts& facts) {
        return has_bore(facts, pin.at, layer.diameter_mm / 2);
      }));
}

/// A part that a hole cuts in two comes back as two solids: only the sum is sure to be comparable.
double total_volume(const std::vector<BodyFacts>& facts) {
  double sum = 0;
  for (const BodyFacts& body : facts) sum += body.volume_mm3;
  return sum;
}

struct Outcome {
  std::vector<std::string> refused;
  std::uint64_t warned = 0;
};

void hold_random(std::uint64_t seed, Outcome& outcome) {
  INFO("seed " << seed);
  const Design design = random_design(seed);
  const Handle handle = lay_out(design);
  try {
    const auto made = build_handle(design, handle);
    const Bodies& bodies = *made;
    const Worst worst = hold_against_layout(bodies, design, handle);
    if (bodies.warnings().empty()) {
      require_good(worst);
    } else {
      // Edges that are smaller or sharp where the kernel can't round them: never without a warning.
      // A rim of 4 mm left sharp adds 3.8 % to a rear piece.
      CHECK(worst.volume_share < 0.05);
      ++outcome.warned;
    }
    check_holes(bodies, handle);
    CHECK(total_volume(measure_step(bodies.step_text(design.name))) ==
          Approx(total_volume(bodies.facts())).epsilon(kRetrimmedVolume));
  } catch (const SolidError& error) {
    outcome.refused.push_back("seed " + std::to_string(seed) + ": " + error.what());
  }
}

}  // namespace

TEST_CASE("the samples' solids are the layout: surface, volumes, holes, STEP") {
  for (const char* name : {"shucking_knife", "marking_knife", "paring_knife", "reed_knife"}) {
    INFO(name);
    const Design design = sample(name);
    const Handle handle = lay_out(design);
    const auto made = build_handle(design, handle);
    const Bodies& bodies = *made;
    require_good(hold_against_layout(bodies, design, handle));
    check_holes(bodies, handle);
    check_step(bodies, bodies.step_text(name), name, kRetrimmedVolume);
  }
}

TEST_CASE("random handles' solids are the layout, and none is refused") {
  const Seeds seeds = seeds_to_try("HAFTWRIGHT_HANDLES", {.few = 3, .usual = 8, .all = 1000}, 0);
  Outcome outcome;
  for (std::uint64_t seed = seeds.first; seed < seeds.first + seeds.count; ++seed) hold_random(seed, outcome);
  std::cout << "solids of random handles: " << seeds.count << " from seed " << seeds.first << ", refused "
            << outcome.refused.size() << ", with an edge smaller or sharp " << outcome.warned << "\n";
  for (const std::string& refusal : outcome.refused) std::cout << "  refused: " << refusal << "\n";
  CHECK(outcome.refused.empty());
  // 6 to 9 in a hundred; a share may have a few more.
  CHECK(outcome.warned <= seeds.count / 10 + 3);
}

TEST_CASE("random handles that were refused once are made") {
  // 87: a round-over that came out wrong; 367: a front face that leans 0.004 degrees against round walls.
  for (const std::uint64_t seed : {87U, 367U}) {
    Outcome outcome;
    hold_random(seed, outcome);
    CHECK(outcome.refused.empty());
    CHECK(outcome.warned == (seed == 87 ? 1 : 0));
  }
}

TEST_CASE("random handles that came out wrong once, without a word, are right or say where they are not") {
  // 67: a box too small, as one edge has two humps; 66: the round-over is cut short where an edge beside a
  // corner is shorter than its radius; 547: it has no room round a corner.
  Outcome outcome;
  hold_random(67, outcome);
  CHECK(outcome.warned == 0);
  struct Known {
    std::uint64_t seed;
    const char* words;
  };
  for (const Known& known : {Known{66, "0.69 mm too low at x 119.7 mm, y -17.3 mm"},
                             Known{547, "0.08 mm too low at x 125.3 mm, y -14.3 mm"}}) {
    INFO("seed " << known.seed);
    const Design design = random_design(known.seed);
    const auto made = build_handle(design, lay_out(design));
    REQUIRE_FALSE(made->warnings().empty());
    CHECK(made->warnings().front().find(known.words) != std::string::npos);
  }
}

TEST_CASE("random guides' solids: closed, bores on the pins, the same read back") {
  const std::uint64_t count = std::getenv("HAFTWRIGHT_SHORT") ? 8 : 40;
  std::uint64_t guides = 0;
  for (std::uint64_t seed = 100; seed < 100 + count; ++seed) {
    INFO("seed " << seed);
    const Design design = random_design(seed);
    const Handle handle = lay_out(design);
    DrillGuide guide{.plate = handle.tang};
    try {
      guide = lay_out_guide(design, handle);
    } catch (const InputError&) {
      continue;
    }
    // A plan that fails its own checks may fall apart as a body; a good one may not.
    const bool good = worst(guide.findings) != Status::fail;
    try {
      const auto made = build_guide(guide);
      const Bodies& bodies = *made;
      ++guides;
      const part21::File file = check_step(bodies, bodies.step_text("guide"), "guide");
      const auto shells = part21::shells(file);
      for (const GuideBore& bore : guide.bores)
        if (good) CHECK(has_bore(file, shells.front(), bore.at, bore.diameter_mm / 2));
    } catch (const SolidError& error) {
      INFO(error.what());
      CHECK_FALSE(good);
    }
  }
  CHECK(guides > count / 2);
}

TEST_CASE("the same handle gives the same bytes") {
  const Design design = sample("paring_knife");
  const Handle handle = lay_out(design);
  const std::string first = build_handle(design, handle)->step_text("x");
  const std::vector<char> shifted_heap(1234567, 'x');
  CHECK(build_handle(design, handle)->step_text("x") == first);
  CHECK(shifted_heap.back() == 'x');
}

TEST_CASE("a cancelled handle job stops") {
  const Design design = sample("marking_knife");
  const Handle handle = lay_out(design);
  std::stop_source stop;
  JobContext job;
  job.stop = stop.get_token();
  int begun = 0;
  job.progress = [&](double, const std::string&) {
    if (++begun > 2) stop.request_stop();
  };
  CHECK_THROWS_AS(build_handle(design, handle, job), Cancelled);
}
