// One number a pixel, and what is seen in such a plane: brightness, masks, connected parts and their borders.
#pragma once

#include <cstdint>
#include <span>
#include <vector>

#include "haftwright/geometry/vec.hpp"
#include "haftwright/pictures/photo.hpp"

namespace haftwright::pictures {

template <class Value>
struct Grid {
  int width = 0;
  int height = 0;
  std::vector<Value> values;

  Grid() = default;
  Grid(int w, int h, Value value = {})
      : width(w), height(h), values(static_cast<std::size_t>(w) * static_cast<std::size_t>(h), value) {}
  std::size_t index(int x, int y) const {
    return static_cast<std::size_t>(y) * static_cast<std::size_t>(width) + static_cast<std::size_t>(x);
  }
  bool holds(int x, int y) const { return x >= 0 && y >= 0 && x < width && y < height; }
  Value& operator()(int x, int y) { return values[index(x, y)]; }
  const Value& operator()(int x, int y) const { return values[index(x, y)]; }
};
using Plane = Grid<float>;
using Mask = Grid<std::uint8_t>;

/// Reduced in linear light so that the longer side has at most that many pixels.
Photo reduced(const Photo& photo, int at_most_px);

/// The share of light that is seen (weights of ITU-R BT.709), as an sRGB value: even steps to the eye.
Plane seen_brightness(const Photo& photo);

/// The mean over a square of 2 reach + 1 pixels a side, cut off at the border.
Plane box_mean(const Plane& plane, int reach);

/// The threshold that parts values between `low` and `high` into two classes farthest apart (Otsu, IEEE
/// Trans. SMC 9 (1979) 62-66), over 256 steps. Halfway where there are no values there.
float two_class_threshold(std::span<const float> values, float low, float high);

/// Connected parts of a mask, by 8 neighbours. 0 is no part.
struct Parts {
  Grid<std::int32_t> labels;
  struct Part {
    std::int32_t label = 0;
    std::int64_t area_px = 0;
    int low_x = 0, low_y = 0, high_x = 0, high_y = 0;  ///< of its pixels, inclusive
    bool at_border = false;
  };
  std::vector<Part> parts;  ///< label 1 first
};
Parts parts_of(const Mask& mask);

/// A closed border along the edges of pixels, corners only.
struct Border {
  std::vector<Vec2> corners;
  /// Over 0 round the part, under 0 round a hole in it (y runs down).
  double area_px = 0;
};
/// All borders of a part, the outer one among them.
std::vector<Border> borders_of(const Parts& parts, const Parts::Part& part);

/// The corners of the smallest convex shape round the points, with the sense of a positive area.
std::vector<Vec2> convex_hull(std::vector<Vec2> points);

double area_of(std::span<const Vec2> polygon);

}  // namespace haftwright::pictures
