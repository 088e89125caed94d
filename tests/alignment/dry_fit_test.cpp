// A dry fit read back: handles that are off by known amounts, read by a caliper, with and without errors.
#include "haftwright/alignment/dry_fit.hpp"

#include <catch2/catch.hpp>
#include <set>

#include "alignment/true_handle.hpp"
#include "dry_fit_parts.hpp"
#include "haftwright/files/project_file.hpp"
#include "support/random_design.hpp"

using namespace haftwright;
using namespace haftwright::test;

namespace {

Design sample(const std::string& name) {
  Design design = read_project(std::string(HAFTWRIGHT_PROJECTS) + "/" + name + ".json");
  design.dry_fit.clear();
  return design;
}

const std::vector<std::string> kSamples{"shucking_knife", "marking_knife", "paring_knife"};

/// Steps so large that they show are no matter here.
Design unseeing(Design design) {
  design.rules.joint_step_mm = 5;
  return design;
}

const Measured& at_edge(const FoundLine& line, HandleEdge at) {
  return at == HandleEdge::spine ? line.spine_mm.value() : line.belly_mm.value();
}

/// A design and a true handle that is off from it in every way.
struct Truth {
  Design design;
  Handle nominal;
  Handle handle;
};
std::optional<Truth> random_truth(std::uint64_t seed) {
  Random random(seed * 7919 + 3);
  Design design = unseeing(random_design(seed));
  design.dry_fit.clear();
  const auto nominal = try_lay_out(design);
  REQUIRE(nominal);
  if (joints_in_common(*nominal) == 0) return std::nullopt;
  const Offset offset{
      {40, 0}, {random.between(-0.4, 0.4), random.between(-0.2, 0.2)}, random.between(-0.006, 0.006)};
  const Design off = with_blanks_off(with_right_off(design, offset), random, 0.2, 0.3);
  const auto handle = try_lay_out(off);
  if (!handle) return std::nullopt;
  return Truth{design, *nominal, *handle};
}

constexpr std::uint64_t kSeeds = 60;

}  // namespace

TEST_CASE("exact readings give the steps, the turn and the handle as it is", "[dry fit]") {
  int tried = 0;
  for (std::uint64_t seed = 1; seed <= kSeeds; ++seed) {
    auto truth = random_truth(seed);
    if (!truth) continue;
    ++tried;
    INFO("seed " << seed);
    Random random(seed);
    Design& design = truth->design;
    design.dry_fit = read_all(design, truth->handle, random, 0.05, 0);
    const auto fit = read_dry_fit(design, truth->nominal);
    REQUIRE(fit);
    CHECK(fit->problem == "");
    CHECK(fit->unused.empty());
    const Handle found = lay_out(fit->as_found);
    double worst = 0;
    for (const FoundLine& line : fit->lines)
      for (const HandleEdge at : {HandleEdge::spine, HandleEdge::belly}) {
        const double step = step_of(truth->handle, line.joint, line.strip_edge, at);
        worst = std::max(worst, std::abs(step));
        CHECK(at_edge(line, at).value == Approx(step).margin(1e-8));
        CHECK(step_of(found, line.joint, line.strip_edge, at) == Approx(step).margin(1e-8));
        for (const Which side : {Which::left, Which::right})
          CHECK(
              end_of(found.side(side), line.joint, line.strip_edge, at).inner.x ==
              Approx(end_of(truth->handle.side(side), line.joint, line.strip_edge, at).inner.x).margin(1e-8));
        const double turn = std::atan(truth->handle.left.joints[line.joint].lines[0].plane.tan_slant) -
                            std::atan(truth->handle.right.joints[line.joint].lines[0].plane.tan_slant);
        CHECK(line.turn_deg.value().value == Approx(turn * kDegrees).margin(1e-7));
      }
    CHECK(fit->worst_mm == Approx(worst).margin(1e-8));
  }
  CHECK(tried > 30);
}

