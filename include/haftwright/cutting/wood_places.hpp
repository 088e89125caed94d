// Where in an offcut each piece of the handle lies, once it is sawn as a plan says: what a photo of the
// offcut shows of the piece.
//
// A blank's inner face is flattened; its other face, the one that shows, stays until the handle is shaped. So
// the highest place of a piece lies in that face, and what an offcut is thicker than needed comes off inside.
#pragma once

#include <glm/mat3x3.hpp>

#include <cstddef>
#include <optional>
#include <string>
#include <vector>

#include "haftwright/cutting/plan.hpp"

namespace haftwright {

/// A place of the handle x is `axes` * x + `origin` in the offcut's frame, whose z is 0 in its upper face and
/// under 0 below. Where the tang is tapered it is a shear, as heights of a piece count from its inner face.
struct WoodPlace {
  std::size_t need = 0;  ///< of Needs::pieces
  Which side = Which::left;
  std::size_t piece = 0;    ///< front to rear
  std::size_t offcut = 0;   ///< of Bin::offcuts; in a book of slices the piece's own slice
  bool mirrored = false;    ///< as PlacedBlank has it: seen from above, x of the handle runs backward
  bool lower_face = false;  ///< the face that shows looks down in the offcut
  bool sawn_face = false;   ///< and lies inside of it: one of a book's
  double show_z_mm = 0;     ///< its z in the offcut's frame
  glm::dmat3 axes{1};
  Vec3 origin{0, 0, 0};
  std::vector<Vec2> outline;  ///< of the blank as it lies, in the offcut's frame

  Vec3 in_offcut(Vec3 handle_place) const { return axes * handle_place + origin; }
  /// Below the face that shows; under 0 beyond it.
  double depth_mm(Vec3 handle_place) const {
    return (show_z_mm - in_offcut(handle_place).z) * (lower_face ? -1 : 1);
  }
  /// A direction of the offcut's in the handle, of length 1.
  Vec3 in_handle(Vec3 offcut_direction) const;

  /// What shows the wood of the face that shows: a squared-up photo of it. For a book's sawn faces the
  /// photo of the outer face next to the saw cut, one for both halves, so that they mirror each other; for
  /// slices without a photo of their own that of the face that lay on theirs in the block.
  struct Shown {
    std::size_t offcut = 0;  ///< of Bin::offcuts
    std::size_t photo = 0;   ///< of Offcut::photos
    bool operator==(const Shown&) const = default;
  };
  std::optional<Shown> shown;
};

/// One for each piece that has a place in the plan, in the order of Needs::pieces. `handle` is lay_out() of
/// the design that was planned, or of one that has only changed a little since.
std::vector<WoodPlace> wood_places(const Handle& handle, const Needs& needs, const CuttingPlan& plan,
                                   const Bin& bin, const ShopRules& rules);

/// Why nothing of a piece's own wood can be seen, where `shown` is none: "no photo of the upper face of
/// "branch" has marks".
std::string no_photo_words(const WoodPlace& place, const Bin& bin);

}  // namespace haftwright
