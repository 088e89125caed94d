#include "plane.hpp"

#include <algorithm>
#include <array>
#include <cmath>

#include "decode.hpp"
#include "light.hpp"

namespace haftwright::pictures {

Photo reduced(const Photo& photo, int at_most_px) {
  const Stated size{.width_px = photo.width_px, .height_px = photo.height_px};
  const auto to = RowSink::reduced(size, at_most_px);
  if (to.width == photo.width_px && to.height == photo.height_px) return photo;
  RowSink sink(size, to);
  const std::size_t line = static_cast<std::size_t>(photo.width_px) * 3;
  for (int y = 0; y < photo.height_px; ++y)
    sink.add_row(photo.rgb.data() + static_cast<std::size_t>(y) * line);
  return sink.take();
}

Plane seen_brightness(const Photo& photo) {
  const auto& light = light_table();
  Plane plane(photo.width_px, photo.height_px);
  const std::uint8_t* rgb = photo.rgb.data();
  for (float& value : plane.values) {
    value = static_cast<float>(
                srgb_table()(0.2126f * light[rgb[0]] + 0.7152f * light[rgb[1]] + 0.0722f * light[rgb[2]])) /
            255;
    rgb += 3;
  }
  return plane;
}

Plane box_mean(const Plane& plane, int reach) {
  const int w = plane.width;
  const int h = plane.height;
  // Sums of everything above and to the left.
  Grid<double> sums(w + 1, h + 1);
  for (int y = 0; y < h; ++y) {
    double row = 0;
    for (int x = 0; x < w; ++x) {
      row += plane(x, y);
      sums(x + 1, y + 1) = sums(x + 1, y) + row;
    }
  }
  Plane out(w, h);
  for (int y = 0; y < h; ++y) {
    const int y_0 = std::max(0, y - reach);
    const int y_1 = std::min(h, y + reach + 1);
    for (int x = 0; x < w; ++x) {
      const int x_0 = std::max(0, x - reach);
      const int x_1 = std::min(w, x + reach + 1);
      const double sum = sums(x_1, y_1) - sums(x_0, y_1) - sums(x_1, y_0) + sums(x_0, y_0);
      out(x, y) = static_cast<float>(sum / ((x_1 - x_0) * (y_1 - y_0)));
    }
  }
  return out;
}

float two_class_threshold(std::span<const float> values, float low, float high) {
  constexpr std::size_t kSteps = 256;
  std::array<double, kSteps> counts{};
  for (const float value : values)
    if (value >= low && value <= high)
      counts[std::min(kSteps - 1, static_cast<std::size_t>((value - low) / (high - low) * kSteps))] += 1;
  double all = 0;
  double moment = 0;
  for (std::size_t i = 0; i < kSteps; ++i) {
    all += counts[i];
    moment += static_cast<double>(i) * counts[i];
  }
  double below = 0;
  double moment_below = 0;
  double best = 0;
  // A gap between the classes gives equal worth to all of it: the middle is taken.
  std::size_t first = kSteps / 2 - 1;
  std::size_t last = first;
  for (std::size_t i = 0; i + 1 < kSteps; ++i) {
    below += counts[i];
    moment_below += static_cast<double>(i) * counts[i];
    if (below == 0 || below == all) continue;
    const double apart = moment_below / below - (moment - moment_below) / (all - below);
    const double worth = below * (all - below) * apart * apart;
    if (worth > best * (1 + 1e-12)) {
      best = worth;
      first = last = i;
    } else if (worth >= best * (1 - 1e-12)) {
      last = i;
    }
  }
  return low + (high - low) * (static_cast<float>(first + last) / 2 + 1) / kSteps;
}

Parts parts_of(const Mask& mask) {
  Parts out{Grid<std::int32_t>(mask.width, mask.height), {}};
  std::vector<std::array<int, 2>> open;
  for (int y = 0; y < mask.height; ++y)
    for (int x = 0; x < mask.width; ++x) {
      if (!mask(x, y) || out.labels(x, y)) continue;
      Parts::Part part{static_cast<std::int32_t>(out.parts.size()) + 1, 0, x, y, x, y, false};
      open.push_back({x, y});
      out.labels(x, y) = part.label;
      while (!open.empty()) {
        const auto [px, py] = open.back();
        open.pop_back();
        ++part.area_px;
        part.low_x = std::min(part.low_x, px);
        part.high_x = std::max(part.high_x, px);
        part.low_y = std::min(part.low_y, py);
        part.high_y = std::max(part.high_y, py);
        for (int ny = py - 1; ny <= py + 1; ++ny)
          for (int nx = px - 1; nx <= px + 1; ++nx) {
            if (!mask.holds(nx, ny) || !mask(nx, ny) || out.labels(nx, ny)) continue;
            out.labels(nx, ny) = part.label;
            open.push_back({nx, ny});
          }
      }
      part.at_border = part.low_x == 0 || part.low_y == 0 || part.high_x == mask.width - 1 ||
                       part.high_y == mask.height - 1;
      out.parts.push_back(part);
    }
  return out;
}

double area_of(std::span<const Vec2> polygon) {
  double twice = 0;
  for (std::size_t i = 0; i < polygon.size(); ++i)
    twice += cross(polygon[i], polygon[(i + 1) % polygon.size()]);
  return twice / 2;
}

namespace {

/// Walks along the edges of pixels with the part on the right hand; where two of its pixels touch at a corner
/// only, they belong together.
class BorderWalk {
 public:
  BorderWalk(const Parts& parts, const Parts::Part& part)
      : parts_(parts), part_(part), seen_(part.high_x - part.low_x + 1, part.high_y - part.low_y + 1) {}

