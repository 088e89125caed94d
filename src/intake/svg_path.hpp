// The path data of SVG, the attribute d.
#pragma once

#include <string_view>

#include "path_maker.hpp"

namespace haftwright::intake {

/// Draws all that stands in `data`. Throws IntakeError, with `place`, for what SVG does not know: there is no
/// drawing up to the fault.
void draw_path_data(std::string_view data, const std::string& place, PathMaker& maker);

/// The arc of SVG by its ends (appendix B.2.4 of SVG 2): radii, the turn of their axes, the longer way, the
/// way of rising angles. None for what is a straight line.
std::optional<EllipticArc> arc_by_ends(Vec2 from, Vec2 to, Vec2 radii, double turn_deg, bool large,
                                       bool sweep);

}  // namespace haftwright::intake
