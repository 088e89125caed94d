// Outlines of what lies on a plain ground, on a picture that is square to it.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "haftwright/geometry/outline.hpp"
#include "haftwright/pictures/photo.hpp"

namespace haftwright {

struct TraceInput {
  double px_per_mm = 10;
  /// Where the picture's upper left corner lies: of a warped box (low.x, high.y).
  Vec2 upper_left_mm{0, 0};
  /// A place on the thing that is wanted; none: everything large enough.
  std::optional<Vec2> seed_mm;
  /// Lines and arcs leave the edge that was found by at most this.
  double tolerance_mm = 0.04;
  double least_area_mm2 = 100;
  double least_hole_mm2 = 3;
};

enum class TraceQuality { clear, fair, doubtful };

struct TracedOutline {
  /// Counter-clockwise, lines and arcs; a valid Outline.
  std::vector<Node> outer;
  /// Counter-clockwise too, inside `outer`.
  std::vector<std::vector<Node>> holes;
  double area_mm2 = 0;          ///< without the holes
  double largest_fit_mm = 0;    ///< how far lines and arcs leave the edge that was found, at most
  double scatter_mm = 0;        ///< of neighbouring places along the edge, root of the mean square
  double edge_seen = 0;         ///< the share of the edge that was found to a part of a pixel
  bool cut_by_picture = false;  ///< it reaches the picture's border
};

struct Traced {
  std::vector<TracedOutline> outlines;  ///< the largest first, at least one
  TraceQuality quality = TraceQuality::clear;
  /// For the maker: what is not good and what would help. Empty when clear.
  std::string advice;
  /// How much thing and ground differ, in units of what the ground varies by itself.
  double contrast = 0;
};

/// Finds the outlines. The ground is taken from the picture's rim; slow changes of light are followed, and
/// what is the ground's colour but darker counts as its shadow. Throws PictureError where thing and ground
/// can't be told apart, nothing is large enough, or the seed lies on the ground; std::invalid_argument for
/// values out of their range (scale, tolerance and areas above 0).
Traced trace(const Photo& squared, const TraceInput& input);

}  // namespace haftwright
