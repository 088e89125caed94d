// Bodies as the kernel keeps them.
#pragma once

#include <string>
#include <vector>

#include "haftwright/solids/solids.hpp"
#include "measure.hpp"
#include "step.hpp"

namespace haftwright::kernel {

class MadeBodies : public Bodies {
 public:
  void add(MeasuredBody body, Colour colour);
  void warn(const std::vector<std::string>& warnings);

  const std::vector<BodyFacts>& facts() const override { return facts_; }
  const std::vector<std::string>& warnings() const override { return warnings_; }
  double outermost_z(std::size_t index, Vec2 p, bool toward_left) const override;
  std::string step_text(const std::string& product_name) const override;

 private:
  std::vector<NamedShape> shapes_;
  std::vector<BodyFacts> facts_;  ///< one for each shape
  std::vector<std::string> warnings_;
};

std::unique_ptr<const Bodies> build_handle(const Design& design, const Handle& handle, const JobContext& job);
std::unique_ptr<const Bodies> build_guide(const DrillGuide& guide, const JobContext& job);
std::vector<BodyFacts> measure_step(const std::string& step_text);

}  // namespace haftwright::kernel
