// Outlines for the tests of this room: plain shapes with closed forms, and random ones.
#pragma once

#include <algorithm>
#include <cmath>
#include <numbers>
#include <vector>

#include "haftwright/geometry/outline.hpp"
#include "haftwright/geometry/outline_ops.hpp"
#include "support/random.hpp"

namespace haftwright::test {

inline Outline rectangle(Vec2 low, Vec2 high) {
  return Outline({{low, 0}, {{high.x, low.y}, 0}, {high, 0}, {{low.x, high.y}, 0}});
}

inline Outline circle(Vec2 centre, double r) {
  return Outline({{centre - Vec2{r, 0}, 1}, {centre + Vec2{r, 0}, 1}});
}

/// Straight along x from (0, -r) over a length, round at both ends.
inline Outline stadium(double length, double r) {
  return Outline({{{0, -r}, 0}, {{length, -r}, 1}, {{length, r}, 0}, {{0, r}, 1}});
}

/// A polygon's corner with its fillet.
struct Corner {
  Vec2 at{0, 0};
  double fillet_mm = 0;
};

/// The chain of a polygon with fillets tangent to its sides; a fillet too large for its sides is made
/// smaller.
inline std::vector<Node> filleted(const std::vector<Corner>& corners) {
  std::vector<Node> chain;
  const std::size_t n = corners.size();
  for (std::size_t i = 0; i < n; ++i) {
    const Vec2 p = corners[i].at;
    const Vec2 in = p - corners[(i + n - 1) % n].at;
    const Vec2 out = corners[(i + 1) % n].at - p;
    const double turn = std::atan2(cross(in, out), glm::dot(in, out));
    const double room = 0.45 * std::min(glm::length(in), glm::length(out));
    const double cut = std::min(room, corners[i].fillet_mm * std::abs(std::tan(turn / 2)));
    if (cut < 1e-3) {
      chain.push_back({p, 0});
      continue;
    }
    chain.push_back({p - in * (cut / glm::length(in)), std::tan(turn / 4)});
    chain.push_back({p + out * (cut / glm::length(out)), 0});
  }
  return chain;
}

/// A star-shaped chain with bulges of either sign; corners of all kinds.
inline std::vector<Node> random_star(Random& random) {
  const std::size_t n = random.count(3, 24);
  const double size = random.between(5, 60);
  const double bend = random.chance(0.3) ? 0 : random.between(0, 0.8);
  const Vec2 centre{random.between(-50, 50), random.between(-50, 50)};
  std::vector<Node> chain;
  for (std::size_t i = 0; i < n; ++i) {
    const double angle =
        2 * std::numbers::pi * (static_cast<double>(i) + random.between(-0.4, 0.4)) / static_cast<double>(n);
    const double r = size * random.between(0.3, 1);
    const double bulge = random.chance(0.3) ? 0 : bend * random.between(-1, 1);
    chain.push_back({centre + Vec2{r * std::cos(angle), r * std::sin(angle)}, bulge});
  }
  return chain;
}

/// The plan of a handle from front (x = 0) to butt: belly with finger notches, filleted corners, spine.
inline std::vector<Node> random_handle(Random& random) {
  const double length = random.between(80, 140);
  const double half = random.between(9, 18);
  std::vector<Corner> corners{
      {{0, -half * random.between(0.6, 1)}, random.chance(0.5) ? 0 : random.between(0.5, 6)}};
  const std::size_t steps = random.count(2, 6);
  const auto station = [&](std::size_t i) {
    return length * (static_cast<double>(i) + random.between(-0.2, 0.2)) / static_cast<double>(steps + 1);
  };
  for (std::size_t i = 1; i <= steps; ++i) {
    corners.push_back({{station(i), -half * random.between(0.5, 1.2)}, random.between(0, 40)});
  }
  corners.push_back({{length, -half * random.between(0.5, 1.3)}, random.between(0, 15)});
  corners.push_back(
      {{length * random.between(0.95, 1.05), half * random.between(0.2, 1)}, random.between(0, 15)});
  for (std::size_t i = steps; i >= 1; --i) {
    corners.push_back({{station(i), half * random.between(0.6, 1.1)}, random.between(0, 60)});
  }
  corners.push_back({{random.between(-2, 2), half * random.between(0.6, 1)},
                     random.chance(0.5) ? 0 : random.between(0.5, 6)});
  std::vector<Node> chain = filleted(corners);
  for (Node& node : chain) {  // notches for the fingers, scooped out of straight stretches
    if (node.bulge == 0 && node.at.y < 0 && random.chance(0.3)) node.bulge = -random.between(0.05, 0.6);
  }
  return chain;
}

/// Corners almost but not quite gone: a filleted chain with its nodes and bulges a little off.
inline std::vector<Node> random_worn(Random& random) {
  std::vector<Node> chain = random_handle(random);
  const double off = std::pow(10, random.between(-10, -3));
  for (Node& node : chain) {
    node.at += Vec2{random.between(-off, off), random.between(-off, off)};
    node.bulge += random.between(-off, off);
  }
  return chain;
}

/// A block with a bay behind a narrower mouth: growing it closes the mouth first.
inline std::vector<Node> random_bay(Random& random) {
  const double mouth = random.between(1, 8);
  const double bay = mouth * random.between(1.05, 3);
  const double neck = random.between(1, 10);
  const double wall = random.between(1, 20);
  const double side = bay + random.between(2, 20);
  const double top = wall + 2 * bay + neck;
  const double fillet = random.chance(0.5) ? 0 : random.between(0.1, mouth);
  const double lean = random.chance(0.5) ? 0 : random.between(-0.5, 0.5);
  return filleted({{{-side, 0}, fillet},
                   {{side, lean}, fillet},
                   {{side, top}, fillet},
                   {{mouth, top + lean}, fillet},
                   {{mouth, wall + 2 * bay}, fillet},
                   {{bay, wall + 2 * bay - lean}, random.between(0, bay)},
                   {{bay, wall}, random.between(0, bay)},
                   {{-bay, wall}, random.between(0, bay)},
                   {{-bay, wall + 2 * bay}, random.between(0, bay)},
                   {{-mouth, wall + 2 * bay}, fillet},
                   {{-mouth, top}, fillet},
                   {{-side, top}, fillet}});
}

/// Steps up and down along x with whole coordinates: offsets by whole and half millimetres meet everywhere at
/// once, in corners, along edges and in tangent fillets.
inline std::vector<Node> random_steps(Random& random) {
  const std::size_t n = random.count(1, 6);
  std::vector<double> stations{0};
  for (std::size_t i = 0; i < n; ++i)
    stations.push_back(stations.back() + static_cast<double>(random.count(1, 8)));
  const double fillet = random.chance(0.4) ? 0 : static_cast<double>(random.count(1, 4)) / 2;
  std::vector<Corner> corners;
  const auto add_steps = [&](double sign) {
    for (std::size_t k = 0; k < n; ++k) {
      const std::size_t i = sign < 0 ? k : n - 1 - k;
      const double y = sign * static_cast<double>(random.count(1, 9));
      const double first = stations[sign < 0 ? i : i + 1];
      const double last = stations[sign < 0 ? i + 1 : i];
      corners.push_back({{first, y}, fillet});
      corners.push_back({{last, y}, fillet});
    }
  };
  add_steps(-1);
  add_steps(1);
  return filleted(corners);
}

/// Calls make until it gives a chain without fault.
template <class Make>
Outline random_outline(Random& random, Make make) {
  for (;;) {
    const std::vector<Node> chain = make(random);
    if (!find_fault(chain)) return Outline(chain);
  }
}

/// One of all the kinds above.
inline Outline random_outline(Random& random) {
  switch (random.index(6)) {
    case 0:
    case 1:
      return random_outline(random, random_star);
    case 2:
      return random_outline(random, random_handle);
    case 3:
      return random_outline(random, random_worn);
    case 4:
      return random_outline(random, random_bay);
    default:
      return random_outline(random, random_steps);
  }
}

}  // namespace haftwright::test
