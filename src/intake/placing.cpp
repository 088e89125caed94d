#include "haftwright/intake/placing.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>

#include "affine.hpp"
#include "haftwright/geometry/outline_ops.hpp"
#include "numbers.hpp"
#include "path_maker.hpp"

namespace haftwright::intake {
namespace {

constexpr double kDegree = std::numbers::pi / 180;

// Places along the part where its middle is looked for.
constexpr int kStations = 40;

// What is written is rounded to a millionth of a micrometre, so that 110 does not read 109.99999999999999.
constexpr double kSteps_per_mm = 1e9;

/// Quarter turns without rounding.
Affine turned_deg(double degrees) {
  const double quarters = degrees / 90;
  if (quarters != std::round(quarters)) return Affine::turned(std::fmod(degrees, 360) * kDegree);
  switch (static_cast<int>(std::fmod(std::fmod(quarters, 4) + 4, 4))) {
    case 1:
      return {{0, 1}, {-1, 0}, {0, 0}};
    case 2:
      return {{-1, 0}, {0, -1}, {0, 0}};
    case 3:
      return {{0, -1}, {1, 0}, {0, 0}};
    default:
      return {};
  }
}

Outline moved(const Outline& outline, const Affine& map) {
  std::vector<Node> nodes = outline.nodes();
  for (Node& node : nodes) node = {map(node.at), map.mirrors() ? -node.bulge : node.bulge};
  return Outline::trusted(std::move(nodes));
}

Vec2 rounded(Vec2 p) {
  return glm::round(p * kSteps_per_mm) / kSteps_per_mm + 0.0;  // no "-0"
}

std::vector<Node> rounded(std::vector<Node> nodes) {
  for (Node& node : nodes) node.at = rounded(node.at);
  return nodes;
}

/// The mean height of what is halfway between the lowest and the highest place, from `front_x` to the rear.
double middle_y(const Outline& outline, double front_x) {
  const double length = outline.bounds().high.x - front_x;
  double sum = 0;
  int found = 0;
  for (int i = 0; i < kStations; ++i) {
    const auto cut = crossings(outline, {front_x + length * (i + 0.5) / kStations, 0}, {0, 1});
    if (cut.empty()) continue;
    sum += (cut.front().along_mm + cut.back().along_mm) / 2;
    ++found;
  }
  return found > 0 ? sum / found : (outline.bounds().low.y + outline.bounds().high.y) / 2;
}

/// Counter-clockwise, for a part that has been mirrored already where it is to be.
double turn_deg(const Outline& outline, const Placing& placing, const Affine& mirror) {
  double turn = 0;
  if (placing.axis) {
    const Vec2 along = mirror.direction(placing.axis->rear - placing.axis->front);
    if (!(glm::length(along) > 1e-9)) throw IntakeError("", "the axis needs two different places");
    turn = -std::atan2(along.y, along.x) / kDegree;
  } else if (placing.turn_deg) {
    turn = *placing.turn_deg;
  } else {
    const Vec2 size = outline.bounds().size();
    turn = size.y > size.x ? -90 : 0;
  }
  return placing.front_right ? turn + 180 : turn;
}

/// A line that is spoilt where the part lies may be one of its holes or cutouts.
void refuse_spoilt(const Loops& loops, const Bounds& box) {
  for (const Spoilt& spoilt : loops.spoilt) {
    const bool apart = spoilt.box.high.x < box.low.x || spoilt.box.low.x > box.high.x ||
                       spoilt.box.high.y < box.low.y || spoilt.box.low.y > box.high.y;
    if (!apart)
      throw IntakeError(at_line(spoilt.line),
                        "the closed line that begins here can't be used: " + spoilt.what);
  }
}

}  // namespace

PlacedPart place(const Loops& loops, std::size_t chosen, const Placing& placing) {
  const Loop& loop = loops.loops.at(chosen);
  refuse_spoilt(loops, loop.outline.bounds());
  const Affine mirror = placing.mirror ? Affine::scaled(1, -1) : Affine{};
  const Outline seen = moved(loop.outline, mirror);
  PlacedPart part;
  part.turned_deg = turn_deg(seen, placing, mirror);
  const Affine turned = turned_deg(part.turned_deg).after(mirror);
  const Outline level = moved(loop.outline, turned);
  const double front_x = level.bounds().low.x + placing.front_mm;
  part.length_mm = level.bounds().high.x - front_x;
  if (!(placing.front_mm >= 0) || !(part.length_mm > 0))
    throw IntakeError("", "the front can't lie " + short_number(placing.front_mm) +
                              " mm behind the front end: the part is " +
                              short_number(level.bounds().size().x) + " mm long");
  const double axis_y = placing.axis ? turned(placing.axis->front).y : middle_y(level, front_x);
  const Affine map = Affine::shifted({-front_x, -axis_y}).after(turned);
  const Outline outline = moved(loop.outline, map);
  part.outline = rounded(outline.nodes());
  part.height_mm = outline.bounds().size().y;
  for (const std::size_t inner : loop.holds) {
    const Loop& opening = loops.loops[inner];
    part.islands += opening.holds.size();
    if (opening.round)
      part.holes.push_back({rounded(map(opening.round->centre)),
                            std::round(opening.round->diameter_mm * kSteps_per_mm) / kSteps_per_mm});
    else
      part.cutouts.push_back(rounded(moved(opening.outline, map).nodes()));
  }
  std::sort(part.holes.begin(), part.holes.end(), [](const Round& a, const Round& b) {
    return a.centre.x != b.centre.x ? a.centre.x < b.centre.x : a.centre.y < b.centre.y;
  });
  return part;
}

}  // namespace haftwright::intake
