// The three questions asked of the poses that pins leave.
#include "haftwright/tolerance/clearance.hpp"

#include <algorithm>
#include <cmath>

#include "pose_space.hpp"

namespace haftwright {

using namespace tolerance;
namespace {

/// As close as asked, or as numbers of that size can be told apart.
double close_enough(double size_mm) {
  return std::max(1e-11, 1e-13 * size_mm);
}

/// Ways to move that change some step, for pins that leave a turn free. One that changes none is left out: it
/// has no best.
PoseSpace ways_of_steps(const PoseSpace& shifts, std::span<const Step> steps) {
  PoseSpace space = shifts;
  double lever = 0;
  double along = 0;
  for (const Step& step : steps) {
    lever = std::max(lever, std::abs(step.effect.turn_mm));
    along = std::max(along, glm::length(step.effect.along));
  }
  if (lever > one_spot_mm * along) space.add({.turn_rad = 1 / lever});
  return space;
}

using Row = std::array<double, 3>;
double dot(const Row& a, const Row& b) {
  return a[0] * b[0] + a[1] * b[1] + a[2] * b[2];
}

/// The same where no pin holds anything: the ways that the steps' effects span.
PoseSpace spanned_ways(std::span<const Step> steps) {
  const PoseSpace all = ways_of_steps(shifts_only(), steps);
  std::vector<Row> rows;
  for (const Step& step : steps) {
    Row& row = rows.emplace_back();
    for (std::size_t i = 0; i < all.count; ++i) row[i] = step.effect.of(all.ways[i]);
  }
  PoseSpace space;
  double first = 0;
  while (space.count < all.count && !rows.empty()) {
    const Row longest = *std::ranges::max_element(rows, {}, [](const Row& row) { return dot(row, row); });
    const double length = std::sqrt(dot(longest, longest));
    if (space.count == 0) first = length;
    if (!(length > 1e-9 * first)) break;
    Pose way;
    for (std::size_t i = 0; i < all.count; ++i) {
      way.shift_mm += longest[i] / length * all.ways[i].shift_mm;
      way.turn_rad += longest[i] / length * all.ways[i].turn_rad;
    }
    space.add(way);
    for (Row& row : rows) {
      const double part = dot(row, longest) / (length * length);
      for (std::size_t i = 0; i < 3; ++i) row[i] -= part * longest[i];
    }
  }
  return space;
}

double greatest_of(std::span<const Step> steps, const Pose& pose) {
  double greatest = 0;
  for (const Step& step : steps)
    greatest = std::max(greatest, std::abs(step.offset_mm + step.effect.of(pose)));
  return greatest;
}

BestPose smallest_within(const PoseSet& set, std::span<const Step> steps) {
  const Pose start_pose = set.space.at(set.inside);
  const double start = greatest_of(steps, start_pose);
  if (set.space.count == 0 || start == 0) return {start_pose, start, start};
  ConeProgram program{.pose_variables = set.space.count, .rising = true, .close_enough = close_enough(start)};
  for (const PinClearance& pin : set.free) program.cones.push_back(set.space.cone(pin));
  for (const Step& step : steps) {
    Cone cone = set.space.cone(step.offset_mm, step.effect);
    cone.rises = true;
    program.cones.push_back(cone);
  }
  Variables from = set.inside;
  from[set.space.count] = 2 * start;
  const ConeAnswer answer = least_cost(program, from);
  const Pose pose = set.space.at(answer.at);
  const double greatest = greatest_of(steps, pose);
  return {pose, greatest, std::clamp(answer.at_least, 0.0, greatest)};
}

FarthestPose farthest_within(const PoseSet& set, const PoseEffect& effect) {
  FarthestPose found{.pose = set.space.at(set.inside)};
  found.value_mm = found.at_most_mm = effect.of(found.pose);
  ConeProgram program{.pose_variables = set.space.count};
  double size = 0;
  for (std::size_t i = 0; i < set.space.count; ++i)
    size = std::max(size, std::abs(effect.of(set.space.ways[i])));
  if (size == 0) return found;
  double radius = 0;
  for (std::size_t i = 0; i < set.space.count; ++i) program.cost[i] = -effect.of(set.space.ways[i]) / size;
  for (const PinClearance& pin : set.free) {
    program.cones.push_back(set.space.cone(pin));
    radius = std::max(radius, pin.radius_mm);
  }
  program.close_enough = close_enough(size * radius) / size;
  const ConeAnswer answer = least_cost(program, set.inside);
  found.pose = set.space.at(answer.at);
  found.value_mm = effect.of(found.pose);
  found.at_most_mm = std::max(found.value_mm, effect.of(set.space.base) - size * answer.at_least);
  return found;
}

}  // namespace

FarthestPose farthest(std::span<const PinClearance> pins, const PoseEffect& effect) {
  if (pins.empty()) return {.kind = ClearanceKind::no_pin};
  const FromMiddle seen(pins);
  const std::optional<PoseSet> set =
      pose_set(seen.pins(), seen.one_spot() ? shifts_only() : all_poses(seen.reach_mm()));
  if (!set) return {.kind = ClearanceKind::no_fit};
  FarthestPose found = farthest_within(*set, seen.seen(effect));
  found.kind = seen.one_spot() ? ClearanceKind::one_pin : ClearanceKind::held;
  found.pose = seen.unseen(found.pose);
  return found;
}

std::optional<DeepestPose> deepest(std::span<const PinClearance> pins) {
  const FromMiddle seen(pins);
  if (seen.one_spot()) return std::nullopt;
  const PoseSpace space = all_poses(seen.reach_mm());
  const ConeAnswer growth = least_growth(seen.pins(), space);
  return DeepestPose{.pose = seen.unseen(space.at(growth.at)), .room_mm = -growth.value};
}

std::optional<BestPose> smallest_steps(std::span<const PinClearance> pins, std::span<const Step> steps) {
  const FromMiddle seen(pins);
  std::vector<Step> seen_steps(steps.begin(), steps.end());
  for (Step& step : seen_steps) step.effect = seen.seen(step.effect);
  std::optional<PoseSet> set;
  if (pins.empty()) {
    set = PoseSet{.space = spanned_ways(seen_steps)};
  } else if (seen.one_spot()) {
    set = pose_set(seen.pins(), shifts_only());
    if (set) set->space = ways_of_steps(set->space, seen_steps);
  } else {
    set = pose_set(seen.pins(), all_poses(seen.reach_mm()));
  }
  if (!set) return std::nullopt;
  BestPose best = smallest_within(*set, seen_steps);
  best.pose = seen.unseen(best.pose);
  return best;
}

}  // namespace haftwright
