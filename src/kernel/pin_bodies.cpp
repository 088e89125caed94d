#include <algorithm>

#include "haftwright/solids/solids.hpp"
#include "haftwright/words/words.hpp"
#include "parts.hpp"
#include "shapes.hpp"

namespace haftwright::kernel {

namespace {

TopoDS_Shape stock(const Design& design, const PinLayout& layout, double reach) {
  const Pin& pin = design.pins[layout.pin];
  const TopoDS_Shape rod = upright_cylinder(layout.at, layout.diameter_mm / 2, -reach, reach);
  if (pin.stock.bore_mm <= 0) return rod;
  return cut(rod, {upright_cylinder(layout.at, pin.stock.bore_mm / 2, -reach - 1, reach + 1)},
             pin_name(design, layout.pin));
}

/// Pins that run into each other would be parted by each other: such ones are trimmed one by one.
bool any_meet(const std::vector<PinLayout>& pins) {
  for (std::size_t i = 0; i < pins.size(); ++i)
    for (std::size_t k = 0; k < i; ++k)
      if (glm::distance(pins[i].at, pins[k].at) < (pins[i].diameter_mm + pins[k].diameter_mm) / 2)
        return true;
  return false;
}

}  // namespace

std::vector<TopoDS_Shape> pin_bodies(const Design& design, const Handle& handle, const TopoDS_Shape& left,
                                     const TopoDS_Shape& right) {
  std::vector<TopoDS_Shape> pins;
  for (const PinLayout& layout : handle.pins) {
    // Long enough to pass through the finished surface all round, wherever it slopes.
    const double reach = layout.length_mm + 2 * layout.diameter_mm + 10;
    pins.push_back(stock(design, layout, reach));
  }
  if (!any_meet(handle.pins)) {
    try {
      return common(pins, left, right, "pins");
    } catch (const SolidError&) {
      // One of them may spoil it for the others.
    }
  }
  for (std::size_t i = 0; i < pins.size(); ++i)
    pins[i] = common({pins[i]}, left, right, pin_name(design, handle.pins[i].pin)).front();
  return pins;
}

}  // namespace haftwright::kernel
