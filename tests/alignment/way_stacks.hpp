// Chains of the ways of drilling, and what a test looks for in them.
#pragma once

#include <catch2/catch.hpp>
#include <cmath>
#include <map>
#include <optional>

#include "haftwright/alignment/assess.hpp"
#include "haftwright/design/validate.hpp"
#include "haftwright/files/project_file.hpp"
#include "haftwright/handle/lay_out.hpp"
#include "handle/bar.hpp"
#include "support/random_design.hpp"
#include "support/sample_files.hpp"

namespace haftwright::test {

inline constexpr double kFreeLean = 0.5;  // deg, ShopErrors' default
inline const SampleSettings kFew{.samples = 2000, .threads = 1};

inline std::vector<Design> samples() {
  std::vector<Design> designs;
  for (const auto& file : sample_files(HAFTWRIGHT_PROJECTS)) designs.push_back(read_project(file));
  return designs;
}

inline std::vector<Design> designs_to_try() {
  std::vector<Design> designs = samples();
  for (std::uint64_t seed = 0; seed < 60; ++seed) designs.push_back(random_design(seed));
  return designs;
}

/// The bar with pins of 3 mm in 3.1 mm holes, measured, along its middle.
inline Design pinned_bar(const std::vector<double>& places_x, double hole_mm = 3.1) {
  Design design = bar();
  for (const double x : places_x) {
    design.pins.push_back(pin_at({x, 0}, 3, hole_mm));
    design.pins.back().name = "pin " + std::to_string(design.pins.size());
  }
  return design;
}

inline ShopErrors no_errors() {
  ShopErrors errors;
  for (const ErrorRow& row : error_rows()) errors.*row.member = 0;
  return errors;
}

inline std::optional<DrillGuide> guide_of(const Design& design, const Handle& handle) {
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

inline LineUp line_up_of(const Design& design, DrillWay way) {
  const Handle handle = lay_out(design);
  const DrillGuide guide = lay_out_guide(design, handle);
  return line_up(design, handle, way, &guide);
}

/// What each variable of a contributor adds to some sensitivities, by variable and summed.
inline std::vector<double> parts_of(const ToleranceStack& stack, const Sensitivities& sensitivities,
                                    std::string_view contributor) {
  std::map<std::size_t, double> sums;
  for (const Sensitivity& sensitivity : sensitivities)
    if (stack.contributors[stack.variables[sensitivity.variable].contributor].key == contributor)
      sums[sensitivity.variable] += sensitivity.mm_at_limit;
  std::vector<double> parts;
  for (const auto& [variable, sum] : sums)
    if (std::abs(sum) > 1e-12) parts.push_back(sum);
  return parts;
}

/// Index of the step at a joint line (or none: the front face).
inline std::size_t step_at(const LineUp& line_up, std::optional<std::size_t> joint, HandleEdge edge,
                           bool surface) {
  for (std::size_t m = 0; m < line_up.measures.size(); ++m) {
    const MeetingPlace& place = line_up.places[line_up.measures[m].place];
    if (line_up.measures[m].kind == Measure::Kind::step_mm && place.joint == joint && place.edge == edge &&
        place.surface == surface)
      return m;
  }
  FAIL("no such measure");
  return 0;
}

inline const Sensitivities& step_sensitivities(const LineUp& line_up, std::size_t joint,
                                               HandleEdge edge = HandleEdge::spine, bool surface = false) {
  return line_up.stack.measures[step_at(line_up, joint, edge, surface)].sensitivities;
}

}  // namespace haftwright::test
