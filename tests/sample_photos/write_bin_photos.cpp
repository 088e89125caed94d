// Makes the photos of the sample bin: its offcuts as the program's own renderer shows their wood, lying on a
// green card under a camera whose place is known, so that the marks' places in the picture are exact.
//   write_bin_photos BIN     writes into the bin's folder of pictures, and lists them in the bin
// Defects that the renderer does not know (knots, checks, sapwood) are painted on the face.

// jpeglib.h wants FILE before it.
#include <cstdio>

#include <jpeglib.h>

#include <cmath>
#include <cstdlib>
#include <iostream>
#include <numbers>

#include "board_body.hpp"
#include "haftwright/files/bin_file.hpp"
#include "haftwright/pictures/frame.hpp"
#include "haftwright/render/offscreen.hpp"
#include "support/synthetic_camera.hpp"

using namespace haftwright;
using namespace haftwright::test;

namespace {

constexpr PictureSize kSize{1600, 1200};
/// As if the picture were 36 x 24 mm: a telephone's main lens at twice its zoom. It stands in the file, as
/// cameras write it (Exif 2.3, tag 0xA405).
constexpr std::uint16_t kFocal35_mm = 60;
constexpr int kQuality = 86;
constexpr Vec3 kCard{0.045, 0.20, 0.085};
constexpr Vec3 kBench{0.20, 0.16, 0.12};

/// One photo: which face, how the offcut lies and where the camera stands.
struct Shot {
  const char* offcut;
  Face face = Face::upper;
  bool framed = false;      ///< in the printed frame of A5; else round marks on the card
  double turn_deg = 0;      ///< of the offcut on the card
  Vec2 aside_mm{0, 0};      ///< of the camera, from over the middle
  double margin_mm = 28;    ///< of the card that is seen round the offcut
  const char* ending = "";  ///< of the file's name
};
constexpr Shot kShots[] = {
    {"thwart", Face::upper, false, 1.5, {14, -10}},
    {"gunwale", Face::upper, false, -2, {-12, 8}},
    {"gunwale", Face::lower, false, 1, {10, 6}, 28, "-lower"},
    {"walnut_wedge", Face::upper, false, 3, {6, -12}},
    {"walnut_stub", Face::upper, true, 0, {4, 3}},
    {"bubinga_tile", Face::upper, true, 0, {-3, 4}},
    {"olive_limb", Face::upper, false, -1, {-8, -9}},
    {"olive_slice_1", Face::upper, false, 0.5, {7, 5}},
    {"olive_slice_2", Face::upper, false, -1, {-5, 8}},
    {"olive_slice_3", Face::upper, false, 1, {4, -6}},
    {"olive_slice_4", Face::upper, false, 0, {-7, -4}},
};

double smooth(double from, double to, double x) {
  const double t = std::clamp((x - from) / (to - from), 0.0, 1.0);
  return t * t * (3 - 2 * t);
}

/// Everything about one photo that both the renderer and the painter of the card need.
class Scene {
 public:
  Scene(const Bin& bin, const Offcut& offcut, const Shot& shot)
      : offcut_(offcut), shot_(shot), rim_(offcut.outline) {
    for (const Defect& defect : offcut.defects) defects_.emplace_back(defect.outline);
    laid_ = {shot.face, shot.turn_deg, {0, 0}, offcut.thickness_mm};
    const Bounds box = rim_.bounds();
    const Vec2 middle = (box.low + box.high) / 2.0;
    laid_.at_mm = -Vec2(laid_.place({middle, 0}));
    preview_.bodies.push_back(board_body(bin, offcut, laid_));
    measure_bounds(preview_);
    aim();
  }

  Photo taken() const {
    const Picture wood =
        draw_picture(preview_, {}, view_,
                     {.mode = SceneMode::materials, .backdrop = Backdrop::clear, .shadow = false}, kSize);
    Photo photo = render(camera_, 0, 2, [&](Vec2 on_card) { return card(on_card); });
    for (int y = 0; y < kSize.height; ++y)
      for (int x = 0; x < kSize.width; ++x) lay_over(wood.at(x, y), x, y, photo);
    return photo;
  }

  OffcutPhoto marked(const std::string& file) const {
    OffcutPhoto photo;
    photo.file = file;
    photo.face = shot_.face;
    photo.face_above_marks_mm = offcut_.thickness_mm;
    photo.camera_height_mm = std::round(camera_.eye_mm.z * 10) / 10;
    const auto fine = [](Vec2 v) { return glm::round(v * 100.0) / 100.0; };
    for (const Vec2 on_card : marks())
      photo.marks.push_back({fine(camera_.project(on_card)), fine(laid_.in_offcut(on_card))});
    return photo;
  }

