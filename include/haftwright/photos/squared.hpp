// What an offcut's photo means: where on the wood each place of the picture lies.
//
// A picture of the lower face shows the offcut as in a mirror, while everything about an offcut is given in
// the one frame in which its upper face is looked at. `shown` turns a place from the one into the other and
// back; squarings are in the picture's sense, everything else here in the offcut's.
#pragma once

#include <string>
#include <vector>

#include "haftwright/offcuts/bin.hpp"
#include "haftwright/pictures/read_picture.hpp"
#include "haftwright/pictures/squaring.hpp"

namespace haftwright {

/// The place in the sense in which a picture of that face shows it: as it is, or with x mirrored. Its own
/// inverse.
Vec2 shown(Face face, Vec2 mm);
/// The chain in that sense, counter-clockwise if it was.
std::vector<Node> shown(Face face, const std::vector<Node>& chain);

/// The photo squared up by its marks, in the sense of `shown`. A `lens_k1` of 0 stands for a lens that is not
/// known: it is found where there are six marks or more. Marks are taken to be off by 1 pixel and the wood's
/// height by 0.2 mm (own judgement, see SquaringInput); how far their sizes are off is not kept in a bin, so
/// that it is no part of the bound. Throws SquaringError for fewer than four marks, marks that square
/// nothing up, and heights that can't be; std::invalid_argument for a `lens_k1` beyond 0.5 either way, which
/// no bin holds.
Squaring squaring_of(const OffcutPhoto& photo, const PictureFacts& facts);

/// The bound at the place along the outline, given in the offcut's frame, where it is largest.
PlaceBound largest_bound(const Squaring& squaring, Face face, const std::vector<Node>& outline);

/// "0.45 mm: marks 0.20, lens 0.15, height 0.10"; causes of less than half a hundredth are left out. In
/// inches where those are shown.
std::string bound_words(const PlaceBound& bound, LengthUnit shown_unit = LengthUnit::millimetre);

/// One face from square above, in the offcut's frame: that of the lower face mirrored back.
struct SquaredFace {
  Photo photo;
  Bounds box_mm;  ///< what it shows; its upper left corner is (low.x, high.y)
  double px_per_mm = 0;
  /// The largest factor by which light was evened out.
  double largest_correction = 1;
};
/// What the photo shows of the box round the outline and `margin_mm` about it, light evened out over the
/// wood. `photo` is the file that `facts` are of, read at its full size. Throws SquaringError as squaring_of
/// does, PictureError for more pixels than a picture may have, std::invalid_argument for a scale that is not
/// above 0, a margin under 0 or a photo of another size.
SquaredFace squared(const Photo& photo, const PictureFacts& facts, const OffcutPhoto& marked,
                    const std::vector<Node>& outline, double px_per_mm, double margin_mm = 0);

}  // namespace haftwright
