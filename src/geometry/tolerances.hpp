// Every place of this room where double rounding matters, named once.
#pragma once

#include <numbers>

namespace haftwright::geometry {

/// An arc of a given chain that leaves its chord by less than this is taken as straight where the chain
/// becomes an outline: a hundredth of what a caliper reads, while its radius (chord squared over 8e-4: 20 km
/// for a handle's whole length) would cost every later step its digits.
inline constexpr double kNegligibleSagitta_mm = 1e-4;

/// An arc that leaves its chord by less than this is taken as the straight line it cannot be told from. It
/// also bounds the radius (chord squared over 8e-9), so that no square of a radius overflows.
inline constexpr double kStraightSagitta_mm = 1e-9;

/// Places closer than this are one place to the exact operations: some 70,000 times the rounding of a
/// coordinate of 100 mm (1.4e-14), and far under the kernel's own coincidence (1e-7).
inline constexpr double kSamePlace_mm = 1e-9;

/// The shortest edge and the least gap between edges that a chain given from outside may have, and the
/// distance below which places of an offset are one: what the solid kernel takes for one place.
inline constexpr double kLeastEdge_mm = 1e-7;

/// A chain around less than this has no area to work with.
inline constexpr double kLeastArea_mm2 = 1e-6;

/// Largest |bulge|: an arc of all but 14 degrees of a full turn. Beyond it the chord says too little of the
/// arc.
inline constexpr double kLargestBulge = 16;

inline constexpr double kPi = std::numbers::pi;

}  // namespace haftwright::geometry
