// The tang: its outline, cutouts and holes.
#pragma once

#include <cstddef>
#include <optional>
#include <string>

#include "haftwright/edits/edited.hpp"
#include "haftwright/handle/handle.hpp"

namespace haftwright {

/// The tang's outline, or one of its cutouts.
struct OutlineOf {
  std::optional<std::size_t> cutout;  ///< none: the tang itself
};
Edited move_node(const Design& design, OutlineOf of, std::size_t node, Vec2 to_mm);
/// Bends the edge that leaves `node`; 0 makes it straight.
Edited bend_edge(const Design& design, OutlineOf of, std::size_t node, double bulge);
/// The same, so that the edge goes through a point; nearer to the straight line between its ends than
/// `straight_within_mm` it becomes straight. Refused at an end of the edge and in line with it outside.
Edited bend_edge_through(const Design& design, OutlineOf of, std::size_t node, Vec2 point,
                         double straight_within_mm = 0);
/// The same, by how far the middle of the edge stands out from the straight line between its ends, positive
/// away from the inside.
Edited set_edge_rise(const Design& design, OutlineOf of, std::size_t node, double rise_mm);
/// What set_edge_rise sets; none where there is no such edge.
std::optional<double> edge_rise_mm(const Design& design, OutlineOf of, std::size_t node);
/// A new node on the edge that leaves `node`, at parameter 0 < t < 1; the shape stays exactly as it is.
Edited split_edge(const Design& design, OutlineOf of, std::size_t node, double t);
/// The edge before it runs straight to the next node.
Edited remove_node(const Design& design, OutlineOf of, std::size_t node);
Edited remove_cutout(const Design& design, std::size_t cutout);
/// The whole cutout, as it is.
Edited move_cutout(const Design& design, std::size_t cutout, Vec2 by_mm);

/// Named "hole 1", "hole 2" ...
Edited add_tang_hole(const Design& design, Vec2 at_mm, double diameter_mm);
/// The same at the roomiest place; refused where there is none.
Edited add_tang_hole(const Design& design, const Handle& handle, double diameter_mm);
/// Refused for a diameter that is not positive.
Edited size_tang_hole(const Design& design, std::size_t hole, double diameter_mm);
/// Pins through it move with it.
Edited move_tang_hole(const Design& design, std::size_t hole, Vec2 to_mm);
/// Refused while a pin goes through it.
Edited remove_tang_hole(const Design& design, std::size_t hole);

}  // namespace haftwright
