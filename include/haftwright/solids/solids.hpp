// Exact bodies and their STEP files. The solid modelling kernel makes them, in a room of its own: none of its
// types show here, and a program that makes no solids need not load it (solids/engine.hpp).
//
// One kernel thread: calls must not overlap. Every call takes all it needs as arguments. Nothing is printed.
#pragma once

#include <functional>
#include <memory>
#include <stdexcept>
#include <stop_token>
#include <string>
#include <vector>

#include "haftwright/guide/drill_guide.hpp"
#include "haftwright/handle/handle.hpp"

namespace haftwright {

/// The kernel could not make a valid body, or is not there; what() names the part and what to change.
class SolidError : public std::runtime_error {
 public:
  using std::runtime_error::runtime_error;
};

/// A job's way out: asked between steps; a stop that is requested ends the job with Cancelled.
struct Cancelled : std::exception {};
struct JobContext {
  std::stop_token stop = {};
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

/// Bodies of a handle or a guide, kept in the kernel's own form.
class Bodies {
 public:
  virtual ~Bodies() = default;

  virtual const std::vector<BodyFacts>& facts() const = 0;
  /// Where bodies are not quite as laid out, in words: a round-over that the kernel could not make and left
  /// smaller or sharp, named with its place.
  virtual const std::vector<std::string>& warnings() const = 0;
  /// Height of body `index` above z = 0 along +z (left) or -z (right) at p: where a line parallel to z
  /// through p leaves it farthest out; NaN when it misses. For holding the solid against the height field.
  virtual double outermost_z(std::size_t index, Vec2 p, bool toward_left) const = 0;
  /// STEP text: AP214, millimetres, part names, colours; the same bytes for the same input.
  virtual std::string step_text(const std::string& product_name) const = 0;
};

/// Every piece, spacer, liner and pin and the tang. Throws SolidError (also when the tang's outline and
/// cutouts have more than 3000 edges together), Cancelled. A rim of more than 400 edges is not rounded over;
/// a warning says so.
std::unique_ptr<const Bodies> build_handle(const Design& design, const Handle& handle,
                                           const JobContext& job = {});
/// The guide as one body, named "drill guide". Throws SolidError, Cancelled.
std::unique_ptr<const Bodies> build_guide(const DrillGuide& guide, const JobContext& job = {});
/// Reads STEP text back and measures each solid, for self-checks. Throws SolidError.
std::vector<BodyFacts> measure_step(const std::string& step_text);

}  // namespace haftwright