 private:
  /// Over the middle, a little aside, so high that the card round the offcut is seen.
  void aim() {
    const Vec2 size = Vec2(preview_.high - preview_.low);
    const double aspect = kSize.aspect();
    const Vec2 seen =
        shot_.framed ? Vec2{frame_.sheet_mm.y, frame_.sheet_mm.x} + 10.0 : size + 2 * shot_.margin_mm;
    const double focal_px = kFocal35_mm * std::hypot(kSize.width, kSize.height) / std::hypot(36, 24);
    view_.field_of_view_deg = 360 / std::numbers::pi * std::atan(kSize.height / 2.0 / focal_px);
    view_.height_mm = std::max(seen.y, seen.x / aspect);
    const double distance = view_.distance_mm();
    view_.back = glm::normalize(Vec3{shot_.aside_mm, distance});
    // In the frame's sheet, x runs along its short side.
    const Vec3 upward = shot_.framed ? Vec3{-1, 0, 0} : Vec3{0, 1, 0};
    view_.up = glm::normalize(upward - view_.back * glm::dot(upward, view_.back));
    camera_.width_px = kSize.width;
    camera_.height_px = kSize.height;
    camera_.focal_px = focal_px;
    camera_.eye_mm = view_.target + view_.back * distance;
    camera_.right = view_.right();
    camera_.down = -view_.up;
    camera_.ahead = -view_.back;
  }

  /// Middles of the frame's corner dots, or of the targets on the card, in the card's plane.
  std::vector<Vec2> marks() const {
    std::vector<Vec2> places;
    if (shot_.framed) {
      for (const Vec2 dot : frame_.dots)
        if (corner_dot(dot)) places.push_back(dot - frame_.sheet_mm / 2.0);
      return places;
    }
    const Vec2 half = Vec2(preview_.high - preview_.low) / 2.0 + 12.0;
    places = corners_of(-half, half);
    // A fifth shows whether the others agree.
    places.push_back({0, -half.y});
    return places;
  }

  bool corner_dot(Vec2 dot) const {
    const Vec2 from_middle = glm::abs(dot - frame_.sheet_mm / 2.0);
    const Vec2 reach = (frame_.band_outer.size() + frame_.band_inner.size()) / 4.0;
    return glm::distance(from_middle, reach) < frame_.dot_radius_mm + 16;
  }

  /// Linear light of the card at a place, the offcut's soft shadow included.
  Vec3 card(Vec2 mm) const {
    Vec3 light = kCard;
    if (shot_.framed) {
      light = paper(mm);
    } else {
      for (const Vec2 mark : marks()) light = target(mm - mark, light);
    }
    const double lamp = 1 + 0.0006 * (mm.x + 0.6 * mm.y);
    const Vec2 in_offcut = laid_.in_offcut(mm);
    const Bounds box = rim_.bounds();
    constexpr double kReach = 16;
    if (in_offcut.x > box.low.x - kReach && in_offcut.y > box.low.y - kReach &&
        in_offcut.x < box.high.x + kReach && in_offcut.y < box.high.y + kReach) {
      const double away = std::max(0.0, -rim_.depth_mm(in_offcut));
      light *= 1 - 0.3 * std::exp(-away * away / 30);
    }
    return light * lamp;
  }

  /// The printed frame, its middle cut out over the card.
  Vec3 paper(Vec2 mm) const {
    const Vec2 at = mm + frame_.sheet_mm / 2.0;
    if (at.x < 0 || at.y < 0 || at.x >= frame_.sheet_mm.x || at.y >= frame_.sheet_mm.y) return kBench;
    constexpr double kCutInside = 1;
    const Bounds& inner = frame_.band_inner;
    if (at.x > inner.low.x + kCutInside && at.x < inner.high.x - kCutInside &&
        at.y > inner.low.y + kCutInside && at.y < inner.high.y - kCutInside)
      return kCard;
    const int x = std::min(sheet_.width_px - 1, static_cast<int>(at.x * kSheetPxPerMm));
    const int y =
        std::clamp(static_cast<int>((frame_.sheet_mm.y - at.y) * kSheetPxPerMm), 0, sheet_.height_px - 1);
    return Vec3{0.03 + 0.75 * light_of_srgb(sheet_.at(x, y)[0] / 255.0)};
  }

  /// A disc of four quarters, dark and light in turn: its middle is seen to a part of a pixel.
  static Vec3 target(Vec2 from_middle, Vec3 ground) {
    constexpr double kRadius = 3.5;
    if (glm::length(from_middle) > kRadius) return ground;
    return from_middle.x * from_middle.y > 0 ? Vec3{0.03} : Vec3{0.8};
  }

  /// The wood's pixel over the card, with what is painted on its face.
  void lay_over(const std::array<std::uint8_t, 4>& wood, int x, int y, Photo& photo) const {
    if (wood[3] == 0) return;
    const double share = wood[3] / 255.0;
    const Vec2 at = laid_.in_offcut(camera_.plane_place(Vec2{x, y} + 0.5, offcut_.thickness_mm));
    Vec3 light;
    for (int k = 0; k < 3; ++k) light[k] = light_of_srgb(wood[static_cast<std::size_t>(k)] / 255.0);
    if (rim_.contains(at)) light = painted(at, light);
    const auto first = (static_cast<std::size_t>(y) * kSize.width + static_cast<std::size_t>(x)) * 3;
    for (int k = 0; k < 3; ++k) {
      std::uint8_t& byte = photo.rgb[first + static_cast<std::size_t>(k)];
      const double below = light_of_srgb(byte / 255.0);
      byte = static_cast<std::uint8_t>(
          std::lround(255 * std::clamp(srgb_of_light(below + share * (light[k] - below)), 0.0, 1.0)));
    }
  }

