// What a side is built up of: pieces, joints, spacer strips, liners, its front face and what stands out
// behind the butt.
//
// Where pieces or joints are linked, both sides have the same number of them, and adding or removing one does
// so on both.
#pragma once

#include <cstddef>

#include "haftwright/edits/edited.hpp"

namespace haftwright {

Edited move_joint(const Design& design, Which side, std::size_t joint, double place_mm);
/// The same, settling where the other side has its joint of that number when that is this near.
Edited move_joint(const Design& design, Which side, std::size_t joint, double place_mm,
                  double snap_within_mm);
Edited slant_joint(const Design& design, Which side, std::size_t joint, double slant_deg);
Edited rake_joint(const Design& design, Which side, std::size_t joint, double rake_deg);
/// No nearer than this to where a joint turns can it be taken hold of to turn it.
inline constexpr double kLeastLeverMm = 0.5;
/// Turns the joint about its place so that its middle plane goes through (x, y, s); the slant settles at 0
/// and at the other side's when it comes this near. Refused with |y| under kLeastLeverMm.
Edited slant_joint_through(const Design& design, Which side, std::size_t joint, Vec3 xys,
                           double snap_within_deg = 0);
/// The same for the rake. Refused with s under kLeastLeverMm.
Edited rake_joint_through(const Design& design, Which side, std::size_t joint, Vec3 xys,
                          double snap_within_deg = 0);
Edited set_front(const Design& design, Which side, const FrontFace& front);
Edited set_butt_proud(const Design& design, Which side, double butt_proud_mm);

/// Parts the piece at x = `place_mm` in two of the same wood, with a joint leaning like its nearest
/// neighbour.
Edited add_joint(const Design& design, Which side, double place_mm);
/// Takes a piece and the joint ahead of it away (for the front piece, the joint behind it), and the place
/// that was chosen by hand for its blank.
Edited remove_piece(const Design& design, Which side, std::size_t piece);
Edited set_piece(const Design& design, Which side, std::size_t piece, const Piece& value);
/// The two change places; joints stay.
Edited swap_pieces(const Design& design, Which side, std::size_t a, std::size_t b);

/// `before`: index the new strip gets; up to the number there are.
Edited add_spacer(const Design& design, Which side, std::size_t joint, std::size_t before,
                  const Sheet& sheet);
Edited set_spacer(const Design& design, Which side, std::size_t joint, std::size_t spacer,
                  const Sheet& sheet);
Edited remove_spacer(const Design& design, Which side, std::size_t joint, std::size_t spacer);

/// Pins whose liner hole is not given yet get their scale hole's.
Edited add_liner(const Design& design, Which side, std::size_t before, const Sheet& sheet);
Edited set_liner(const Design& design, Which side, std::size_t liner, const Sheet& sheet);
Edited remove_liner(const Design& design, Which side, std::size_t liner);

}  // namespace haftwright
