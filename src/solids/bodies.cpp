#include <cmath>
#include <limits>

#include <IntCurvesFace_ShapeIntersector.hxx>
#include <Standard_Failure.hxx>
#include <gp_Lin.hxx>

#include "bodies_impl.hpp"
#include "measure.hpp"
#include "parts.hpp"
#include "shapes.hpp"
#include "step.hpp"

namespace haftwright {

Bodies::Bodies() : impl_(std::make_unique<Impl>()) {}
Bodies::Bodies(std::unique_ptr<Impl> impl) : impl_(std::move(impl)) {}
Bodies::~Bodies() = default;
Bodies::Bodies(Bodies&&) noexcept = default;
Bodies& Bodies::operator=(Bodies&&) noexcept = default;

void Bodies::Impl::add(kernel::MeasuredBody body, Colour colour) {
  shapes.push_back({std::move(body.shape), body.facts.name, colour});
  facts.push_back(std::move(body.facts));
}

const std::vector<BodyFacts>& Bodies::facts() const {
  return impl_->facts;
}

const std::vector<std::string>& Bodies::warnings() const {
  return impl_->warnings;
}

double Bodies::outermost_z(std::size_t index, Vec2 p, bool toward_left) const {
  const kernel::NamedShape& body = impl_->shapes.at(index);
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

std::string Bodies::step_text(const std::string& product_name) const {
  return kernel::write_step(impl_->shapes, product_name);
}

std::vector<BodyFacts> measure_step(const std::string& step_text) {
  std::vector<BodyFacts> facts;
  for (const kernel::NamedShape& body : kernel::read_step(step_text)) {
    facts.push_back(kernel::measured(body.shape, body.name, {}).facts);
  }
  return facts;
}

}  // namespace haftwright