  Vec3 painted(Vec2 at, Vec3 light) const {
    for (std::size_t i = 0; i < defects_.size(); ++i) {
      const double depth = defects_[i].depth_mm(at);
      if (depth < -1) continue;
      const double in = smooth(-0.4, 0.4, depth);
      switch (offcut_.defects[i].kind) {
        case DefectKind::knot:
          light *= 1 - in * (0.42 + 0.13 * std::sin(2.6 * depth));
          break;
        case DefectKind::sapwood:
          light = glm::mix(light, glm::pow(light, Vec3{0.62}) * Vec3{1.05, 1, 0.88}, in * 0.8);
          break;
        case DefectKind::hole:
          if (offcut_.defects[i].outline.size() != 2) light *= 1 - 0.85 * in;
          break;
        default:
          light *= 1 - 0.8 * in;
      }
    }
    return light;
  }

  static constexpr double kSheetPxPerMm = 10;

  const Offcut& offcut_;
  const Shot& shot_;
  Outline rim_;
  std::vector<Outline> defects_;
  Laid laid_;
  Preview preview_;
  Camera view_;
  SyntheticCamera camera_;
  FrameDrawing frame_ = frame_drawing(FrameSize::a5);
  Photo sheet_ = frame_photo(FrameSize::a5, 254);
};

std::string jpeg_bytes(const Photo& photo) {
  jpeg_compress_struct made;
  jpeg_error_mgr errors;
  made.err = jpeg_std_error(&errors);
  jpeg_create_compress(&made);
  unsigned char* bytes = nullptr;
  unsigned long size = 0;
  jpeg_mem_dest(&made, &bytes, &size);
  made.image_width = static_cast<JDIMENSION>(photo.width_px);
  made.image_height = static_cast<JDIMENSION>(photo.height_px);
  made.input_components = 3;
  made.in_color_space = JCS_RGB;
  jpeg_set_defaults(&made);
  jpeg_set_quality(&made, kQuality, TRUE);
  made.optimize_coding = TRUE;
  jpeg_start_compress(&made, TRUE);
  // One directory that leads to the Exif one, and that with its one entry.
  const std::vector<JOCTET> exif{'E',  'x',  'i', 'f', 0, 0, 'I', 'I', 42,          0, 8, 0, 0, 0, 1, 0, 0x69,
                                 0x87, 4,    0,   1,   0, 0, 0,   26,  0,           0, 0, 0, 0, 0, 0, 1, 0,
                                 0x05, 0xA4, 3,   0,   1, 0, 0,   0,   kFocal35_mm, 0, 0, 0, 0, 0, 0, 0};
  jpeg_write_marker(&made, JPEG_APP0 + 1, exif.data(), static_cast<unsigned>(exif.size()));
  while (made.next_scanline < made.image_height) {
    // The library takes no constant rows, and changes none.
    auto* row = const_cast<std::uint8_t*>(photo.rgb.data()) +
                std::size_t{made.next_scanline} * 3 * static_cast<std::size_t>(photo.width_px);
    jpeg_write_scanlines(&made, &row, 1);
  }
  jpeg_finish_compress(&made);
  std::string text(reinterpret_cast<const char*>(bytes), size);
  jpeg_destroy_compress(&made);
  std::free(bytes);
  return text;
}

void take(Bin& bin, const std::filesystem::path& folder) {
  for (Offcut& offcut : bin.offcuts) offcut.photos.clear();
  std::filesystem::create_directories(folder);
  for (const Shot& shot : kShots) {
    const auto offcut = std::ranges::find(bin.offcuts, shot.offcut, &Offcut::id);
    if (offcut == bin.offcuts.end()) throw std::runtime_error(std::string("no offcut ") + shot.offcut);
    const std::string file = std::string(shot.offcut) + shot.ending + ".jpg";
    const Scene scene(bin, *offcut, shot);
    const std::string bytes = jpeg_bytes(scene.taken());
    write_file_safely(folder / file, bytes);
    offcut->photos.push_back(scene.marked(file));
    std::cout << file << ": " << bytes.size() << " bytes\n";
  }
}

}  // namespace

int main(int argc, char** argv) {
  if (argc != 2) {
    std::cerr << "write_bin_photos BIN\n";
    return 2;
  }
  try {
    const std::filesystem::path path = argv[1];
    Bin bin = read_bin(path);
    take(bin, picture_folder(path));
    write_bin(bin, path);
  } catch (const std::exception& error) {
    std::cerr << error.what() << "\n";
    return 1;
  }
  return 0;
}
