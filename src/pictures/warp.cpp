#include "haftwright/pictures/warp.hpp"

#include <algorithm>
#include <cmath>
#include <stdexcept>

#include "in_parallel.hpp"
#include "pyramid.hpp"

namespace haftwright {

using namespace pictures;

namespace {

// Within a cell of this many pixels a side the map is taken to be bilinear: off by the map's second
// derivative times the cell's side squared over 8, some thousandths of a pixel for views that square up.
constexpr int kCell = 16;

/// Where the corner of a cell comes from, and how many pixels of the photo one of ours covers there.
struct Corner {
  float x = 0;
  float y = 0;
  float level = 0;  ///< of the pyramid: each halves the picture
};

class Warp {
 public:
  Warp(const Photo& photo, const Squaring& squaring, const Bounds& mm, double px_per_mm, Photo& out)
      : squaring_(squaring), mm_(mm), px_per_mm_(px_per_mm), out_(out), pyramid_(photo) {}

  int bands() const { return (out_.height_px + kCell - 1) / kCell; }

  void prepare(unsigned threads) {
    float most = 0;
    for (const Vec2 corner : {mm_.low, mm_.high, Vec2{mm_.low.x, mm_.high.y}, Vec2{mm_.high.x, mm_.low.y},
                              (mm_.low + mm_.high) / 2.0})
      most = std::max(most, level_at(corner));
    pyramid_.build(static_cast<int>(std::ceil(most)), threads);
  }

  void run_band(int band) const {
    const int across = (out_.width_px + kCell - 1) / kCell;
    const int first_row = band * kCell;
    std::vector<Corner> above(static_cast<std::size_t>(across) + 1);
    std::vector<Corner> below(above.size());
    for (int i = 0; i <= across; ++i) {
      above[static_cast<std::size_t>(i)] = corner_at(i * kCell, first_row);
      below[static_cast<std::size_t>(i)] = corner_at(i * kCell, first_row + kCell);
    }
    const int rows = std::min(kCell, out_.height_px - first_row);
    for (int row = 0; row < rows; ++row)
      for (int i = 0; i < across; ++i) {
        const auto at = static_cast<std::size_t>(i);
        const float t = (static_cast<float>(row) + 0.5f) / kCell;
        run_cell_row(first_row + row, i * kCell, mixed(above[at], below[at], t),
                     mixed(above[at + 1], below[at + 1], t));
      }
  }

 private:
  static Corner mixed(const Corner& a, const Corner& b, float t) {
    return {a.x + t * (b.x - a.x), a.y + t * (b.y - a.y), a.level + t * (b.level - a.level)};
  }

  float level_at(Vec2 mm) const {
    return static_cast<float>(std::max(0.0, std::log2(squaring_.px_per_mm(mm) / px_per_mm_)));
  }

  Corner corner_at(int x, int y) const {
    const Vec2 mm = warped_mm_of({x, y}, mm_, px_per_mm_);
    const Vec2 px = squaring_.to_px(mm);
    return {static_cast<float>(px.x), static_cast<float>(px.y), level_at(mm)};
  }

  void run_cell_row(int row, int first, const Corner& left, const Corner& right) const {
    std::uint8_t* to = &out_.rgb[(static_cast<std::size_t>(row) * static_cast<std::size_t>(out_.width_px) +
                                  static_cast<std::size_t>(first)) *
                                 3];
    const int count = std::min(kCell, out_.width_px - first);
    if (left.level <= 0 && right.level <= 0 && pyramid_.is_inside(left.x, left.y) &&
        pyramid_.is_inside(right.x, right.y))
      return run_inside(left, right, to, count);
    const auto& srgb = srgb_table();
    for (int i = 0; i < count; ++i, to += 3) {
      const Corner at = mixed(left, right, (static_cast<float>(i) + 0.5f) / kCell);
      const Light light = pyramid_.at(at.x, at.y, at.level);
      to[0] = srgb(light.r);
      to[1] = srgb(light.g);
      to[2] = srgb(light.b);
    }
  }

  /// At full size and off the border, as most of a picture is: no branches.
  void run_inside(const Corner& left, const Corner& right, std::uint8_t* to, int count) const {
    const auto& srgb = srgb_table();
    const float step_x = (right.x - left.x) / kCell;
    const float step_y = (right.y - left.y) / kCell;
    for (int i = 0; i < count; ++i, to += 3) {
      const float along = static_cast<float>(i) + 0.5f;
      const Light light = pyramid_.at_inside(left.x + step_x * along, left.y + step_y * along);
      to[0] = srgb.of_unit(light.r);
      to[1] = srgb.of_unit(light.g);
      to[2] = srgb.of_unit(light.b);
    }
  }

  const Squaring& squaring_;
  Bounds mm_;
  double px_per_mm_;
  Photo& out_;
  Pyramid pyramid_;
};

}  // namespace

Photo warp(const Photo& photo, const Squaring& squaring, const Bounds& mm, double px_per_mm,
           const WarpSettings& settings) {
  if (photo.width_px != squaring.width_px() || photo.height_px != squaring.height_px())
    throw std::invalid_argument("another picture was squared up: its size differs");
  const Vec2 size = mm.size() * px_per_mm;
  if (!(px_per_mm > 0) || !(mm.size().x > 0) || !(mm.size().y > 0) || !std::isfinite(size.x * size.y))
    throw std::invalid_argument("a warped picture needs a box and a scale above 0");
  if (std::max(size.x, size.y) > 1e6 || std::ceil(size.x) * std::ceil(size.y) > double(settings.most_px))
    throw PictureError("The picture as squared up would have over " +
                       std::to_string(settings.most_px / 1'000'000) +
                       " million pixels: take fewer pixels a millimetre, or a smaller part.");
  Photo out;
  // A box that is a whole number of pixels but for rounding gets no row more.
  out.width_px = std::max(1, static_cast<int>(std::ceil(size.x - 1e-6)));
  out.height_px = std::max(1, static_cast<int>(std::ceil(size.y - 1e-6)));
  out.rgb.resize(static_cast<std::size_t>(out.width_px) * static_cast<std::size_t>(out.height_px) * 3);
  Warp warping(photo, squaring, mm, px_per_mm, out);
  warping.prepare(settings.threads);
  in_parallel(warping.bands(), settings.threads, [&warping](int band) { warping.run_band(band); });
  return out;
}

}  // namespace haftwright
