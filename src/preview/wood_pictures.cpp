#include "haftwright/preview/wood_pictures.hpp"

#include "grain_frame.hpp"

namespace haftwright {
namespace {

/// Less of the blank than this tells nothing of its colour.
constexpr double kLeastShare = 0.02;
/// Somewhere else for every offcut, so that no two look like one sawn through.
constexpr double kBlockApartMm = 53;

/// As the wood lies in the block: what both halves of a book have in common.
GrainFrame grain_in_handle(const WoodPlace& place, const Grain& grain) {
  const preview::GrainAxes axes = preview::axes_of(grain);
  const Vec3 fibre = place.in_handle(axes.fibre);
  // Square to the fibre also where the tang's taper shears the block.
  const Vec3 radial = place.in_handle(axes.radial);
  const Vec3 block{-kBlockApartMm * static_cast<double>(place.offcut), 0, 0};
  return {glm::inverse(place.axes) * (block - place.origin), fibre,
          glm::normalize(radial - fibre * glm::dot(fibre, radial))};
}

}  // namespace

bool WoodPicture::operator==(const WoodPicture& other) const {
  return body == other.body && photo == other.photo && across == other.across && down == other.down &&
         depth == other.depth && mean_light == other.mean_light && grain.origin == other.grain.origin &&
         grain.fibre == other.grain.fibre && grain.radial == other.grain.radial;
}

std::optional<WoodPicture> wood_picture(const WoodPlace& place, std::shared_ptr<const WoodPhoto> photo,
                                        const Offcut& offcut) {
  std::vector<Vec2> outline_px;
  for (const Vec2 mm : place.outline) outline_px.push_back(photo->px_of(mm));
  const MeanLight mean = mean_light(photo->picture, outline_px);
  if (mean.share < kLeastShare) return {};
  WoodPicture made{.body = {BodyKind::piece, place.side, place.piece}, .photo = std::move(photo)};
  const auto at = [&](Vec3 p) { return made.photo->px_of(Vec2(place.in_offcut(p))); };
  const Vec2 zero = at({0, 0, 0});
  const Vec2 x = at({1, 0, 0}) - zero;
  const Vec2 y = at({0, 1, 0}) - zero;
  made.across = Vec3{x.x, y.x, zero.x} / static_cast<double>(made.photo->picture.photo.width_px);
  made.down = Vec3{x.y, y.y, zero.y} / static_cast<double>(made.photo->picture.photo.height_px);
  const double level = place.depth_mm({0, 0, 0});
  made.depth = {place.depth_mm({1, 0, 0}) - level, place.depth_mm({0, 1, 0}) - level,
                place.depth_mm({0, 0, 1}) - level, level};
  made.mean_light = mean.light;
  made.grain = grain_in_handle(place, offcut.grain);
  return made;
}

}  // namespace haftwright
