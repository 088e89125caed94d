#include <algorithm>
#include <cmath>
#include <optional>

#include <Standard_Failure.hxx>

#include "haftwright/design/units.hpp"
#include "haftwright/handle/volumes.hpp"
#include "haftwright/words/words.hpp"
#include "made_bodies.hpp"
#include "parts.hpp"
#include "shapes.hpp"
#include "spline_fit.hpp"

namespace haftwright::kernel {
namespace {

/// What the kernel throws becomes a SolidError that names the part.
template <class Step>
auto guarded(const std::string& what, Step step) {
  try {
    return step();
  } catch (const Standard_Failure& failure) {
    throw SolidError(what + ": the solid kernel failed: " + failure.GetMessageString());
  } catch (const FitError& failure) {
    throw SolidError(what + ": " + failure.what() +
                     "; give the crown a larger radius or set thickness stations farther apart");
  }
}

void begin_step(const JobContext& job, double share, const std::string& step) {
  job.progress(share, step);
  if (job.stop.stop_requested()) throw Cancelled{};
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
      : design_(design), handle_(handle), expected_(volumes_of(design, handle)), job_(job) {}

  std::unique_ptr<const Bodies> bodies() {
    const SideBodies left = side(handle_.left);
    const SideBodies right = design_.mirrored() ? left : side(handle_.right);
    begin("tang and pins");
    const TopoDS_Shape tang = guarded("tang", [&] { return tang_body(design_, handle_); });
    const auto pins = guarded(
        "pins", [&] { return pin_bodies(design_, handle_, left.envelope, mirrored(right.envelope)); });
    begin("measuring");
    add_side(handle_.left, left, false);
    add_side(handle_.right, right, true);
    add_tang(tang);
    for (std::size_t i = 0; i < pins.size(); ++i) add_pin(pins[i], handle_.pins[i].pin);
    begin("done");
    return std::move(made_);
  }

 private:
  void begin(const std::string& step) {
    const double steps = design_.mirrored() ? 4 : 6;
    begin_step(job_, std::min(1.0, done_++ / steps), step);
  }

  SideBodies side(const SideLayout& layout) {
    return guarded(std::string(name_of(layout.which)) + " side", [&] {
      return side_bodies(handle_, layout, expected_.side(layout.which),
                         [&](const std::string& step) { begin(step); });
    });
  }

  void add_side(const SideLayout& layout, const SideBodies& bodies, bool mirror) {
    if (!mirror || !design_.mirrored()) made_->warn(bodies.warnings);
    for (std::size_t i = 0; i < layout.parts.size(); ++i) {
      const Part& part = layout.parts[i];
      MeasuredBody body = mirror ? mirrored(bodies.parts[i]) : bodies.parts[i];
      body.facts.name = part.name;
      body.facts.material = part.material;
      add(std::move(body));
    }
  }

  void add_tang(const TopoDS_Shape& tang) {
    MeasuredBody body = guarded("tang", [&] { return measured(tang, "tang", design_.tang.material); });
    require_as_expected(body.facts, expected_.tang_mm3);
    add(std::move(body));
  }

  void add_pin(const TopoDS_Shape& shape, std::size_t pin) {
    const std::string name = pin_name(design_, pin);
    MeasuredBody body =
        guarded(name, [&] { return measured(shape, name, design_.pins[pin].stock.material); });
    if (!body.facts.closed_and_valid) throw SolidError(name + ": the body came out open or damaged");
    add(std::move(body));
  }

  void add(MeasuredBody body) {
    const Material* known = design_.material(body.facts.material);
    made_->add(std::move(body), known ? known->colour : Colour{});
  }

  const Design& design_;
  const Handle& handle_;
  const HandleVolumes expected_;
  const JobContext& job_;
  std::unique_ptr<MadeBodies> made_ = std::make_unique<MadeBodies>();
  int done_ = 0;
};

}  // namespace

std::unique_ptr<const Bodies> build_handle(const Design& design, const Handle& handle,
                                           const JobContext& job) {
  refuse_endless_work(handle);
  keep_quiet();
  return HandleBuild(design, handle, job).bodies();
}

std::unique_ptr<const Bodies> build_guide(const DrillGuide& guide, const JobContext& job) {
  keep_quiet();
  auto made = std::make_unique<MadeBodies>();
  const std::string name = "drill guide";
  begin_step(job, 0, "plate, fences and bores");
  const TopoDS_Shape body = guarded(name, [&] { return guide_body(guide); });
  begin_step(job, 0.7, "measuring");
  guarded(name, [&] { made->add(measured(body, name, ""), Colour{}); });
  begin_step(job, 1, "done");
  return made;
}

}  // namespace haftwright::kernel
