// Hole to hole.
#include <algorithm>
#include <optional>
#include <set>
#include <tuple>

#include "haftwright/handle/measures.hpp"
#include "kinds.hpp"

namespace haftwright::checks {
namespace {

struct Neighbour {
  std::size_t pin = 0;
  double distance_mm = 0;
  double limit_mm = 0;
  Vec2 at{0, 0};
  /// Tightest first; ties fall by place, so that the order of the pins in the project changes nothing.
  auto rank() const { return std::tuple(distance_mm - limit_mm, at.x, at.y); }
};

/// Of all other pins the one with the smallest margin.
std::optional<Neighbour> tightest(const Design& design, const std::vector<PlanHole>& holes, std::size_t pin) {
  std::optional<Neighbour> best;
  for (std::size_t j = 0; j < holes.size(); ++j) {
    if (j == pin) continue;
    const double larger = std::max(holes[pin].diameter_mm, holes[j].diameter_mm);
    const Neighbour other{j, glm::distance(holes[pin].at, holes[j].at),
                          design.rules.spacing_diameters * larger, holes[j].at};
    if (!best || other.rank() < best->rank()) best = other;
  }
  return best;
}

void add(const Report& report, std::size_t pin, std::size_t other, double limit_mm, std::string why) {
  const Design& design = report.design;
  const Vec2 from = design.pins[pin].at_mm;
  const Vec2 to = design.pins[other].at_mm;
  report.add({.id = "hole.spacing",
              .where = {{.thing = Thing::pin, .index = pin}, Spot{.thing = Thing::pin, .index = other}},
              .place = Vec3{from, 0},
              .to = Vec3{to, 0},
              .value = glm::distance(from, to),
              .limit = limit_mm,
              .why = std::move(why),
              .basis = basis_words(&ShopRules::spacing_diameters)});
}

}  // namespace

void check_hole_spacing(const Report& report) {
  const Design& design = report.design;
  std::vector<PlanHole> holes;
  for (const Pin& pin : design.pins) holes.push_back(scale_hole(pin));
  std::set<std::pair<std::size_t, std::size_t>> told;  // two pins that are each other's tightest: told once
  for (const HoleOverlap& overlap : overlapping_holes(report.handle)) {
    told.insert({overlap.pin, overlap.other});
    const double larger = std::max(holes[overlap.pin].diameter_mm, holes[overlap.other].diameter_mm);
    add(report, overlap.pin, overlap.other,
        std::max(overlap.needed_mm, design.rules.spacing_diameters * larger),
        "The two holes run into each other (" + overlap.layers +
            "): the second drill runs off into the first hole, and neither pin is held all round. Move the "
            "pins apart or take one away.");
  }
  for (std::size_t i = 0; i < holes.size(); ++i) {
    const auto other = tightest(design, holes, i);
    if (!other || !told.insert(std::minmax(i, other->pin)).second) continue;
    add(report, i, other->pin, other->limit_mm,
        "Holes close together along the grain split the wood between them. Move the pins apart or use "
        "thinner ones.");
  }
}

}  // namespace haftwright::checks
