// Exact bodies and their STEP files. The only room that knows the solid modelling kernel; none of its types
// show here.
//
// One kernel thread: calls must not overlap. Every call takes all it needs as arguments. Nothing is printed.
#pragma once

#include <functional>
#include <memory>
#include <stdexcept>
#include <string>
#include <vector>

#include "haftwright/guide/drill_guide.hpp"
#include "haftwright/handle/handle.hpp"

namespace haftwright {

/// The kernel could not make a valid body; what() names the part and what to change.
class SolidError : public std::runtime_error {
 public:
  using std::runtime_error::runtime_error;
};

/// A job's way out: asked between steps; true stops the job with Cancelled.
struct Cancelled : std::exception {};
struct JobContext {
  std::function<bool()> cancelled = [] { return false; };
  std::function<void(double share, const std::string& step)> progress = [](double, const std::string&) {};
};

/// What was measured on a body after it was made.
struct BodyFacts {
  std::string name;
  std::string material;
  double volume_mm3 = 0;
  bool closed_and_valid = false;
  Vec3 low{0, 0, 0};
  Vec3 high{0, 0, 0};
  std::vector<Vec3> bore_axis_points;  ///< a point on each cylinder's axis, with
  std::vector<double> bore_radii_mm;   ///< its radius
};

/// Bodies of a handle or a guide, kept in the kernel's own form behind a pointer.
class Bodies {
 public:
  Bodies();
  ~Bodies();
  Bodies(Bodies&&) noexcept;
  Bodies& operator=(Bodies&&) noexcept;

  const std::vector<BodyFacts>& facts() const;
  /// Where bodies are not quite as laid out, in words: a round-over that the kernel could not make and left
  /// smaller or sharp, named with its place.
  const std::vector<std::string>& warnings() const;
  /// Height of body `index` above z = 0 along +z (left) or -z (right) at p: where a line parallel to z
  /// through p leaves it farthest out; NaN when it misses. For holding the solid against the height field.
  double outermost_z(std::size_t index, Vec2 p, bool toward_left) const;
  /// STEP text: AP214, millimetres, part names, colours; the same bytes for the same input.
  std::string step_text(const std::string& product_name) const;

  struct Impl;
  explicit Bodies(std::unique_ptr<Impl> impl);

 private:
  std::unique_ptr<Impl> impl_;
};

/// Every piece, spacer, liner and pin and the tang. Throws SolidError (also when the tang's outline and
/// cutouts have more than 3000 edges together), Cancelled. A rim of more than 400 edges is not rounded over;
/// a warning says so.
Bodies build_handle(const Design& design, const Handle& handle, const JobContext& job = {});
/// The guide as one body, named "drill guide".
Bodies build_guide(const DrillGuide& guide, const JobContext& job = {});
/// Reads STEP text back and measures each solid, for self-checks. Throws SolidError.
std::vector<BodyFacts> measure_step(const std::string& step_text);

}  // namespace haftwright
