// Hole to hole.
#include <algorithm>
#include <optional>
#include <set>
#include <tuple>

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

}  // namespace

void check_hole_spacing(const Report& report) {
  const Design& design = report.design;
  std::vector<PlanHole> holes;
  for (const Pin& pin : design.pins) holes.push_back(scale_hole(pin));
  std::set<std::pair<std::size_t, std::size_t>> told;  // two pins that are each other's tightest: told once
  for (std::size_t i = 0; i < holes.size(); ++i) {
    const auto other = tightest(design, holes, i);
    if (!other || !told.insert(std::minmax(i, other->pin)).second) continue;
    report.add(
        {.id = "hole.spacing",
         .where = pin_words(design, i) + " to " + pin_words(design, other->pin),
         .place = Vec3{holes[i].at, 0},
         .to = Vec3{other->at, 0},
         .pin = i,
         .value = other->distance_mm,
         .limit = other->limit_mm,
         .why =
             "Holes close together along the grain split the wood between them. Move the pins apart or use "
             "thinner ones.",
         .basis = basis_words(&ShopRules::spacing_diameters)});
  }
}

}  // namespace haftwright::checks
