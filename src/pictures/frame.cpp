#include "haftwright/pictures/frame.hpp"

#include <algorithm>
#include <cmath>
#include <stdexcept>

#include "light.hpp"
#include "number_text.hpp"

namespace haftwright {
namespace {

constexpr double kPitch_mm = 15;
constexpr double kDotRadius_mm = 2.5;
constexpr double kHalfBand_mm = 6;
constexpr double kLine_mm = 100;

using pictures::number;

struct Sheet {
  Vec2 size_mm;
  int across;  ///< pitches between the corner dots
  int up;
};

/// Margins of 12 mm or more, which every printer leaves (common practice), and below for the line.
Sheet sheet_of(FrameSize size) {
  switch (size) {
    case FrameSize::a5:
      return {{148, 210}, 7, 10};
    case FrameSize::a4:
      return {{210, 297}, 11, 16};
    case FrameSize::a3:
      return {{297, 420}, 17, 24};
    case FrameSize::letter:
      break;
  }
  // ANSI/ASME Y14.1, size A: 8.5 x 11 in.
  return {{215.9, 279.4}, 11, 15};
}

std::string attribute(const char* name, double value) {
  return std::string(" ") + name + "=\"" + number(value) + "\"";
}

bool inside(const Bounds& box, Vec2 p) {
  return p.x > box.low.x && p.y > box.low.y && p.x < box.high.x && p.y < box.high.y;
}

/// Whether a place of the sheet is printed dark.
class Ink {
 public:
  explicit Ink(const FrameDrawing& frame) : frame_(frame) {}
  bool operator()(Vec2 mm) const {
    if (inside(frame_.band_outer, mm)) {
      if (inside(frame_.band_inner, mm)) return false;
      // The nearest dot is one of the grid: the band is narrower than the pitch.
      const Vec2 first = frame_.band_outer.low + kHalfBand_mm;
      const Vec2 nearest = first + kPitch_mm * glm::round((mm - first) / kPitch_mm);
      return glm::distance(nearest, mm) > kDotRadius_mm ||
             std::any_of(frame_.gaps.begin(), frame_.gaps.end(),
                         [&](Vec2 gap) { return glm::distance(gap, nearest) < 1; });
    }
    const Vec2 a = frame_.line_from;
    const Vec2 b = frame_.line_to;
    const double rise = std::abs(mm.y - a.y);
    const bool on_line = rise < 0.15 && mm.x >= a.x && mm.x <= b.x;
    // Ticks whose outer edges are the ends.
    const bool on_tick =
        rise < 1.5 && ((mm.x >= a.x && mm.x <= a.x + 0.3) || (mm.x >= b.x - 0.3 && mm.x <= b.x));
    return on_line || on_tick;
  }

 private:
  const FrameDrawing& frame_;
};

}  // namespace

FrameDrawing frame_drawing(FrameSize size) {
  const Sheet sheet = sheet_of(size);
  FrameDrawing frame;
  frame.sheet_mm = sheet.size_mm;
  frame.dot_radius_mm = kDotRadius_mm;
  const Vec2 span = kPitch_mm * Vec2{sheet.across, sheet.up};
  const Vec2 low = (sheet.size_mm - span) / 2.0;
  frame.band_outer = {low - kHalfBand_mm, low + span + kHalfBand_mm};
  frame.band_inner = {low + kHalfBand_mm, low + span - kHalfBand_mm};
  for (int y = 0; y <= sheet.up; ++y)
    for (int x = 0; x <= sheet.across; ++x) {
      if (x != 0 && x != sheet.across && y != 0 && y != sheet.up) continue;
      const Vec2 at = low + kPitch_mm * Vec2{x, y};
      const bool gap = x + y == 1;  // both neighbours of the lower left corner
      (gap ? frame.gaps : frame.dots).push_back(at);
    }
  const double middle = sheet.size_mm.x / 2;
  frame.line_from = {middle - kLine_mm / 2, frame.band_outer.low.y - 5};
  frame.line_to = {middle + kLine_mm / 2, frame.line_from.y};
  return frame;
}

std::string frame_svg(FrameSize size) {
  const FrameDrawing frame = frame_drawing(size);
  const auto page_y = [&](double y) { return frame.sheet_mm.y - y; };
  const auto box = [&](const Bounds& bounds, const char* colour) {
    return "<rect" + attribute("x", bounds.low.x) + attribute("y", page_y(bounds.high.y)) +
           attribute("width", bounds.size().x) + attribute("height", bounds.size().y) + " fill=\"" + colour +
           "\"/>\n";
  };
  std::string svg =
      "<?xml version=\"1.0\" encoding=\"UTF-8\"?>\n<svg xmlns=\"http://www.w3.org/2000/svg\" width=\"" +
      number(frame.sheet_mm.x) + "mm\" height=\"" + number(frame.sheet_mm.y) + "mm\" viewBox=\"0 0 " +
      number(frame.sheet_mm.x) + " " + number(frame.sheet_mm.y) +
      "\">\n<title>Frame for photographs</title>\n";
  svg += box({{0, 0}, frame.sheet_mm}, "white") + box(frame.band_outer, "black") +
         box(frame.band_inner, "white");
  for (const Vec2 dot : frame.dots)
    svg += "<circle" + attribute("cx", dot.x) + attribute("cy", page_y(dot.y)) +
           attribute("r", frame.dot_radius_mm) + " fill=\"white\"/>\n";
  const Vec2 a = frame.line_from;
  const Vec2 b = frame.line_to;
  svg += box({{a.x, a.y - 0.15}, {b.x, a.y + 0.15}}, "black");
  svg += box({{a.x, a.y - 1.5}, {a.x + 0.3, a.y + 1.5}}, "black");
  svg += box({{b.x - 0.3, a.y - 1.5}, {b.x, a.y + 1.5}}, "black");
  svg += "<text" + attribute("x", (a.x + b.x) / 2) + attribute("y", page_y(a.y - 4)) +
         " font-family=\"sans-serif\" font-size=\"3\" text-anchor=\"middle\">The line above is 100 mm long, "
         "ticks included. Print at true size, and measure it.</text>\n";
  return svg + "</svg>\n";
}

Photo frame_photo(FrameSize size, double dpi) {
  if (!(dpi >= 72 && dpi <= 1200)) throw std::invalid_argument("a printed frame has 72 to 1200 dpi");
  const FrameDrawing frame = frame_drawing(size);
  const Ink ink(frame);
  const double px_per_mm = dpi / 25.4;
  Photo photo{static_cast<int>(std::lround(frame.sheet_mm.x * px_per_mm)),
              static_cast<int>(std::lround(frame.sheet_mm.y * px_per_mm)),
              {}};
  photo.rgb.resize(static_cast<std::size_t>(photo.width_px) * static_cast<std::size_t>(photo.height_px) * 3);
  constexpr int kRays = 4;
  std::size_t to = 0;
  for (int y = 0; y < photo.height_px; ++y)
    for (int x = 0; x < photo.width_px; ++x, to += 3) {
      int dark = 0;
      for (int i = 0; i < kRays * kRays; ++i) {
        const int ray_row = i / kRays;
        const Vec2 px{x + (i % kRays + 0.5) / kRays, y + (ray_row + 0.5) / kRays};
        dark += ink({px.x / px_per_mm, frame.sheet_mm.y - px.y / px_per_mm});
      }
      const auto value = pictures::srgb_table()(1 - static_cast<float>(dark) / (kRays * kRays));
      std::fill_n(photo.rgb.begin() + static_cast<std::ptrdiff_t>(to), 3, value);
    }
  return photo;
}

}  // namespace haftwright
