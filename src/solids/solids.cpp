#include "haftwright/solids/solids.hpp"

#include "haftwright/solids/engine.hpp"

namespace haftwright {

std::unique_ptr<const Bodies> build_handle(const Design& design, const Handle& handle,
                                           const JobContext& job) {
  return solid_engine().build_handle(design, handle, job);
}

std::unique_ptr<const Bodies> build_guide(const DrillGuide& guide, const JobContext& job) {
  return solid_engine().build_guide(guide, job);
}

std::vector<BodyFacts> measure_step(const std::string& step_text) {
  return solid_engine().measure_step(step_text);
}

}  // namespace haftwright
