#include "haftwright/drawing/dimension_lines.hpp"

#include <algorithm>
#include <cmath>
#include <stdexcept>

namespace haftwright {
namespace {

// Points on the sheet. Sizes are from memory of common drawing practice, made a little smaller for a window.
constexpr double kArrowLength = 5.25;
constexpr double kArrowHalfWidth = 0.42;  // of its length
constexpr double kPast = 3;               // how far the lines at the ends reach past the dimension line
constexpr double kNothing = 0.375;        // less between the ends is drawn as a ring ...
constexpr double kRing = 3;               // ... of this radius
constexpr double kShort = 3;              // arrow lengths: with less between, the arrows stand outside
constexpr double kTextHeight = 12;
constexpr double kTooLong = 1.5;  // as long as the line: words that are longer stand beside it
constexpr double kTextGap = 2;
constexpr double kShelf = 5;  // of a leader, before its text

class Maker {
 public:
  Maker(const Dimension& dimension, double mm_per_point) : dimension_(dimension), point_(mm_per_point) {}

  DimensionLines make() {
    switch (dimension_.kind) {
      case Dimension::Kind::linear:
        linear();
        break;
      case Dimension::Kind::diameter:
        measured_line(dimension_.from, dimension_.to, true);
        break;
      case Dimension::Kind::leader:
        leader();
        break;
    }
    return std::move(made_);
  }

 private:
  void linear() {
    const Vec2 along = dimension_.along;
    const double offset = dimension_.offset.in_mm(point_);
    const Vec2 origin = dimension_.line_at + turned_left(along) * offset;
    const auto foot = [&](Vec2 p) { return origin + along * glm::dot(p - origin, along); };
    Vec2 from = foot(dimension_.from);
    Vec2 to = foot(dimension_.to);
    for (const auto& [measured, end] : {std::pair(dimension_.from, from), std::pair(dimension_.to, to)}) {
      const double away = glm::distance(measured, end);
      if (away > kNothing * point_) add_line(measured, end + (end - measured) * (kPast * point_ / away));
    }
    measured_line(from, to, false);
  }

  /// With arrows at its ends and the words over it, or beyond `to`.
  void measured_line(Vec2 from, Vec2 to, bool words_beyond) {
    const double length = glm::distance(from, to);
    if (length < kNothing * point_) {
      made_.ring = Circle{from, {.points = kRing}};
      add_text(from, {1, 0}, kRing + kTextGap);
      return;
    }
    const Vec2 way = (to - from) / length;
    const double arrow = kArrowLength * point_;
    const bool outside = length < kShort * arrow;
    add_line(from, to);
    add_arrow(from, outside ? way : -way);
    add_arrow(to, outside ? -way : way);
    if (outside) {
      add_line(from - way * arrow, from - way * (2 * arrow));
      add_line(to + way * arrow, to + way * (2 * arrow));
    }
    if (words_beyond || outside || text_length() > kTooLong * length)
      add_text(to, way, outside ? 2 * kArrowLength + kTextGap : kTextGap);
    else
      add_text_over((from + to) * 0.5, way);
  }

  void leader() {
    const double length = glm::distance(dimension_.from, dimension_.to);
    if (length > kNothing * point_) {
      add_line(dimension_.from, dimension_.to);
      add_arrow(dimension_.from, (dimension_.from - dimension_.to) / length);
    }
    const Vec2 way{dimension_.to.x < dimension_.from.x ? -1.0 : 1.0, 0};
    add_line(dimension_.to, dimension_.to + way * (kShelf * point_));
    add_text(dimension_.to, way, kShelf + kTextGap);
  }

  void add_line(Vec2 from, Vec2 to) { made_.lines.push_back({from, to}); }

  void add_arrow(Vec2 tip, Vec2 way) {
    const Vec2 base = tip - way * (kArrowLength * point_);
    const Vec2 side = turned_left(way) * (kArrowHalfWidth * kArrowLength * point_);
    made_.arrows.push_back({tip, base + side, base - side});
  }

  double text_length() const {
    const std::array<Vec2, 4> box =
        text_box({.words = dimension_.words, .height = {.points = kTextHeight}}, point_);
    return glm::distance(box[0], box[1]);
  }

  /// Beyond `end`, so many points farther along the way.
  void add_text(Vec2 end, Vec2 way, double points) {
    if (dimension_.words.empty()) return;
    const bool backward = head_down(way);
    made_.text = Text{.at = end,
                      .shift_points = way * points,
                      .words = dimension_.words,
                      .height = {.points = kTextHeight},
                      .turn_rad = turn_of(backward ? -way : way),
                      .along = backward ? TextAlong::end : TextAlong::start,
                      .across = TextAcross::middle};
  }

  void add_text_over(Vec2 middle, Vec2 way) {
    if (dimension_.words.empty()) return;
    if (head_down(way)) way = -way;
    made_.text = Text{.at = middle,
                      .shift_points = turned_left(way) * kTextGap,
                      .words = dimension_.words,
                      .height = {.points = kTextHeight},
                      .turn_rad = turn_of(way),
                      .along = TextAlong::middle,
                      .across = TextAcross::bottom};
  }

  /// Whether words along it could be read neither from below nor from the right.
  static bool head_down(Vec2 way) { return way.x < -1e-9 || (way.x <= 1e-9 && way.y < 0); }
  static double turn_of(Vec2 way) { return std::atan2(way.y, way.x); }

  const Dimension& dimension_;
  double point_;
  DimensionLines made_;
};

}  // namespace

DimensionLines dimension_lines(const Dimension& dimension, double mm_per_point) {
  if (!(mm_per_point > 0)) throw std::invalid_argument("a point of the sheet must cover something");
  return Maker(dimension, mm_per_point).make();
}

}  // namespace haftwright
