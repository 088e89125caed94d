// Why something has no place, and the least change that would give it one.
#pragma once

#include <optional>
#include <span>
#include <vector>

#include "haftwright/nesting/places.hpp"
#include "haftwright/nesting/plan.hpp"

namespace haftwright::nesting {

enum class Relaxation {
  length,    ///< mm taken off the shape along its own x
  width,     ///< mm taken off along its own y
  scale,     ///< the shape made smaller all over: parts of 1 taken off
  angle,     ///< degrees that the play must grow by
  kerf,      ///< mm off the kerf
  trim,      ///< mm off the trim
  margin,    ///< mm off the margin about keep-outs
  keep_out,  ///< keep-out `index` left out of account; amount 1
  obstacle   ///< obstacle `index` taken away; amount 1
};

/// The shape with length, width or scale eased by an amount; for the other relaxations the shape as it is.
Polygon eased_shape(const Polygon& shape, Relaxation what, double amount);

struct Shortfall {
  Relaxation what = Relaxation::length;
  std::size_t index = 0;
  double amount = 0;  ///< within kAmountStep of the least, and enough
  Place place;        ///< a legal one once that is granted
};
/// Amounts are found to this, in mm, degrees or hundredths of scale.
inline constexpr double kAmountStep = 0.01;

/// One row for each relaxation that gives the shape a place by itself, in the order of Relaxation; none where
/// nothing that is tried (sizes down to a tenth, play up to 180 degrees) does. Empty where the shape fits as
/// it is. The amounts are least if making the shape smaller never takes a place away: so it is for scale,
/// angle, kerf, trim and margin, and for length and width of shapes whose ends overlap as those of rectangles
/// do.
std::vector<Shortfall> shortfalls(const Stock& stock, const Polygon& shape, const Angles& angles,
                                  const Rules& rules, std::span<const Obstacle> obstacles);

/// An edge that sticks out, of placed_outline() at the place of least overhang.
struct Overhang {
  Vec2 from_mm{0, 0}, to_mm{0, 0};
  double by_mm =
      0;  ///< how far its farther end is outside the usable outline, or inside a keep-out or an obstacle
};
struct NearMiss {
  Place place;
  double shrink_mm = 0;  ///< the shape shrunk by this on all sides has a place there
  std::vector<Overhang> edges;
};
/// Where the shape lacks least: the place at which the shape least shrunk on all sides fits, at the middle
/// angle. None where it fits, or where nothing of it would.
std::optional<NearMiss> near_miss(const Stock& stock, const Polygon& shape, double angle_deg,
                                  const Rules& rules, std::span<const Obstacle> obstacles);

struct Conflict {
  std::vector<std::size_t> demands;  ///< can't be placed together; leave any one out and the rest was placed
  bool proven = false;               ///< no plan of plan()'s family places them; else: none was found
};
/// Among `demands`, a minimal set that can't be placed together (deletion filter). Empty where they all can.
Conflict minimal_conflict(const Problem& problem, std::span<const std::size_t> demands,
                          const Running& running = {});

}  // namespace haftwright::nesting
