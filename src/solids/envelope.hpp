// The finished side as one solid before it is parted: upright walls over the edge outline, the crown on top,
// the round-over between them.
#pragma once

#include <string>

#include <TopoDS_Shape.hxx>

#include "haftwright/handle/handle.hpp"

namespace haftwright::kernel {

/// In the side's own frame: z outward from the tang's mid-plane. Reaches from z_deep up to the finished
/// surface. `z_of_base` is the height of the tang face at x = 0.
struct EnvelopeShape {
  const HeightField& surface;
  double z_of_base = 0;
  double z_deep = 0;
  std::string name;  ///< for messages: "left scale"
};
TopoDS_Shape envelope(const EnvelopeShape& shape);

}  // namespace haftwright::kernel
