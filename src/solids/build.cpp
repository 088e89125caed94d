#include <algorithm>
#include <cmath>
#include <optional>

#include <Standard_Failure.hxx>

#include "bodies_impl.hpp"
#include "haftwright/design/units.hpp"
#include "parts.hpp"
#include "shapes.hpp"

namespace haftwright {

namespace {

/// What the kernel throws becomes a SolidError that names the part.
template <class Step>
auto guarded(const std::string& what, Step step) {
  try {
    return step();
  } catch (const Standard_Failure& failure) {
    throw SolidError(what + ": the solid kernel failed: " + failure.GetMessageString());
  }
}

void begin_step(const JobContext& job, double share, const std::string& step) {
  if (job.cancelled()) throw Cancelled{};
  job.progress(share, step);
}

/// The kernel's time goes with the square of the edges round one face.
constexpr std::size_t kMostTangEdges = 3000;

void refuse_endless_work(const Handle& handle) {
  std::size_t edges = handle.tang.edges().size();
  for (const Outline& cutout : handle.cutouts) edges += cutout.edges().size();
  if (edges > kMostTangEdges)
    throw SolidError("tang: its outline and cutouts have " + std::to_string(edges) +
                     " edges together; solids are made for at most " + std::to_string(kMostTangEdges) +
                     "; draw curves as arcs (bulge) instead of many short lines");
}

class HandleBuild {
 public:
  HandleBuild(const Design& design, const Handle& handle, const JobContext& job)
      : design_(design), handle_(handle), job_(job) {}

  std::unique_ptr<Bodies::Impl> bodies() {
    const kernel::SideBodies left = side(handle_.left);
    const kernel::SideBodies right = design_.mirrored() ? left : side(handle_.right);
    begin("tang and pins");
    const TopoDS_Shape tang = guarded("tang", [&] { return kernel::tang_body(design_, handle_); });
    const auto pins = guarded("pins", [&] {
      return kernel::pin_bodies(design_, handle_, left.envelope, kernel::mirrored(right.envelope));
    });
    begin("measuring");
    add_side(handle_.left, left, false);
    add_side(handle_.right, right, true);
    add_tang(tang);
    for (std::size_t i = 0; i < pins.size(); ++i) add_pin(pins[i], design_.pins[handle_.pins[i].pin]);
    begin("done");
    return std::move(impl_);
  }

 private:
  void begin(const std::string& step) {
    const double steps = design_.mirrored() ? 4 : 6;
    begin_step(job_, std::min(1.0, done_++ / steps), step);
  }

  kernel::SideBodies side(const SideLayout& layout) {
    return guarded(std::string(name_of(layout.which)) + " side", [&] {
      return kernel::side_bodies(handle_, layout, [&](const std::string& step) { begin(step); });
    });
  }

  void add_side(const SideLayout& layout, const kernel::SideBodies& bodies, bool mirror) {
    if (!mirror || !design_.mirrored())
      impl_->warnings.insert(impl_->warnings.end(), bodies.warnings.begin(), bodies.warnings.end());
    for (std::size_t i = 0; i < layout.parts.size(); ++i) {
      const Part& part = layout.parts[i];
      kernel::MeasuredBody body = mirror ? kernel::mirrored(bodies.parts[i]) : bodies.parts[i];
      body.facts.name = part.name;
      body.facts.material = part.material;
      add(std::move(body));
    }
  }

  void add_tang(const TopoDS_Shape& tang) {
    kernel::MeasuredBody body =
        guarded("tang", [&] { return kernel::measured(tang, "tang", design_.tang.material); });
    kernel::require_as_expected(body.facts, handle_.tang_volume_mm3);
    add(std::move(body));
  }

  void add_pin(const TopoDS_Shape& shape, const Pin& pin) {
    kernel::MeasuredBody body =
        guarded(pin.name, [&] { return kernel::measured(shape, pin.name, pin.stock.material); });
    if (!body.facts.closed_and_valid) throw SolidError(pin.name + ": the body came out open or damaged");
    add(std::move(body));
  }

  void add(kernel::MeasuredBody body) {
    const Material* known = design_.material(body.facts.material);
    impl_->add(std::move(body), known ? known->colour : Colour{});
  }

  const Design& design_;
  const Handle& handle_;
  const JobContext& job_;
  std::unique_ptr<Bodies::Impl> impl_ = std::make_unique<Bodies::Impl>();
  int done_ = 0;
};

}  // namespace

Bodies build_handle(const Design& design, const Handle& handle, const JobContext& job) {
  refuse_endless_work(handle);
  kernel::keep_quiet();
  return Bodies(HandleBuild(design, handle, job).bodies());
}

Bodies build_guide(const DrillGuide& guide, const JobContext& job) {
  kernel::keep_quiet();
  auto impl = std::make_unique<Bodies::Impl>();
  const std::string name = "drill guide";
  begin_step(job, 0, "plate, fences and bores");
  const TopoDS_Shape body = guarded(name, [&] { return kernel::guide_body(guide); });
  begin_step(job, 0.7, "measuring");
  guarded(name, [&] { impl->add(kernel::measured(body, name, ""), Colour{}); });
  begin_step(job, 1, "done");
  return Bodies(std::move(impl));
}

}  // namespace haftwright
