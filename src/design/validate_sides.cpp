#include <algorithm>

#include "haftwright/design/schema.hpp"
#include "validate_parts.hpp"

namespace haftwright::design {
namespace {

/// One side as it will be made, and where in the file each of its parts stands.
struct SideView {
  Side side;
  std::string pieces_field, joints_field, finish_field;
};

SideView left_view(const Design& design) {
  return {design.left, "sides.left.pieces", "sides.left.joints", "sides.left.finish"};
}

SideView right_view(const Design& design) {
  const auto field = [](bool overridden, const char* key) {
    return std::string("sides.") + (overridden ? "right." : "left.") + key;
  };
  const SideOverrides& own = design.right;
  return {design.right_side(), field(own.pieces.has_value(), "pieces"),
          field(own.joints.has_value(), "joints"), field(own.finish.has_value(), "finish")};
}

void validate_side(const SideView& view, Problems& problems) {
  const Side& side = view.side;
  if (side.joints.size() + 1 != side.pieces.size()) {
    const std::string wanted = std::to_string(side.pieces.size() - 1);
    problems.push_back({view.joints_field, "must have one entry fewer than pieces, so " + wanted +
                                               " of them, but has " + std::to_string(side.joints.size())});
  }
  for (std::size_t i = 1; i < side.joints.size(); ++i)
    if (side.joints[i].place_mm <= side.joints[i - 1].place_mm)
      problems.push_back({view.joints_field + '[' + std::to_string(i) + "].place_mm",
                          "must be more than that of the joint before it, which is " +
                              shortest_number(side.joints[i - 1].place_mm) + " mm"});
  const auto& stations = side.finish.thickness_mm;
  for (std::size_t i = 1; i < stations.size(); ++i)
    if (stations[i].x <= stations[i - 1].x)
      problems.push_back({view.finish_field + ".thickness[" + std::to_string(i) + "].x_mm",
                          "must be more than that of the station before it, which is " +
                              shortest_number(stations[i - 1].x) + " mm"});
}

}  // namespace

void validate_sides(const Design& design, Problems& problems) {
  validate_side(left_view(design), problems);
  const SideView right = right_view(design);
  const bool differs = design.right.pieces || design.right.joints || design.right.finish;
  if (!differs) return;
  Problems found;
  validate_side(right, found);
  // What the right side takes from the left was reported there.
  for (Problem& problem : found)
    if (std::ranges::none_of(problems, [&](const Problem& p) { return p.field == problem.field; }))
      problems.push_back(std::move(problem));
}

}  // namespace haftwright::design
