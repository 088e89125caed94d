// What can be measured on a body.
#pragma once

#include <string>

#include <TopoDS_Shape.hxx>

#include "haftwright/solids/solids.hpp"

namespace haftwright::kernel {

struct MeasuredBody {
  TopoDS_Shape shape;
  BodyFacts facts;
};

MeasuredBody measured(const TopoDS_Shape& shape, const std::string& name, const std::string& material);
/// The same without the check of its soundness, for what came out of a step that has just made it.
MeasuredBody measured_sound(const TopoDS_Shape& shape, const std::string& name, const std::string& material);
/// The same body on the other side of the mid-plane. The kernel mirrors each place by itself, so that what
/// was measured need not be measured again.
MeasuredBody mirrored(const MeasuredBody& body);

/// Throws SolidError when the body is open or damaged, or when its volume lies more than 0.5 % of
/// `expected_mm3` under that, or over it by more than that and `more_mm3`: a boolean can go wrong and leave a
/// valid solid.
void require_as_expected(const BodyFacts& facts, double expected_mm3, double more_mm3 = 0);

}  // namespace haftwright::kernel
