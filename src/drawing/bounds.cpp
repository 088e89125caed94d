// Boxes round items.
#include <cmath>
#include <type_traits>

#include "haftwright/drawing/dimension_lines.hpp"
#include "haftwright/drawing/drawing.hpp"
#include "haftwright/geometry/edge_measures.hpp"

namespace haftwright {
namespace {

constexpr double kCharacterWidth = 0.6;  // of the height; see text_box

class Box {
 public:
  void cover(Vec2 p) {
    if (!box_) box_ = Bounds{p, p};
    box_->low = glm::min(box_->low, p);
    box_->high = glm::max(box_->high, p);
  }
  void cover(const std::vector<Node>& nodes, bool closed) {
    const std::size_t count = nodes.size();
    for (std::size_t i = 0; i < count; ++i) {
      cover(nodes[i].at);
      if (nodes[i].bulge == 0 || (!closed && i + 1 == count)) continue;
      const Bounds bounds = edge_bounds(Edge(nodes[i].at, nodes[(i + 1) % count].at, nodes[i].bulge));
      cover(bounds.low);
      cover(bounds.high);
    }
  }
  void cover(const Circle& circle, double mm_per_point) {
    const double radius = circle.radius.in_mm(mm_per_point);
    cover(circle.centre - radius);
    cover(circle.centre + radius);
  }
  void cover(const Band& band, double) {
    for (const auto& rung : {band.from, band.to})
      for (const Vec2 p : rung) cover(p);
  }
  void cover(const Text& text, double mm_per_point) {
    for (const Vec2 corner : text_box(text, mm_per_point)) cover(corner);
  }
  void cover(const Dimension& dimension, double mm_per_point) {
    // Without points there are no arrows and no text, whatever the size of a point is taken for.
    const DimensionLines lines = dimension_lines(dimension, mm_per_point > 0 ? mm_per_point : 1e-9);
    for (const auto& [a, b] : lines.lines) {
      cover(a);
      cover(b);
    }
    for (const auto& arrow : lines.arrows)
      for (const Vec2 p : arrow) cover(p);
    if (lines.ring) cover(*lines.ring, mm_per_point);
    if (lines.text) cover(*lines.text, mm_per_point);
  }
  const std::optional<Bounds>& bounds() const { return box_; }

 private:
  std::optional<Bounds> box_;
};

/// Characters of a UTF-8 text: bytes that don't go on with one.
std::size_t characters(const std::string& words) {
  std::size_t count = 0;
  for (const char c : words) count += (static_cast<unsigned char>(c) & 0xC0U) != 0x80U;
  return count;
}

}  // namespace

std::array<Vec2, 4> text_box(const Text& text, double mm_per_point) {
  const Vec2 way{std::cos(text.turn_rad), std::sin(text.turn_rad)};
  const Vec2 up = turned_left(way);
  const double height = text.height.in_mm(mm_per_point);
  const double length = kCharacterWidth * height * static_cast<double>(characters(text.words));
  const Vec2 at = text.at + text.shift_points * mm_per_point;
  const Vec2 corner = at - way * (length * static_cast<double>(text.along) / 2) -
                      up * (height * static_cast<double>(text.across) / 2);
  return {corner, corner + way * length, corner + way * length + up * height, corner + up * height};
}

std::optional<Bounds> bounds_of(const Drawing& drawing, double mm_per_point) {
  Box box;
  for (const Item& item : drawing.items)
    std::visit(
        [&](const auto& shape) {
          using Kind = std::decay_t<decltype(shape)>;
          if constexpr (std::is_same_v<Kind, Stroke>) {
            box.cover(shape.nodes, shape.closed);
          } else if constexpr (std::is_same_v<Kind, Fill>) {
            for (const std::vector<Node>& loop : shape.loops) box.cover(loop, true);
          } else {
            box.cover(shape, mm_per_point);
          }
        },
        item.shape);
  return box.bounds();
}

}  // namespace haftwright
