// Curves that are neither lines nor arcs, as places along them.
#pragma once

#include <algorithm>
#include <vector>

#include "affine.hpp"

namespace haftwright::intake {

/// centre + u cos t + v sin t, from `start` over `sweep` (radians, either sign).
struct EllipticArc {
  Vec2 centre{0, 0};
  Vec2 u{1, 0};
  Vec2 v{0, 1};
  double start = 0;
  double sweep = 0;

  Vec2 point(double t) const { return centre + u * std::cos(t) + v * std::sin(t); }
  Vec2 direction(double t) const { return (v * std::cos(t) - u * std::sin(t)) * (sweep < 0 ? -1.0 : 1.0); }
  Vec2 from() const { return point(start); }
  Vec2 to() const { return point(start + sweep); }
  EllipticArc under(const Affine& map) const {
    return {map(centre), map.direction(u), map.direction(v), start, sweep};
  }
};

/// Halvings of a stretch of a curve, at most: what still leaves its chord then has no end of detail.
inline constexpr int kMostHalvings = 14;

/// Adds places of `curve` from just behind `t0` to `t1`, such that the chords leave the curve by no more than
/// `chord_mm`, as seen at the middle and the quarters of each. Returns the largest such distance that is
/// left.
template <class Curve>
double add_places(const Curve& curve, double t0, double t1, Vec2 p0, Vec2 p1, double chord_mm, int halvings,
                  std::vector<Vec2>& places) {
  const double middle = (t0 + t1) / 2;
  const Vec2 pm = curve(middle);
  double off = 0;
  const Vec2 chord = p1 - p0;
  const double length = std::sqrt(glm::dot(chord, chord));
  const auto leave = [&](Vec2 p) {
    const double share = length > 0 ? std::clamp(glm::dot(p - p0, chord) / (length * length), 0.0, 1.0) : 0.0;
    const Vec2 apart = p - (p0 + chord * share);
    off = std::max(off, std::sqrt(glm::dot(apart, apart)));
  };
  leave(pm);
  leave(curve((t0 + middle) / 2));
  leave(curve((middle + t1) / 2));
  if (off <= chord_mm || halvings == 0) {
    places.push_back(p1);
    return off;
  }
  const double left = add_places(curve, t0, middle, p0, pm, chord_mm, halvings - 1, places);
  return std::max(left, add_places(curve, middle, t1, pm, p1, chord_mm, halvings - 1, places));
}

/// The same over `parts` equal stretches, so that no bay between two places is missed.
template <class Curve>
double add_places(const Curve& curve, double t0, double t1, int parts, double chord_mm,
                  std::vector<Vec2>& places) {
  double off = 0;
  Vec2 before = curve(t0);
  for (int i = 0; i < parts; ++i) {
    const double a = t0 + (t1 - t0) * i / parts;
    const double b = i + 1 == parts ? t1 : t0 + (t1 - t0) * (i + 1) / parts;
    const Vec2 after = curve(b);
    off = std::max(off, add_places(curve, a, b, before, after, chord_mm, kMostHalvings, places));
    before = after;
  }
  return off;
}

}  // namespace haftwright::intake