  std::vector<Border> all() {
    std::vector<Border> borders;
    for (int y = part_.low_y; y <= part_.high_y; ++y)
      for (int x = part_.low_x; x <= part_.high_x; ++x)
        if (is_upper_edge(x, y) && !seen_(x - part_.low_x, y - part_.low_y)) borders.push_back(walked(x, y));
    return borders;
  }

 private:
  bool inside(int x, int y) const { return parts_.labels.holds(x, y) && parts_.labels(x, y) == part_.label; }
  bool is_upper_edge(int x, int y) const { return inside(x, y) && !inside(x, y - 1); }

  Border walked(int start_x, int start_y) {
    // East, south, west, north; and the pixels ahead on the left and on the right, seen from a corner.
    constexpr int step_x[] = {1, 0, -1, 0};
    constexpr int step_y[] = {0, 1, 0, -1};
    constexpr int left_x[] = {0, 0, -1, -1};
    constexpr int left_y[] = {-1, 0, 0, -1};
    constexpr int right_x[] = {0, -1, -1, 0};
    constexpr int right_y[] = {0, 0, -1, -1};
    Border border;
    int x = start_x;
    int y = start_y;
    unsigned heading = 0;
    border.corners.push_back({x, y});
    do {
      if (heading == 0) seen_(x - part_.low_x, y - part_.low_y) = 1;
      x += step_x[heading];
      y += step_y[heading];
      const unsigned before = heading;
      if (inside(x + left_x[heading], y + left_y[heading]))
        heading = (heading + 3) % 4;
      else if (!inside(x + right_x[heading], y + right_y[heading]))
        heading = (heading + 1) % 4;
      if (heading != before) border.corners.push_back({x, y});
    } while (x != start_x || y != start_y || heading != 0);
    if (border.corners.back() == border.corners.front()) border.corners.pop_back();
    border.area_px = area_of(border.corners);
    return border;
  }

  const Parts& parts_;
  const Parts::Part& part_;
  Mask seen_;
};

}  // namespace

std::vector<Border> borders_of(const Parts& parts, const Parts::Part& part) {
  return BorderWalk(parts, part).all();
}

std::vector<Vec2> convex_hull(std::vector<Vec2> points) {
  std::sort(points.begin(), points.end(),
            [](Vec2 a, Vec2 b) { return a.x < b.x || (a.x == b.x && a.y < b.y); });
  points.erase(std::unique(points.begin(), points.end()), points.end());
  if (points.size() < 3) return points;
  std::vector<Vec2> hull;
  // The lower chain from left to right, then the upper one back.
  for (int pass = 0; pass < 2; ++pass) {
    const std::size_t start = hull.size();
    for (const Vec2 p : points) {
      while (hull.size() >= start + 2 && cross(hull.back() - hull[hull.size() - 2], p - hull.back()) <= 0)
        hull.pop_back();
      hull.push_back(p);
    }
    hull.pop_back();
    std::reverse(points.begin(), points.end());
  }
  return hull;
}

}  // namespace haftwright::pictures
