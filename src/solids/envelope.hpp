// The finished side as one solid before it is parted: upright walls over the edge outline, the crown on top,
// the round-over between them.
#pragma once

#include <string>
#include <vector>

#include <TopoDS_Shape.hxx>

#include "haftwright/handle/handle.hpp"

namespace haftwright::kernel {

/// In the side's own frame: z outward from the tang's mid-plane. Reaches from z_deep up to the finished
/// surface. `z_of_base` is the height of the tang face at x = 0.
struct EnvelopeShape {
  const HeightField& surface;
  double z_of_base = 0;
  double z_deep = 0;
  double ahead_mm = 0;  ///< the rim ahead of this x is cut away later and stays sharp
  std::string name;     ///< for messages: "left scale"
};

enum class Rim { rounded, sharp };

struct Envelope {
  TopoDS_Shape shape;
  std::vector<std::string> warnings;  ///< where the round-over is not as laid out
  bool as_laid_out = true;            ///< false: part of the rim, or all of it, stayed sharp
};

/// Where the kernel can't roll the round-over round a corner of the plan it is made somewhat smaller there;
/// where it can't make it at all the edge stays sharp, which a warning names.
Envelope envelope(const EnvelopeShape& shape, Rim rim);

}  // namespace haftwright::kernel
