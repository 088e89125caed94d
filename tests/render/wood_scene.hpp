// A handle that is planned out of a bin, with photos of its wood that are worked out here.
#pragma once

#include <complex>
#include <memory>
#include <numbers>

#include "drawn_scene.hpp"
#include "haftwright/cutting/wood_places.hpp"

namespace haftwright::test {

/// A picture of a plane; `colour_at` gives sRGB values, 0 to 255, at a place in millimetres.
template <class ColourAt>
std::shared_ptr<const WoodPhoto> photo_of(Bounds box, double px_per_mm, ColourAt colour_at) {
  WoodPhoto made;
  made.px_per_mm = px_per_mm;
  Photo& photo = made.picture.photo;
  photo.width_px = static_cast<int>(std::ceil(box.size().x * px_per_mm));
  photo.height_px = static_cast<int>(std::ceil(box.size().y * px_per_mm));
  made.box_mm = {{box.low.x, box.high.y - photo.height_px / px_per_mm},
                 {box.low.x + photo.width_px / px_per_mm, box.high.y}};
  for (int y = 0; y < photo.height_px; ++y)
    for (int x = 0; x < photo.width_px; ++x) {
      const Vec3 colour =
          colour_at(Vec2{box.low.x + (x + 0.5) / px_per_mm, box.high.y - (y + 0.5) / px_per_mm});
      for (int c = 0; c < 3; ++c) photo.rgb.push_back(static_cast<std::uint8_t>(std::lround(colour[c])));
    }
  made.picture.shown.assign(photo.rgb.size() / 3, 255);
  return std::make_shared<const WoodPhoto>(std::move(made));
}

/// Tells places apart: x and y within a cell, and roughly which cell.
constexpr double kCellMm = 16;
inline Vec3 code_at(Vec2 mm) {
  const Vec2 cell = glm::floor(mm / kCellMm);
  const Vec2 in = mm / kCellMm - cell;
  return {20 + 200 * in.x, 20 + 200 * in.y,
          20 + 20 * std::fmod(std::fmod(3 * cell.x + 7 * cell.y, 10) + 10, 10)};
}
/// Cells end there, and their colours mix.
inline bool near_cell_rim(Vec2 mm, double within_mm) {
  const Vec2 in = glm::mod(mm, kCellMm);
  return std::min({in.x, in.y, kCellMm - in.x, kCellMm - in.y}) < within_mm;
}

/// One offcut for each wood, with room for all its pieces; photos of both faces have marks, which nobody
/// looks at here.
struct Board {
  double thickness_mm = 40;
  double along_deg = 0;
  unsigned show_faces = upper_face | lower_face;
  double dip_deg = 0;
};
inline Bin bin_of(const Design& design, const Board& board) {
  Bin bin;
  bin.own_materials = design.own_materials;
  for (const Which side : {Which::left, Which::right})
    for (const Piece& piece : design.pieces(side)) {
      if (std::ranges::find(bin.offcuts, piece.material, &Offcut::material) != bin.offcuts.end()) continue;
      Offcut offcut{"o" + std::to_string(bin.offcuts.size()), "", piece.material, rectangle({420, 330}),
                    board.thickness_mm};
      offcut.grain.along_deg = board.along_deg;
      offcut.grain.dip_deg = board.dip_deg;
      offcut.show_faces = board.show_faces;
      for (const Face face : {Face::upper, Face::lower}) {
        OffcutPhoto photo{"photo.png", face};
        photo.marks.resize(4);
        offcut.photos.push_back(photo);
      }
      bin.offcuts.push_back(std::move(offcut));
    }
  return bin;
}

/// As cutting/plan.hpp states it, worked out with complex numbers.
inline Vec2 planned_place(Vec2 handle, const PlacedBlank& blank) {
  Vec2 p = handle - blank.centre_mm;
  if (blank.mirrored) p.x = -p.x;
  const std::complex<double> turned =
      std::complex(p.x, p.y) * std::polar(1.0, blank.turn_deg * std::numbers::pi / 180);
  return blank.at_mm + Vec2{turned.real(), turned.imag()};
}

struct WoodScene : Scene {
  WoodScene(Design made, const Board& board, CuttingWishes wishes = {})
      : Scene(std::move(made)), bin(bin_of(design, board)) {
    wishes.blanks_too = true;
    plans = plan_cutting(design, handle, bin, wishes);
    places = wood_places(handle, plans.needs, plans.plans.front(), bin, design.rules);
  }
  const PlacedBlank& blank(const WoodPlace& place) const {
    for (const BoardUse& use : plans.plans.front().offcuts)
      for (const PlacedBlank& found : use.blanks)
        if (found.need == place.need) return found;
    throw std::logic_error("the piece has no place");
  }
  /// Every piece with the same photo.
  void show(const std::shared_ptr<const WoodPhoto>& photo) {
    pictures.clear();
    for (const WoodPlace& place : places) {
      auto picture = wood_picture(place, photo, bin.offcuts[place.offcut]);
      REQUIRE(picture);
      pictures.push_back(*picture);
    }
    view.set_woods(pictures);
  }
  Bin bin;
  CuttingPlans plans;
  std::vector<WoodPlace> places;
  std::vector<WoodPicture> pictures;
};

/// Round an offcut of bin_of().
inline constexpr Bounds kAround{{-20, -20}, {440, 350}};

inline SceneOptions colours_alone() {
  return {.mode = SceneMode::albedo, .backdrop = Backdrop::clear};
}

/// Places on the handle's plan under the pixels of a picture from the left or the right, parallel.
struct FlatView {
  explicit FlatView(const Camera& camera)
      : zero(*project(camera, {0, 0, 0}, kSize)),
        x(*project(camera, {1, 0, 0}, kSize) - zero),
        y(*project(camera, {0, 1, 0}, kSize) - zero) {}
  Vec2 place(int column, int row) const {
    const Vec2 from_zero = Vec2{column + 0.5, row + 0.5} - zero;
    return {from_zero.x / x.x, from_zero.y / y.y};
  }
  Vec2 zero;
  Vec2 x;
  Vec2 y;
};

/// All pixels round it are the same body's.
inline bool well_inside(const Picture& ids, int x, int y, int reach) {
  if (x < reach || y < reach || x >= ids.width - reach || y >= ids.height - reach) return false;
  for (int j = -reach; j <= reach; ++j)
    for (int i = -reach; i <= reach; ++i)
      if (ids.at(x + i, y + j) != ids.at(x, y)) return false;
  return ids.at(x, y)[3] != 0;
}

}  // namespace haftwright::test
