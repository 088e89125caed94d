// The bodies' makers, one for each kind. Bodies of a side are in the side's own frame (side_frame.hpp).
#pragma once

#include <functional>
#include <string>
#include <vector>

#include <TopoDS_Shape.hxx>

#include "haftwright/guide/drill_guide.hpp"
#include "haftwright/handle/volumes.hpp"
#include "measure.hpp"

namespace haftwright::kernel {

TopoDS_Shape guide_body(const DrillGuide& guide);

/// In the handle's frame.
TopoDS_Shape tang_body(const Design& design, const Handle& handle);

struct SideBodies {
  std::vector<MeasuredBody> parts;    ///< as SideLayout::parts
  TopoDS_Shape envelope;              ///< from below the other side's surface up to this side's
  std::vector<std::string> warnings;  ///< where the round-over is not as laid out, in words
  bool as_laid_out = true;            ///< false: the edge stayed sharp somewhere, so that volumes are larger
};
/// `expected` is what the bodies are held against. `step` is told before each step what comes next; what it
/// throws passes through.
SideBodies side_bodies(const Handle& handle, const SideLayout& side, const SideVolumes& expected,
                       const std::function<void(const std::string&)>& step);

/// The same shape on the other side of the mid-plane.
TopoDS_Shape mirrored(const TopoDS_Shape& shape);

/// Pins and tubes in the handle's frame, their ends on the finished surfaces. The envelopes are those of the
/// left side and, mirrored into place, of the right side.
std::vector<TopoDS_Shape> pin_bodies(const Design& design, const Handle& handle, const TopoDS_Shape& left,
                                     const TopoDS_Shape& right);

}  // namespace haftwright::kernel