TEST_CASE("a scale that is off as a whole is found so, from every datum", "[dry fit]") {
  for (const std::string& name : kSamples)
    for (const int datum : {0, 1, 2}) {
      INFO(name << ", datum " << datum);
      Random random(5);
      Design design = unseeing(sample(name));
      const std::vector<std::string> from{"", design.pins.front().id, design.pins.back().id};
      const Handle nominal = lay_out(design);
      Vec2 about{0, 0};
      int ends = 0;
      for (std::size_t j = 0; j < nominal.right.joints.size(); ++j)
        for (const StripEdge strip : {StripEdge::front, StripEdge::rear})
          for (const HandleEdge at : {HandleEdge::spine, HandleEdge::belly}) {
            if (strip == StripEdge::rear && !rear_lines_meet(nominal, j)) continue;
            const Vec3 end = end_of(nominal.right, j, strip, at).inner;
            about += Vec2{end.x, end.y};
            ++ends;
          }
      about /= ends;
      const Offset offset{about, {0.31, 0}, -0.004};
      const Handle truth = lay_out(with_right_off(design, offset));
      design.dry_fit = read_all(design, truth, random, 0.03, 0, from[static_cast<std::size_t>(datum)]);
      const auto fit = read_dry_fit(design, nominal);
      REQUIRE(fit);
      CHECK(glm::length(fit->about_mm - about) < 1e-9);
      CHECK(fit->shift_mm.value == Approx(0.31).margin(1e-7));
      CHECK(fit->turn_deg.value == Approx(-0.004 * kDegrees).margin(1e-6));
      CHECK(fit->shift_mm.within > 0);
      CHECK(fit->rest_mm < 1e-6);
      CHECK(fit->right_by.motion_of(about).x == Approx(0.31).margin(1e-3));
    }
}

TEST_CASE("a shift across is found where slants that differ show it, and only there", "[dry fit]") {
  Random random(1);
  Design design = unseeing(sample("paring_knife"));
  design.left.joints[0].slant_deg = -25;
  design.left.joints[1].slant_deg = 25;
  const Handle nominal = lay_out(design);
  Vec2 about{0, 0};
  for (std::size_t j = 0; j < 2; ++j)
    for (const StripEdge strip : {StripEdge::front, StripEdge::rear})
      for (const HandleEdge at : {HandleEdge::spine, HandleEdge::belly}) {
        const Vec3 end = end_of(nominal.right, j, strip, at).inner;
        about += Vec2{end.x, end.y} / 8.0;
      }
  const Handle truth = lay_out(with_right_off(design, {about, {-0.1, 0.25}, 0.002}));
  design.dry_fit = read_all(design, truth, random, 0.03, 0);
  auto fit = read_dry_fit(design, nominal);
  REQUIRE(fit);
  REQUIRE(fit->across_mm);
  CHECK(fit->across_mm->value == Approx(0.25).margin(1e-6));
  CHECK(fit->shift_mm.value == Approx(-0.1).margin(1e-6));
  CHECK(fit->turn_deg.value == Approx(0.002 * kDegrees).margin(1e-5));
  design.drilling.errors.set_across_mm = fit->across_mm->within * 0.99;
  fit = read_dry_fit(design, nominal);
  CHECK_FALSE(fit->across_mm);
}

TEST_CASE("steps and turns lie within what is stated, as often as is stated", "[dry fit]") {
  // Two standard deviations: 95.45 of 100.
  double steps = 0, steps_in = 0, turns = 0, turns_in = 0;
  for (std::uint64_t seed = 1; seed <= kSeeds; ++seed) {
    auto truth = random_truth(seed);
    if (!truth) continue;
    for (std::uint64_t round = 0; round < 4; ++round) {
      Random random(seed * 1000 + round);
      Design& design = truth->design;
      design.dry_fit = read_all(design, truth->handle, random, 0.04, 1);
      // Some ends are read twice, less closely.
      const auto again = read_all(design, truth->handle, random, 0.08, 1);
      design.dry_fit.insert(design.dry_fit.end(), again.begin(), again.begin() + 4);
      const auto fit = read_dry_fit(design, truth->nominal);
      REQUIRE(fit);
      std::set<std::size_t> seen;
      for (const FoundLine& line : fit->lines) {
        for (const HandleEdge at : {HandleEdge::spine, HandleEdge::belly}) {
          const double off =
              at_edge(line, at).value - step_of(truth->handle, line.joint, line.strip_edge, at);
          ++steps;
          if (std::abs(off) <= at_edge(line, at).within) ++steps_in;
        }
        if (!seen.insert(line.joint).second) continue;
        const double turn = std::atan(truth->handle.left.joints[line.joint].lines[0].plane.tan_slant) -
                            std::atan(truth->handle.right.joints[line.joint].lines[0].plane.tan_slant);
        ++turns;
        if (std::abs(line.turn_deg->value - turn * kDegrees) <= line.turn_deg->within) ++turns_in;
      }
    }
  }
  const auto in_band = [](double in, double of) {
    const double share = 0.9545;
    // Ends of one joint share its three figures: about half as many that are free of each other.
    const double deviation = std::sqrt(share * (1 - share) / (of / 2));
    return std::abs(in / of - share) < 4 * deviation;
  };
  INFO(steps_in << " of " << steps << ", " << turns_in << " of " << turns);
  CHECK(steps > 1000);
  CHECK(in_band(steps_in, steps));
  CHECK(in_band(turns_in, turns));
}

