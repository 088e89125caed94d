// Drawings with every kind of item at random places.
#pragma once

#include <cmath>
#include <numbers>
#include <string>

#include "haftwright/drawing/drawing.hpp"
#include "support/random.hpp"

namespace haftwright::test {

inline Vec2 random_place(Random& random) {
  return {random.between(-60, 60), random.between(-40, 40)};
}

/// Lines and arcs of every sweep, also more than half a turn.
inline std::vector<Node> random_chain(Random& random, std::size_t nodes) {
  std::vector<Node> chain;
  for (std::size_t i = 0; i < nodes; ++i)
    chain.push_back({random_place(random), random.chance(0.5) ? 0 : random.between(-3, 3)});
  return chain;
}

/// A star-shaped loop about a point, counter-clockwise; its edges don't cross while bulges are small.
inline std::vector<Node> random_loop(Random& random, Vec2 about, double reach) {
  const std::size_t count = random.count(3, 9);
  std::vector<Node> loop;
  for (std::size_t i = 0; i < count; ++i) {
    const double angle = 2 * std::numbers::pi * static_cast<double>(i) / static_cast<double>(count);
    const double radius = random.between(0.5, 1) * reach;
    loop.push_back({about + Vec2{std::cos(angle), std::sin(angle)} * radius,
                    random.chance(0.5) ? 0 : random.between(-0.15, 0.15)});
  }
  return loop;
}

inline Dimension random_dimension(Random& random) {
  const Vec2 from = random_place(random);
  const Vec2 to = random_place(random);
  const SheetLength offset{random.between(-9, 9), random.between(-20, 20)};
  switch (random.index(5)) {
    case 0:
      return aligned_dimension(from, to, offset, "12.5 mm");
    case 1:
      return level_dimension(from, to, random_place(random), offset, "7");
    case 2:
      return upright_dimension(from, to, random_place(random), offset, "1 3/16 in");
    case 3:
      return diameter_dimension(from, random.between(0.5, 30), random.between(-4, 4), "\xC3\x98 6");
    default:
      return {.kind = Dimension::Kind::leader, .from = from, .to = to, .words = "a <b> & \"c\""};
  }
}

inline Text random_text(Random& random) {
  return {.at = random_place(random),
          .shift_points = {random.between(-10, 10), random.between(-10, 10)},
          .words = "pin 2 <front> & \"rear\"",
          .height = {random.between(0, 2), random.between(4, 12)},
          .turn_rad = random.between(-1.5, 1.5),
          .along = static_cast<TextAlong>(random.index(3)),
          .across = static_cast<TextAcross>(random.index(3))};
}

inline Shape random_shape(Random& random) {
  switch (random.index(6)) {
    case 0:
      return Stroke{random_chain(random, random.count(2, 8)), random.chance(0.5)};
    case 1:
      return Circle{random_place(random), {random.between(0.1, 20), random.between(0, 3)}};
    case 2: {
      const Vec2 about = random_place(random);
      return Fill{.loops = {random_loop(random, about, 20), random_loop(random, about, 6)}};
    }
    case 3: {
      const Vec2 at = random_place(random);
      return Band{{at, at + Vec2{2, 0}, at + Vec2{5, 0}},
                  {at + Vec2{1, 20}, at + Vec2{2, 20}, at + Vec2{4, 20}}};
    }
    case 4:
      return random_text(random);
    default:
      return random_dimension(random);
  }
}

inline Drawing random_drawing(std::uint64_t seed, std::size_t items) {
  Random random(seed);
  Drawing drawing;
  for (std::size_t i = 0; i < items; ++i)
    drawing.add(static_cast<Role>(random.index(kRoleCount)), random_shape(random),
                random.chance(0.7) ? std::optional(i) : std::nullopt);
  return drawing;
}

}  // namespace haftwright::test
