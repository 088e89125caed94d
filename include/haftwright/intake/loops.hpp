// Closed loops out of the paths of a drawing, and what lies inside what.
#pragma once

#include "haftwright/intake/sketch.hpp"

namespace haftwright::intake {

/// A full circle.
struct Round {
  Vec2 centre{0, 0};
  double diameter_mm = 0;
};

struct Loop {
  Outline outline;
  std::optional<Round> round;         ///< within the tolerance
  std::string layer;                  ///< of its first path
  std::size_t line = 0;               ///< of the file, where its first path begins
  double deviation_mm = 0;            ///< how far its edges leave the curves that they stand for
  std::optional<std::size_t> inside;  ///< the smallest loop that holds it
  std::vector<std::size_t> holds;     ///< the loops directly inside it
};

/// A path that does not close.
struct LooseEnds {
  Vec2 from{0, 0};
  Vec2 to{0, 0};
  double length_mm = 0;
  std::size_t line = 0;
  /// The nearest other loose end, and how far it is; none: there is no other.
  std::optional<double> nearest_mm;
};

/// A closed line that is no outline, as it crosses itself or has no area.
struct Spoilt {
  std::string what;  ///< "edges cross near (3, 4)"
  Bounds box;
  std::size_t line = 0;
};

struct Loops {
  std::vector<Loop> loops;       ///< the largest first
  std::vector<LooseEnds> loose;  ///< the longest first
  std::vector<Spoilt> spoilt;
  std::size_t doubles = 0;          ///< dropped, as the same had been drawn before
  double largest_gap_mm = 0;        ///< between ends that were joined
  std::size_t gaps = 0;             ///< how many ends did not meet exactly
  double largest_deviation_mm = 0;  ///< of all loops
  double out_of_round_mm = 0;       ///< of all loops taken for round, at most
};

/// Joins ends that meet exactly, then those within `close_mm` (above 0), nearest first. Circles are loops
/// that are round within `round_mm`. Throws IntakeError where more than two ends meet (with the place), or
/// there are too many loops; std::invalid_argument for distances that are not above 0.
Loops find_loops(const Sketch& sketch, double close_mm, double round_mm, const Limits& limits = {});

/// The loops that may be the outline of a flat part: those inside no other that are not round.
std::vector<std::size_t> outermost(const Loops& loops);

}  // namespace haftwright::intake