TEST_CASE("shift and turn of the scale lie within what is stated, as often as is stated", "[dry fit]") {
  Design design = sample("shucking_knife");
  const Handle nominal = lay_out(design);
  const Handle truth = lay_out(with_right_off(design, {{34, -0.7}, {0.2, 0}, 0.003}));
  const auto fit = [&] {
    return alignment::fit_motion(design, nominal, alignment::gather_readings(design, nominal).ends);
  };
  Random exact(1);
  design.dry_fit = read_all(design, truth, exact, 0.05, 0);
  const auto best = fit();
  int shift_in = 0, turn_in = 0;
  constexpr int kRounds = 2000;
  for (int round = 0; round < kRounds; ++round) {
    Random random(static_cast<std::uint64_t>(round) + 77);
    design.dry_fit = read_all(design, truth, random, 0.05, 1);
    const auto one = fit();
    if (std::abs(one.shift_mm.value - best.shift_mm.value) <= one.shift_mm.within) ++shift_in;
    if (std::abs(one.turn_deg.value - best.turn_deg.value) <= one.turn_deg.within) ++turn_in;
  }
  const double deviation = std::sqrt(0.9545 * 0.0455 * kRounds);
  CHECK(std::abs(shift_in - 0.9545 * kRounds) < 4 * deviation);
  CHECK(std::abs(turn_in - 0.9545 * kRounds) < 4 * deviation);
}

TEST_CASE("what was not read is taken along with the scale", "[dry fit]") {
  Design design = unseeing(sample("paring_knife"));
  const Handle nominal = lay_out(design);
  const Handle truth = lay_out(with_right_off(design, {{0, 0}, {0.2, 0}, 0}));
  for (const Which side : {Which::left, Which::right})
    design.dry_fit.push_back(take_reading(design, truth, {.side = side}, 0));
  const auto fit = read_dry_fit(design, nominal);
  REQUIRE(fit);
  REQUIRE(fit->lines.size() == 1);
  CHECK(fit->lines[0].spine_mm->value ==
        Approx(step_of(truth, 0, StripEdge::front, HandleEdge::spine)).margin(1e-9));
  CHECK_FALSE(fit->lines[0].belly_mm);
  CHECK_FALSE(fit->lines[0].turn_deg);
  CHECK(fit->turn_deg.value == 0);
  CHECK(fit->turn_deg.within == 0);
  const Handle found = lay_out(fit->as_found);
  for (const std::size_t joint : {0u, 1u})
    for (const HandleEdge at : {HandleEdge::spine, HandleEdge::belly})
      CHECK(step_of(found, joint, StripEdge::front, at) ==
            Approx(step_of(truth, joint, StripEdge::front, at)).margin(1e-6));
}

TEST_CASE("both lines of a joint read at one edge tell the strips' thickness", "[dry fit]") {
  Design design = unseeing(sample("shucking_knife"));
  const Handle nominal = lay_out(design);
  Design off = design;
  off.right.joints = off.left.joints;
  (*off.right.joints)[0].spacers[1].thickness_mm += 0.3;
  const Handle truth = lay_out(off);
  for (const StripEdge strip : {StripEdge::front, StripEdge::rear})
    for (const Which side : {Which::left, Which::right})
      design.dry_fit.push_back(take_reading(design, truth, {.strip_edge = strip, .side = side}, 0));
  const auto fit = read_dry_fit(design, nominal);
  REQUIRE(fit);
  CHECK(fit->as_found.right.joints.value()[0].spacers[1].thickness_mm == Approx(1.3).margin(1e-3));
  const Handle found = lay_out(fit->as_found);
  for (const StripEdge strip : {StripEdge::front, StripEdge::rear})
    CHECK(step_of(found, 0, strip, HandleEdge::spine) ==
          Approx(step_of(truth, 0, strip, HandleEdge::spine)).margin(1e-8));
}

