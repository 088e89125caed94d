// Drawings as plain values: lines and arcs, circles, areas, texts and dimensions in millimetres, x to the
// right, y up.
//
// A drawing says what each item is, its role; what that looks like (colour, line width, dashes) is decided by
// whoever paints it: the window, a page, a file for another program. Arcs stay arcs. What is clicked on is
// found by tags: a number that means something to the producer of the drawing, as a rule an index into a list
// that it hands out beside it. Items are painted in their order, later ones over earlier ones.
#pragma once

#include <array>
#include <cstddef>
#include <optional>
#include <string>
#include <string_view>
#include <variant>
#include <vector>

#include "haftwright/geometry/outline.hpp"

namespace haftwright {

/// What an item is.
enum class Role {
  // Areas.
  material,  ///< in the colour of Fill::natural
  steel,
  plate,    ///< of a drill guide
  marking,  ///< cut shallow into a face
  defect,   ///< a place in wood that is to be avoided
  // Lines of the thing that is drawn.
  visible_edge,
  soft_edge,        ///< where surfaces or layers meet without a corner
  contour,          ///< the farthest places of a rounded surface
  hidden_edge,      ///< under what lies in front of it
  context_edge,     ///< of another thing, shown so that one knows where one is
  centre_line,      ///< an axis
  projection_line,  ///< from one view to the same place in another
  joint_line,
  hidden_joint_line,
  set_line,  ///< what a part is set to by eye
  saw_cut,   ///< middle of a kerf
  // Openings and what goes through them.
  opening,     ///< through what is drawn
  cutout,      ///< in the steel, under what lies on it
  hole,        ///< in the part in front
  inner_hole,  ///< in a layer below that one
  steel_hole,  ///< drilled in the steel with the others
  given_hole,  ///< in the steel from the start
  pin,
  pin_bore,
  fence,  ///< a round that stands on a face
  // The same seen through the material.
  hole_inside,
  given_hole_inside,
  cutout_inside,
  pin_inside,
  pin_bore_inside,
  // What is said about it.
  caption,
  dimension,
  chosen_dimension,
  measured_place,  ///< from or to where something is measured
  chosen,          ///< what is selected
  alignment,       ///< a line that something has settled on
  finding_pass,
  finding_near,
  finding_fail,
  spread,     ///< where something may end up
  limit,      ///< from where on that shows
  zone_pass,  ///< what a part needs clear round itself, by how it came out
  zone_near,
  zone_fail,
};
inline constexpr std::size_t kRoleCount = static_cast<std::size_t>(Role::zone_fail) + 1;
/// "hidden_edge"; for files that other programs read.
std::string_view key_of(Role role);
/// For tables with a row for each role: every role is there once, in this order, so that it is the row's
/// index.
template <class Rows>
constexpr bool in_order_of_roles(const Rows& rows) {
  std::size_t next = 0;
  for (const auto& row : rows)
    if (static_cast<std::size_t>(row.role) != next++) return false;
  return next == kRoleCount;
}

/// One point on paper, 1/72 in by definition. A screen shows it as 4/3 of a pixel at its usual scale, which
/// is 96 pixels an inch.
inline constexpr double kMmPerPoint = 25.4 / 72;

/// A length on the sheet: part of what is drawn and in its scale, and part of the sheet, which stays as large
/// however the drawing is scaled. Either may be negative.
struct SheetLength {
  double mm = 0;
  double points = 0;
  /// `mm_per_point`: how much of the drawing a point covers; on paper at true size kMmPerPoint.
  double in_mm(double mm_per_point) const { return mm + points * mm_per_point; }
  bool operator==(const SheetLength&) const = default;
};

/// Lines and arcs in a row; the bulge of a node is that of the edge which leaves it (see Node). In an open
/// one the last node's bulge means nothing.
struct Stroke {
  std::vector<Node> nodes;
  bool closed = false;
  bool operator==(const Stroke&) const = default;
};

struct Circle {
  Vec2 centre{0, 0};
  SheetLength radius;
  bool operator==(const Circle&) const = default;
};

/// An area: a closed loop and then the openings in it, each running either way.
struct Fill {
  std::vector<std::vector<Node>> loops;
  std::optional<std::array<float, 3>> natural;  ///< sRGB, 0 to 1: the colour that the thing itself has
  bool operator==(const Fill&) const = default;
};

/// An area that is densest along its middle and thins out to both sides: what is likely where. Each rung
/// crosses it, from one side over the middle to the other.
struct Band {
  std::array<Vec2, 3> from{};
  std::array<Vec2, 3> to{};
  bool operator==(const Band&) const = default;
};

enum class TextAlong { start, middle, end };
enum class TextAcross { bottom, middle, top };

/// One line of text.
struct Text {
  Vec2 at{0, 0};
  Vec2 shift_points{0, 0};  ///< further, on the sheet
  std::string words;
  SheetLength height{.points = 12};  ///< of a line of it
  double turn_rad = 0;               ///< of its reading direction from x, counter-clockwise
  TextAlong along = TextAlong::start;
  TextAcross across = TextAcross::bottom;
  bool operator==(const Text&) const = default;
};

/// What is written to a measure. dimension_lines.hpp makes lines of it.
struct Dimension {
  enum class Kind {
    linear,    ///< from `from` to `to` as seen square to `along`
    diameter,  ///< `from` and `to` lie opposite each other on the circle
    leader     ///< an arrow at `from`, the text at `to`
  };
  Kind kind = Kind::linear;
  Vec2 from{0, 0};
  Vec2 to{0, 0};
  Vec2 along{1, 0};    ///< linear: unit direction that is measured along
  Vec2 line_at{0, 0};  ///< linear: the dimension line goes through this point ...
  SheetLength offset;  ///< ... shifted so far to the left of `along`
  std::string words;   ///< may be empty
  bool operator==(const Dimension&) const = default;
};
/// Measured along the straight way between two points (x where they are one), the line so far to the left.
Dimension aligned_dimension(Vec2 from, Vec2 to, SheetLength offset, std::string words);
/// Measured along x or y: the line runs through `line_at`, shifted to the left of +x or +y.
Dimension level_dimension(Vec2 from, Vec2 to, Vec2 line_at, SheetLength offset, std::string words);
Dimension upright_dimension(Vec2 from, Vec2 to, Vec2 line_at, SheetLength offset, std::string words);
/// Across a circle in the direction of `turn_rad`, the words beyond that end.
Dimension diameter_dimension(Vec2 centre, double diameter_mm, double turn_rad, std::string words);

using Shape = std::variant<Stroke, Circle, Fill, Band, Text, Dimension>;

struct Item {
  Shape shape;
  Role role = Role::visible_edge;
  std::optional<std::size_t> tag;  ///< what a click on it means; none: nothing
  bool operator==(const Item&) const = default;
};

struct Drawing {
  std::vector<Item> items;

