#include "haftwright/photos/wood_photo.hpp"

#include <algorithm>

#include "haftwright/geometry/outline_ops.hpp"
#include "haftwright/photos/squared.hpp"
#include "haftwright/pictures/warp.hpp"

namespace haftwright {
namespace {

/// An outline is known, and a place on the photo found, no better than to some tenths of a millimetre (own
/// judgement, see bound_words() of usual photos): so much of the rim may show the ground.
constexpr double kRimMm = 0.4;
/// Over so much the picture gives out where the wood goes on and the photo does not.
constexpr double kGivesOutMm = 1.5;
constexpr double kOutlineStepMm = 0.05;

double scale_of(const Squaring& squaring, Face face, const Bounds& box) {
  const double longest = std::max(box.size().x, box.size().y) + 2 * kWoodPastRimMm;
  const double there = squaring.px_per_mm(shown(face, (box.low + box.high) / 2.0));
  return std::min({kWoodPxPerMm, kWoodSidePx / longest, there});
}

}  // namespace

WoodPhoto wood_photo(const Photo& picture, const PictureFacts& facts, const OffcutPhoto& photo,
                     const std::vector<Node>& outline) {
  const Squaring squaring = squaring_of(photo, facts);
  const Outline wood(outline);
  const double px_per_mm = scale_of(squaring, photo.face, wood.bounds());
  SquaredFace face = squared(picture, facts, photo, outline, px_per_mm, kWoodPastRimMm);
  std::vector<Vec2> area_px;
  for (const Vec2 mm : polyline(wood, kOutlineStepMm))
    area_px.push_back(warped_px_of(mm, face.box_mm, px_per_mm));
  const auto seen = [&](Vec2 px) {
    const Vec2 at = squaring.to_px(shown(photo.face, warped_mm_of(px, face.box_mm, px_per_mm)));
    return at.x >= 0 && at.y >= 0 && at.x <= facts.width_px && at.y <= facts.height_px;
  };
  const ThingRim rim{kRimMm * px_per_mm, kWoodPastRimMm * px_per_mm, kGivesOutMm * px_per_mm};
  return {thing_alone(std::move(face.photo), area_px, rim, seen), face.box_mm, px_per_mm};
}

WoodPhoto wood_photo(const std::filesystem::path& file, const OffcutPhoto& photo,
                     const std::vector<Node>& outline) {
  return wood_photo(read_picture(file), picture_facts(file), photo, outline);
}

}  // namespace haftwright