TEST_CASE("readings of one end count by their accuracy, each against its own datum", "[dry fit]") {
  Design design = unseeing(sample("marking_knife"));
  const Handle nominal = lay_out(design);
  const std::string pin = design.pins[1].id;
  // Where the line lies ahead of the pin a longer reading is a smaller x.
  const bool ahead = nominal.left.joints[0].lines[0].spine.inner.x < design.pins[1].at_mm.x;
  const double sign = ahead ? -1 : 1;
  // From the front a step of 0.1 within 0.05 root 2, from the pin one of 0.2 within 0.1 root 2.
  design.dry_fit = {
      take_reading(design, nominal, {.side = Which::left, .accuracy_mm = 0.05}, 0.1),
      take_reading(design, nominal, {.side = Which::right, .accuracy_mm = 0.05}, 0),
      take_reading(design, nominal, {.side = Which::left, .from_pin = pin, .accuracy_mm = 0.1}, sign * 0.2),
      take_reading(design, nominal, {.side = Which::right, .from_pin = pin, .accuracy_mm = 0.1}, 0),
  };
  const double before = step_of(nominal, 0, StripEdge::front, HandleEdge::spine);
  const auto fit = read_dry_fit(design, nominal);
  REQUIRE(fit);
  const Measured& step = fit->lines.at(0).spine_mm.value();
  CHECK(step.value - before == Approx((0.1 / 0.005 + 0.2 / 0.02) / (1 / 0.005 + 1 / 0.02)).margin(1e-9));
  CHECK(step.within == Approx(std::sqrt(1 / (1 / 0.005 + 1 / 0.02))).margin(1e-9));
}

TEST_CASE("readings that can't be used are named with the reason", "[dry fit]") {
  Design design = sample("marking_knife");
  const Handle nominal = lay_out(design);
  CHECK_FALSE(read_dry_fit(design, nominal));
  CHECK(unused_readings(design, nominal).empty());
  design.dry_fit = {
      take_reading(design, nominal, {.side = Which::left}, 0),
      take_reading(design, nominal, {.side = Which::left, .from_pin = design.pins[0].id}, 0),
      {.joint = "guard", .reading_mm = 30},
      {.joint = "jiont_1", .reading_mm = 30},
      {.joint = "joint_1", .from_pin = "fornt_pin", .reading_mm = 3},
      {.joint = "joint_1", .reading_mm = 1900},
  };
  CHECK_FALSE(read_dry_fit(design, nominal));
  const auto unused = unused_readings(design, nominal);
  REQUIRE(unused.size() == 6);
  const std::vector<std::string> words{"only the left side was read from the front face",
                                       "only the left side was read from pin",
                                       "there is no joint with the id \"guard\" on both sides",
                                       "they have 1 in common; did you mean \"joint_1\"?",
                                       "no pin with the id \"fornt_pin\"; did you mean \"front_pin\"?",
                                       "off the handle"};
  for (std::size_t i = 0; i < words.size(); ++i) {
    CHECK(unused[i].reading == i);
    CHECK_THAT(unused[i].why, Catch::Contains(words[i]));
  }
  // Left from the front face and right from a pin have no datum in common.
  design.dry_fit[1].side = Which::right;
  CHECK_FALSE(read_dry_fit(design, nominal));
  CHECK(unused_readings(design, nominal).size() == 6);
  // The other side makes one of them good.
  design.dry_fit.push_back(take_reading(design, nominal, {.side = Which::right}, 0));
  CHECK(read_dry_fit(design, nominal));
  CHECK(unused_readings(design, nominal).size() == 5);
}

TEST_CASE("strips that only one side has leave a rear edge nothing to meet", "[dry fit]") {
  Design design = sample("shucking_knife");
  design.right.joints = design.left.joints;
  (*design.right.joints)[0].spacers.pop_back();
  const Handle nominal = lay_out(design);
  for (const StripEdge strip : {StripEdge::front, StripEdge::rear})
    for (const Which side : {Which::left, Which::right})
      design.dry_fit.push_back(take_reading(design, nominal, {.strip_edge = strip, .side = side}, 0));
  const auto fit = read_dry_fit(design, nominal);
  REQUIRE(fit);
  CHECK(fit->lines.size() == 1);
  REQUIRE(fit->unused.size() == 2);
  CHECK_THAT(fit->unused[0].why, Catch::Contains("3 strips on the left and 2 on the right"));
}

TEST_CASE("readings far off give a reason and no nonsense", "[dry fit]") {
  int problems = 0;
  for (std::uint64_t seed = 1; seed <= 120; ++seed) {
    INFO("seed " << seed);
    Design design = random_design(seed);
    const Handle nominal = lay_out(design);
    Random random(seed);
    if (joints_in_common(nominal) == 0) continue;
    design.dry_fit.clear();
    for (const HandleEdge at : {HandleEdge::spine, HandleEdge::belly})
      for (const Which side : {Which::left, Which::right})
        design.dry_fit.push_back({.joint = design.left.joints.front().id,
                                  .at = at,
                                  .side = side,
                                  .reading_mm = random.between(2, 90)});
    const auto fit = read_dry_fit(design, nominal);
    if (!fit) continue;
    CHECK(std::isfinite(fit->shift_mm.value));
    if (fit->problem.empty()) {
      CHECK(try_lay_out(fit->as_found));
    } else {
      ++problems;
      CHECK(fit->mends.empty());
    }
  }
  CHECK(problems > 5);
}
