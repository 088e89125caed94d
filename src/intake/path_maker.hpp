// Where both readers put what they draw: lines, arcs and curves in the drawing's units become paths in
// millimetres.
#pragma once

#include <functional>

#include "curves.hpp"
#include "haftwright/geometry/outline_ops.hpp"
#include "haftwright/intake/sketch.hpp"

namespace haftwright::intake {

/// "line 12"
std::string at_line(std::size_t line);

class PathMaker {
 public:
  PathMaker(Sketch& sketch, const ReadOptions& options) : sketch_(sketch), options_(options) {}

  /// From here on everything goes through `map`, which leads to millimetres.
  void use(const Affine& map, std::size_t layer, std::size_t line);
  /// The same for the map alone.
  void map_by(const Affine& map);
  void move_to(Vec2 p);
  void line_to(Vec2 p);
  /// An arc by its bulge, as in Node.
  void bulge_to(Vec2 p, double bulge);
  /// From where the path is to `to`, which is the arc's end up to rounding.
  void arc_to(const EllipticArc& arc, Vec2 to);
  /// curve(t), t from 0 to 1, begins where the path is. `parts`: stretches in which it has no more than one
  /// bay.
  void curve_to(const std::function<Vec2(double)>& curve, Vec2 leaving, Vec2 arriving, int parts);
  void close();
  /// Ends the path; what has no length is dropped.
  void end();

  /// Counts towards the limit of entities.
  void count_entity();
  bool begun() const { return begun_; }
  Vec2 at() const { return at_; }

 private:
  void add(Vec2 p_mm, double bulge);
  void add_arc(const EllipticArc& arc_mm, Vec2 to_mm);
  void add_curve(const std::vector<Vec2>& places_mm, double off_mm, Vec2 leaving, Vec2 arriving);
  void fit_pending();
  ArcFit fit_within(const std::vector<Vec2>& places_mm, double off_mm) const;
  Vec2 checked(Vec2 p) const;
  void need_points(std::size_t more, std::size_t curved);

  Sketch& sketch_;
  const ReadOptions& options_;
  Affine map_;
  bool keeps_circles_ = true;
  std::size_t layer_ = 0;
  std::size_t line_ = 0;
  bool begun_ = false;
  Vec2 at_{0, 0};     ///< in the drawing's units
  Vec2 start_{0, 0};  ///< of the path, in the same
  Path path_;
  /// A curve that goes on smoothly and has not been fitted yet.
  std::vector<Vec2> pending_;
  Vec2 pending_arriving_{0, 0};
  double pending_off_mm_ = 0;
  std::size_t entities_ = 0;
  std::size_t points_ = 0;
  std::size_t curve_points_ = 0;
};

}  // namespace haftwright::intake
