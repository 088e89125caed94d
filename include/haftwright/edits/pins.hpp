// Pins, and the room there is for one more.
#pragma once

#include <cstddef>
#include <optional>
#include <string>
#include <vector>

#include "haftwright/edits/edited.hpp"
#include "haftwright/handle/handle.hpp"
#include "haftwright/reference/drills.hpp"

namespace haftwright {

/// How a dragged pin may go.
struct PinPath {
  bool along_axis = false;    ///< keeps its y
  double snap_within_mm = 0;  ///< goes to an even spacing, and to the axis or another pin's y, this near
};
/// x places at which the pin would be evenly spaced: half-way between its neighbours, or as far from one
/// neighbour as that is from the next. Sorted.
std::vector<double> even_spacings_mm(const Design& design, std::size_t pin);
/// y places at which the pin would be level with the axis or another pin. Sorted, each once.
std::vector<double> level_places_mm(const Design& design, std::size_t pin);
/// Refused for a pin in a hole the tang has already.
Edited move_pin(const Design& design, std::size_t pin, Vec2 to_mm, const PinPath& path = {});
/// Where one more hole of that diameter has most room: on the axis, or midway between the edges where the
/// axis runs outside, as far as can be from the outlines, cutouts, joint lines and other holes; tried every
/// 0.5 mm. None where it would touch one of them everywhere.
std::optional<Vec2> roomiest_place_mm(const Design& design, const Handle& handle, double diameter_mm);
/// A pin like another one, with a hole of its own in the tang, called `name` or, where that is taken, "`name`
/// 2" and so on.
Edited copy_pin(const Design& design, std::size_t pin, Vec2 at_mm, const std::string& name);
/// A pin like the nearest one there is (a 3 mm or 1/8 in brass pin when it is the first), with a new name.
Edited add_pin(const Design& design, Vec2 at_mm);
/// The same at the roomiest place; refused where there is none.
Edited add_pin(const Design& design, const Handle& handle);
Edited remove_pin(const Design& design, std::size_t pin);
/// Scales and liners, where there are any, are drilled that size; the pin's own hole in the tang is, where it
/// is narrower.
Edited drill_pin_holes(const Design& design, std::size_t pin, const HoleSize& hole);
/// Holes in scales and liners that may be narrower than the drill are opened up with it.
Edited open_scale_holes(const Design& design, std::size_t pin, const ListedDrill& drill);
/// Another stock, not measured yet, and scales, liners and tang opened up for it; a hole that the tang has
/// already is widened too.
Edited fit_thicker_pin(const Design& design, std::size_t pin, double stock_mm, const ListedDrill& drill);
/// Sends the pin through the hole of that id, which the tang has already; the pin moves to its middle.
Edited use_tang_hole(const Design& design, std::size_t pin, const std::string& hole);
/// The pin gets a hole of its own in the tang, of the scale hole's size.
Edited drill_tang_hole(const Design& design, std::size_t pin);

}  // namespace haftwright
