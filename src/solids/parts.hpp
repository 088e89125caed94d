// The bodies' makers, one for each kind.
#pragma once

#include <string>
#include <vector>

#include <TopoDS_Shape.hxx>

#include "haftwright/guide/drill_guide.hpp"
#include "haftwright/handle/handle.hpp"

namespace haftwright::kernel {

TopoDS_Shape guide_body(const DrillGuide& guide);

}  // namespace haftwright::kernel
