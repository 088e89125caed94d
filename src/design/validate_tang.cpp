#include "haftwright/design/schema.hpp"
#include "haftwright/geometry/outline_ops.hpp"
#include "validate_parts.hpp"

namespace haftwright::design {
namespace {

/// The chain as an outline, or a problem at the node that spoils it.
std::optional<Outline> good_outline(const std::vector<Node>& chain, const std::string& field,
                                    Problems& problems) {
  if (const auto fault = find_fault(chain)) {
    problems.push_back({field + '[' + std::to_string(fault->node) + ']', fault->what});
    return std::nullopt;
  }
  return Outline(chain);
}

/// Touching, crossing, or one inside the other.
bool meet(const Outline& a, const Outline& b) {
  const Bounds& p = a.bounds();
  const Bounds& q = b.bounds();
  if (p.high.x < q.low.x || q.high.x < p.low.x || p.high.y < q.low.y || q.high.y < p.low.y) return false;
  return boundary_distance_mm(a, b) <= 0 || contains(a, b) || contains(b, a);
}

void validate_cutouts(const Outline& outline, const std::vector<Outline>& cutouts, Problems& problems) {
  for (std::size_t i = 0; i < cutouts.size(); ++i) {
    if (!contains(outline, cutouts[i]) || boundary_distance_mm(outline, cutouts[i]) <= 0)
      problems.push_back({indexed("tang.cutouts", i), "must lie wholly inside the tang"});
    for (std::size_t k = 0; k < i; ++k)
      if (meet(cutouts[i], cutouts[k]))
        problems.push_back(
            {indexed("tang.cutouts", i), "meets cutout " + std::to_string(k) + "; make them one cutout"});
  }
}

void validate_holes(const Tang& tang, const Outline& outline, const std::vector<Outline>& cutouts,
                    Problems& problems) {
  for (std::size_t i = 0; i < tang.holes.size(); ++i) {
    const TangHole& hole = tang.holes[i];
    const std::string field = indexed("tang.holes", i);
    const double radius = hole.diameter_mm / 2;
    if (outline.depth_mm(hole.at_mm) <= radius)
      problems.push_back({field, "the hole must lie wholly inside the tang"});
    for (std::size_t k = 0; k < cutouts.size(); ++k)
      if (cutouts[k].depth_mm(hole.at_mm) >= -radius)
        problems.push_back({field, "the hole meets cutout " + std::to_string(k) + " of the tang"});
    for (std::size_t k = 0; k < i; ++k)
      if (glm::distance(hole.at_mm, tang.holes[k].at_mm) <= radius + tang.holes[k].diameter_mm / 2)
        problems.push_back(
            {field, "the hole meets hole " + std::to_string(k + 1) +
                        (tang.holes[k].name.empty() ? "" : ", " + schema::quoted(tang.holes[k].name))});
  }
}

}  // namespace

void validate_tang(const Tang& tang, Problems& problems) {
  const auto outline = good_outline(tang.outline, "tang.outline", problems);
  std::vector<Outline> cutouts;
  for (std::size_t i = 0; i < tang.cutouts.size(); ++i)
    if (auto cutout = good_outline(tang.cutouts[i], indexed("tang.cutouts", i), problems))
      cutouts.push_back(std::move(*cutout));
  if (!outline || cutouts.size() != tang.cutouts.size()) return;
  if (outline->bounds().high.x <= 0)
    problems.push_back({"tang.outline", "lies wholly ahead of x = 0, where the front face is measured from"});
  validate_cutouts(*outline, cutouts, problems);
  validate_holes(tang, *outline, cutouts, problems);
}

}  // namespace haftwright::design
