// A part's colour in a STEP model. Written here and not by the kernel's document writer, whose order of
// styled items follows memory addresses (and which drags the display libraries into the program).
#pragma once

#include <vector>

#include <StepData_StepModel.hxx>
#include <StepRepr_RepresentationItem.hxx>

#include "haftwright/reference/materials.hpp"

namespace haftwright::kernel {

struct ColouredSolid {
  opencascade::handle<StepRepr_RepresentationItem> solid;  ///< of the model
  Colour colour;
};

/// Adds the presentation of each part, all its faces in its colour, in the order given.
void add_colours(const opencascade::handle<StepData_StepModel>& model,
                 const std::vector<ColouredSolid>& parts);

}  // namespace haftwright::kernel
