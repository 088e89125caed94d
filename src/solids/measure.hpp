// What can be measured on a body.
#pragma once

#include <string>

#include <TopoDS_Shape.hxx>

#include "haftwright/solids/solids.hpp"

namespace haftwright::kernel {

BodyFacts measured(const TopoDS_Shape& shape, const std::string& name, const std::string& material);

}  // namespace haftwright::kernel
