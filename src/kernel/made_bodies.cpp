#include <cmath>
#include <limits>
#include <utility>

#include <IntCurvesFace_ShapeIntersector.hxx>
#include <Standard_Failure.hxx>
#include <gp_Lin.hxx>

#include "haftwright/kernel/kernel.hpp"
#include "made_bodies.hpp"

namespace haftwright::kernel {

void MadeBodies::add(MeasuredBody body, Colour colour) {
  shapes_.push_back({std::move(body.shape), body.facts.name, colour});
  facts_.push_back(std::move(body.facts));
}

void MadeBodies::warn(const std::vector<std::string>& warnings) {
  warnings_.insert(warnings_.end(), warnings.begin(), warnings.end());
}

double MadeBodies::outermost_z(std::size_t index, Vec2 p, bool toward_left) const {
  const NamedShape& body = shapes_.at(index);
  IntCurvesFace_ShapeIntersector line;
  line.Load(body.shape, 1e-7);
  const double reach = std::numeric_limits<double>::infinity();
  line.Perform(gp_Lin(gp_Pnt(p.x, p.y, 0), gp_Dir(0, 0, 1)), -reach, reach);
  double outermost = std::numeric_limits<double>::quiet_NaN();
  for (int i = 1; i <= line.NbPnt(); ++i) {
    const double z = line.Pnt(i).Z();
    const bool farther = toward_left ? z > outermost : z < outermost;
    if (std::isnan(outermost) || farther) outermost = z;
  }
  return outermost;
}

std::string MadeBodies::step_text(const std::string& product_name) const {
  return write_step(shapes_, product_name);
}

std::vector<BodyFacts> measure_step(const std::string& step_text) {
  std::vector<BodyFacts> facts;
  for (const NamedShape& body : read_step(step_text)) {
    facts.push_back(measured(body.shape, body.name, {}).facts);
  }
  return facts;
}

const SolidEngine& engine() {
  static const SolidEngine engine{HAFTWRIGHT_VERSION, sizeof(Design), sizeof(Handle), sizeof(DrillGuide),
                                  build_handle,       build_guide,    measure_step};
  return engine;
}

}  // namespace haftwright::kernel