  void add(Role role, Shape shape, std::optional<std::size_t> tag = {});
  /// All items of another drawing over these; its tags count on from `first_tag`.
  void append(Drawing other, std::size_t first_tag = 0);
  bool operator==(const Drawing&) const = default;
};

/// The straight line between two points.
Stroke straight(Vec2 from, Vec2 to);
Stroke open_line(const std::vector<Vec2>& points);
Stroke outline_stroke(const Outline& outline);
Fill outline_fill(const Outline& outline);
/// A box by two opposite corners.
std::vector<Node> box_loop(Vec2 a, Vec2 b);

/// The edges of a stroke or a loop. Where two nodes in a row are one point there is none.
std::vector<Edge> edges_of(const Stroke& stroke);
std::vector<Edge> edges_of(const std::vector<Node>& closed_loop);
/// Points along lines and arcs, in a closed one the first not repeated, such that no chord leaves its arc by
/// more than `tolerance_mm` (> 0, else std::invalid_argument).
std::vector<Vec2> flattened(const Stroke& stroke, double tolerance_mm);

/// The box round everything; nothing for an empty drawing. Exact for lines, arcs, circles and areas. With
/// `mm_per_point` 0 parts of the sheet count as points without size. Texts count with the box of text_box.
std::optional<Bounds> bounds_of(const Drawing& drawing, double mm_per_point = 0);

/// Corners of the box that a text takes, in order round it. Its length is an estimate, 0.6 of its height a
/// character (from memory: about what common sans serif faces take).
std::array<Vec2, 4> text_box(const Text& text, double mm_per_point);

}  // namespace haftwright
