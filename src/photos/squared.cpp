#include "haftwright/photos/squared.hpp"

#include <algorithm>
#include <cmath>
#include <stdexcept>

#include "haftwright/design/units.hpp"
#include "haftwright/geometry/outline_ops.hpp"
#include "haftwright/pictures/even_light.hpp"
#include "haftwright/pictures/warp.hpp"
#include "mirrored.hpp"

namespace haftwright {

using namespace photos;
namespace {

// What follows an outline's arcs for bounds and areas; far below any bound.
constexpr double kOutlineStep_mm = 0.05;

std::string number_words(double mm, LengthUnit unit) {
  return unit == LengthUnit::millimetre ? format_number(mm, 2) : format_number(mm / kMmPerInch, 3);
}

}  // namespace

Vec2 shown(Face face, Vec2 mm) {
  return face == Face::upper ? mm : Vec2{-mm.x, mm.y};
}

std::vector<Node> shown(Face face, const std::vector<Node>& chain) {
  if (face == Face::upper) return chain;
  // Mirrored and gone through backwards, an arc turns the way it did; its bulge now stands at its other end.
  std::vector<Node> turned;
  turned.reserve(chain.size());
  for (std::size_t i = chain.size(); i-- > 0;)
    turned.push_back({shown(face, chain[i].at), chain[(i + chain.size() - 1) % chain.size()].bulge});
  return turned;
}

Squaring squaring_of(const OffcutPhoto& photo, const PictureFacts& facts) {
  if (photo.camera_height_mm && !(*photo.camera_height_mm > 0))
    throw SquaringError("The camera's height over the marks must be more than 0.");
  SquaringInput input;
  for (const PhotoMark& mark : photo.marks)
    input.marks.push_back({mark.at_px, shown(photo.face, mark.at_mm)});
  input.face_above_marks_mm = photo.face_above_marks_mm;
  input.camera_height_mm = photo.camera_height_mm;
  input.focal_px = facts.focal_px;
  if (photo.lens_k1 != 0) input.lens_k1 = photo.lens_k1;
  return square_up(input, facts.width_px, facts.height_px);
}

PlaceBound largest_bound(const Squaring& squaring, Face face, const std::vector<Node>& outline) {
  PlaceBound largest;
  for (const Vec2 mm : polyline(Outline(outline), kOutlineStep_mm)) {
    const PlaceBound bound = squaring.bound(shown(face, mm));
    if (bound.total_mm() > largest.total_mm()) largest = bound;
  }
  return largest;
}

std::string bound_words(const PlaceBound& bound, LengthUnit shown_unit) {
  const struct {
    const char* cause;
    double mm;
  } parts[] = {{"marks", bound.marks_mm},
               {"lens", bound.lens_mm},
               {"height", bound.height_mm},
               {"the marks' own sizes", bound.size_mm}};
  std::string causes;
  for (const auto& part : parts)
    if (part.mm >= 0.005)
      causes +=
          (causes.empty() ? ": " : ", ") + std::string(part.cause) + " " + number_words(part.mm, shown_unit);
  return number_words(bound.total_mm(), shown_unit) + (shown_unit == LengthUnit::millimetre ? " mm" : " in") +
         causes;
}

Photo photos::mirrored(Photo photo) {
  const auto width = static_cast<std::ptrdiff_t>(photo.width_px);
  for (std::ptrdiff_t y = 0; y < photo.height_px; ++y)
    for (std::ptrdiff_t left = 0, right = width - 1; left < right; ++left, --right)
      std::swap_ranges(photo.rgb.begin() + 3 * (y * width + left),
                       photo.rgb.begin() + 3 * (y * width + left + 1),
                       photo.rgb.begin() + 3 * (y * width + right));
  return photo;
}

SquaredFace squared(const Photo& photo, const PictureFacts& facts, const OffcutPhoto& marked,
                    const std::vector<Node>& outline, double px_per_mm, double margin_mm) {
  if (!(margin_mm >= 0)) throw std::invalid_argument("a margin must be 0 or more");
  const Squaring squaring = squaring_of(marked, facts);
  const Outline seen(shown(marked.face, outline));
  const Bounds box{seen.bounds().low - margin_mm, seen.bounds().high + margin_mm};
  Photo warped = warp(photo, squaring, box, px_per_mm);
  std::vector<Vec2> wood_px;
  for (const Vec2 mm : polyline(seen, kOutlineStep_mm)) wood_px.push_back(warped_px_of(mm, box, px_per_mm));
  EvenedPhoto evened = even_light(warped, wood_px);
  SquaredFace face{std::move(evened.photo), box, px_per_mm, evened.largest_correction};
  if (marked.face == Face::lower) {
    face.photo = mirrored(std::move(face.photo));
    // The last column may reach past the box by a part of a pixel; mirrored it is the first.
    face.box_mm = {{-box.low.x - face.photo.width_px / px_per_mm, box.low.y}, {-box.low.x, box.high.y}};
  }
  return face;
}

}  // namespace haftwright
