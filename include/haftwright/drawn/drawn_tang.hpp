// What a drawing means here: which of its loops is the tang, and that as a Tang.
#pragma once

#include "haftwright/design/design.hpp"
#include "haftwright/intake/placing.hpp"

namespace haftwright {

/// How far lines and arcs may leave other curves, and how wide a gap is closed, where nobody says otherwise:
/// a fifth of what a joint's step may be by the default rules, and what a drawing program's snapping leaves
/// (judgement).
inline constexpr double kDrawnToleranceMm = 0.02;
inline constexpr double kDrawnGapMm = 0.05;

/// The one loop that may be the tang. Throws InputError where there is none, or more than one; lengths are in
/// `unit`.
std::size_t only_tang_loop(const intake::Loops& loops, LengthUnit unit);

/// Throws InputError where nobody has said what the drawing's unit is, with what the tang would measure.
void require_unit(const intake::Sketch& sketch, const intake::Loops& loops, std::size_t chosen);

/// The placed part as a tang as thick all over. Throws InputError, with the field, where it has more of
/// something than a project may have.
Tang tang_of(const intake::PlacedPart& part, double thickness_mm);

/// A project to start from out of a drawing that leaves nothing to be asked: the part as it lies, or turned
/// by a quarter where it stands, its front at the left. Throws InputError for all others.
Design design_of_drawing(const std::filesystem::path& drawing, const ShopRules& rules, LengthUnit unit);

}  // namespace haftwright
