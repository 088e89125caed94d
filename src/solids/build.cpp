#include <Standard_Failure.hxx>

#include "bodies_impl.hpp"
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

}  // namespace

Bodies build_guide(const DrillGuide& guide, const JobContext& job) {
  kernel::keep_quiet();
  auto impl = std::make_unique<Bodies::Impl>();
  const std::string name = "drill guide";
  begin_step(job, 0, "plate, fences and bores");
  const TopoDS_Shape body = guarded(name, [&] { return kernel::guide_body(guide); });
  begin_step(job, 0.7, "measuring");
  guarded(name, [&] { impl->add({body, name, Colour{}}, ""); });
  begin_step(job, 1, "done");
  return Bodies(std::move(impl));
}

}  // namespace haftwright
