#include <algorithm>
#include <cmath>
#include <numbers>
#include <stdexcept>

#include "edge_search.hpp"
#include "haftwright/pictures/frame.hpp"
#include "homography.hpp"
#include "median.hpp"
#include "plane.hpp"
#include "quad.hpp"

namespace haftwright {

using namespace pictures;

namespace {

constexpr int kSearch_px = 1200;
// The band must be darker than this share of what is round it, as the eye sees it.
constexpr float kDark = 0.72f;
constexpr double kLeastArea = 0.04;
constexpr double kLeastSeen = 0.5;
// Between a dot and the band around it, in linear light.
constexpr double kLeastContrast = 1.6;

/// The corners of dark parts that have four sides: where the outer edge of a band may run.
std::vector<Quad> bands_in(const Photo& small) {
  const Plane plane = seen_brightness(small);
  const Plane round = box_mean(plane, std::max(small.width_px, small.height_px) / 12);
  Mask dark(plane.width, plane.height);
  for (std::size_t i = 0; i < plane.values.size(); ++i)
    dark.values[i] = plane.values[i] < kDark * round.values[i];
  const Parts parts = parts_of(dark);
  std::vector<std::pair<double, Quad>> found;
  const double all = double{1} * plane.width * plane.height;
  for (const Parts::Part& part : parts.parts) {
    if (double{1} * (part.high_x - part.low_x) * (part.high_y - part.low_y) < kLeastArea * all) continue;
    std::vector<Vec2> corners;
    for (const Border& border : borders_of(parts, part))
      if (border.area_px > 0) corners.insert(corners.end(), border.corners.begin(), border.corners.end());
    const auto quad = largest_quad(convex_hull(std::move(corners)));
    if (!quad || !may_be_rectangle(*quad) || area_of(*quad) < kLeastArea * all) continue;
    found.emplace_back(area_of(*quad), *quad);
  }
  std::stable_sort(found.begin(), found.end(),
                   [](const auto& a, const auto& b) { return a.first > b.first; });
  std::vector<Quad> quads;
  for (const auto& [area, quad] : found) quads.push_back(quad);
  return quads;
}

/// One dot as it is seen.
struct Dot {
  Vec2 at_px{0, 0};
  bool is_light = false;  ///< than the band around it
};

/// Looks at one place of the band.
Dot look(const LightReader& light, const Homography& to_px, Vec2 mm, double radius_mm) {
  std::vector<double> band;
  for (int i = 0; i < 16; ++i) {
    const double turn = i * std::numbers::pi / 8;
    band.push_back(light.brightness(to_px(mm + 1.7 * radius_mm * Vec2{std::cos(turn), std::sin(turn)})));
  }
  const double dark = median(band);
  const double white = light.brightness(to_px(mm));
  Dot dot{to_px(mm), white > kLeastContrast * dark + 0.01};
  if (!dot.is_light) return dot;
  // The middle of what is lighter than the band, in the plane of the sheet, again as it settles.
  Vec2 middle = mm;
  for (int pass = 0; pass < 3; ++pass) {
    Vec2 sum{0, 0};
    double weight = 0;
    constexpr int kHalf = 14;
    for (int y = -kHalf; y <= kHalf; ++y)
      for (int x = -kHalf; x <= kHalf; ++x) {
        const Vec2 off = Vec2{x, y} * (1.65 * radius_mm / kHalf);
        if (glm::length(off) > 1.65 * radius_mm) continue;
        const double share =
            std::clamp((light.brightness(to_px(middle + off)) - dark) / (white - dark), 0.0, 1.2);
        // What is hardly lighter is noise of the band.
        if (share < 0.15) continue;
        sum += share * (middle + off);
        weight += share;
      }
    if (weight <= 0) return {to_px(mm), false};
    middle = sum / weight;
  }
  if (glm::distance(middle, mm) > radius_mm) dot.is_light = false;
  dot.at_px = to_px(middle);
  return dot;
}

struct Reading {
  std::vector<Mark> marks;
  int wrong = 0;  ///< dots that are not seen, gaps that are light
};

Reading read_with(const LightReader& light, const FrameDrawing& frame, const Homography& to_px) {
  Reading reading;
  for (const Vec2 mm : frame.dots) {
    if (!light.holds(to_px(mm))) {
      ++reading.wrong;
      continue;
    }
    const Dot dot = look(light, to_px, mm, frame.dot_radius_mm);
    if (dot.is_light)
      reading.marks.push_back({dot.at_px, mm});
    else
      ++reading.wrong;
  }
  for (const Vec2 mm : frame.gaps)
    if (light.holds(to_px(mm)) && look(light, to_px, mm, frame.dot_radius_mm).is_light) reading.wrong += 3;
  return reading;
}

std::optional<Homography> map_of(const std::vector<Mark>& marks) {
  std::vector<Pair> pairs;
  for (const Mark& mark : marks) pairs.push_back({mark.at_mm, mark.at_px});
  const auto fit = fit_homography(pairs);
  if (!fit) return {};
  return fit->map;
}

/// Leaves out dots that are far from where the others say they are, and the half-hidden.
void drop_strays(std::vector<Mark>& marks, double pitch_px) {
  for (int pass = 0; pass < 3 && marks.size() > 8; ++pass) {
    const auto map = map_of(marks);
    if (!map) return;
    std::vector<double> off;
    for (const Mark& mark : marks) off.push_back(glm::distance((*map)(mark.at_mm), mark.at_px));
    // A bowed lens bends all of them a little.
    const double limit = std::max(4 * median(off), 0.01 * pitch_px);
    std::vector<Mark> kept;
    for (std::size_t i = 0; i < marks.size(); ++i)
      if (off[i] <= limit) kept.push_back(marks[i]);
    if (kept.size() == marks.size()) return;
    marks = std::move(kept);
  }
}

struct Best {
  FrameSize size = FrameSize::a4;
  Reading reading;
};

/// The frame and the way round that agree best with what is seen.
std::optional<Best> best_reading(const LightReader& light, const Quad& band) {
  std::optional<Best> best;
  int second = 1 << 20;
  for (const FrameSize size : {FrameSize::a5, FrameSize::a4, FrameSize::a3, FrameSize::letter}) {
    const FrameDrawing frame = frame_drawing(size);
    const Bounds& outer = frame.band_outer;
    // Clockwise from the upper left, as the sheet is printed.
    const Quad printed{Vec2{outer.low.x, outer.high.y}, outer.high, Vec2{outer.high.x, outer.low.y},
                       outer.low};
    for (std::size_t turn = 0; turn < 4; ++turn) {
      std::vector<Mark> corners;
      for (std::size_t i = 0; i < 4; ++i) corners.push_back({band[(i + turn) % 4], printed[i]});
      const auto map = map_of(corners);
      if (!map) continue;
      Reading reading = read_with(light, frame, *map);
      // In shares of the frame's dots, so that a small frame does not win by having few.
      const int worth = static_cast<int>(1000.0 * reading.wrong / static_cast<double>(frame.dots.size()));
      const int so_far = best ? static_cast<int>(1000.0 * best->reading.wrong /
                                                 static_cast<double>(frame_drawing(best->size).dots.size()))
                              : 1 << 20;
      if (worth < so_far) {
        second = so_far;
        best = Best{size, std::move(reading)};
      } else {
        second = std::min(second, worth);
      }
    }
  }
  if (!best) return {};
  const double dots = static_cast<double>(frame_drawing(best->size).dots.size());
  if (static_cast<double>(best->reading.marks.size()) < kLeastSeen * dots) return {};
  // Two readings that are as good: not sure.
  if (second - 1000.0 * best->reading.wrong / dots < 25) return {};
  return best;
}

bool all_corners_seen(const std::vector<Mark>& marks, const FrameDrawing& frame) {
  const Vec2 middle = frame.sheet_mm / 2.0;
  const Vec2 far = frame.band_inner.size() / 2.0;
  for (const Vec2 side : {Vec2{-1, -1}, Vec2{1, -1}, Vec2{1, 1}, Vec2{-1, 1}}) {
    const bool seen = std::any_of(marks.begin(), marks.end(), [&](const Mark& mark) {
      const Vec2 off = (mark.at_mm - middle) * side / far;
      return off.x > 0.6 && off.y > 0.6;
    });
    if (!seen) return false;
  }
  return true;
}

}  // namespace

std::optional<FoundFrame> find_frame(const Photo& photo, double printed_line_mm) {
  if (!(printed_line_mm >= 90 && printed_line_mm <= 110))
    throw std::invalid_argument("the printed line of 100 mm must measure 90 to 110 mm");
  if (photo.width_px < 100 || photo.height_px < 100) return {};
  const Photo small = reduced(photo, kSearch_px);
  const double scale = double{1} * photo.width_px / small.width_px;
  const LightReader light(photo);
  for (Quad band : bands_in(small)) {
    for (Vec2& corner : band) corner *= scale;
    if (const auto fit = fitted_quad(light, band, 3 * scale + 3, true)) band = fit->corners;
    auto best = best_reading(light, band);
    if (!best) continue;
    const FrameDrawing frame = frame_drawing(best->size);
    std::vector<Mark>& marks = best->reading.marks;
    // Once more from the better map that the dots themselves give.
    for (int pass = 0; pass < 2; ++pass) {
      const auto map = map_of(marks);
      if (!map) break;
      marks = read_with(light, frame, *map).marks;
      const double pitch_px = 15 * std::sqrt(std::abs(cross(map->derivatives(frame.sheet_mm / 2.0)[0],
                                                            map->derivatives(frame.sheet_mm / 2.0)[1])));
      drop_strays(marks, pitch_px);
    }
    if (static_cast<double>(marks.size()) < kLeastSeen * static_cast<double>(frame.dots.size()) ||
        !all_corners_seen(marks, frame))
      continue;
    for (Mark& mark : marks) mark.at_mm *= printed_line_mm / 100;
    return FoundFrame{best->size, marks};
  }
  return {};
}

}  // namespace haftwright
