// The curves that bound a sheet in plan - outline, cutouts, hole rims - as points close enough together.
#pragma once

#include <cstddef>
#include <optional>
#include <vector>

#include "haftwright/geometry/outline.hpp"

namespace haftwright::preview {

struct Spacing {
  double most_mm = 0;       ///< between neighbouring points
  double deviation_mm = 0;  ///< of a chord from its arc
};

struct PlanSample {
  Vec2 at{0, 0};
  std::size_t curve = 0;  ///< that leaves this point, index into PlanCurves::curves()
  double t = 0;           ///< on it
};

struct RoundHole {
  Vec2 centre{0, 0};
  double radius_mm = 0;
};

/// Closed loops of lines and arcs. Where loops cross, and at places asked for, there is a point exactly.
class PlanCurves {
 public:
  void clear();
  /// Its edges become curves in their order. Returns the first one's index.
  std::size_t add(const Outline& outline, const Spacing& spacing);
  void add(const RoundHole& hole, const Spacing& spacing);
  /// Asks for a point at the place of a curve.
  void want(std::size_t curve, double t);
  /// Finds the crossings of different loops, then samples.
  void sample();

  const std::vector<Edge>& curves() const { return curves_; }
  struct Loop {
    std::size_t first_curve = 0;
    std::size_t end_curve = 0;
    std::size_t first_sample = 0;
    std::size_t end_sample = 0;
    Spacing spacing;
    Bounds bounds;
  };
  const std::vector<Loop>& loops() const { return loops_; }
  /// Loop by loop, each once round.
  const std::vector<PlanSample>& samples() const { return samples_; }
  Bounds bounds() const;

 private:
  struct Wanted {
    std::size_t curve = 0;
    double t = 0;
    Vec2 at{0, 0};
  };
  void close_loop(const Spacing& spacing, std::size_t first_curve, const Bounds& bounds);
  void find_crossings();
  void cross(std::size_t a, std::size_t b);
  void sample_curve(std::size_t curve, const Spacing& spacing);

  std::vector<Edge> curves_;
  std::vector<Bounds> boxes_;
  std::vector<Loop> loops_;
  std::vector<Wanted> wanted_;
  std::vector<PlanSample> samples_;
};

/// Where a point on the curve lies on it: 0 at its start, 1 at its end; nothing when it lies beyond an end.
std::optional<double> place_on(const Edge& curve, Vec2 p);
/// Unit normal of the curve at a point on it, to the right of its direction.
Vec2 right_of(const Edge& curve, Vec2 p);

}  // namespace haftwright::preview
