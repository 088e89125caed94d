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

/// Ways to make the round-over, best first.
enum class RimWay {
  whole,          ///< as laid out, all round
  behind_front,   ///< as laid out where it is kept; ahead of the front face sharp
  eased_corners,  ///< smaller round corners of the plan that are too tight for it
  partly_sharp,   ///< one smooth chain of edges left sharp
  sharp,          ///< the whole rim left sharp; also where no round-over is laid out
};
inline RimWay next(RimWay way) {
  return static_cast<RimWay>(static_cast<int>(way) + 1);
}

struct Envelope {
  TopoDS_Shape shape;
  RimWay way = RimWay::whole;
  std::vector<std::string> warnings;  ///< where the round-over is not as laid out
  bool as_laid_out = true;            ///< false: part of the rim, or all of it, stayed sharp
};

/// By the first way from `from` on that the kernel can go. A warning names each place that is not as laid
/// out.
Envelope envelope(const EnvelopeShape& shape, RimWay from);

}  // namespace haftwright::kernel
