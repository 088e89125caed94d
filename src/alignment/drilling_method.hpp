// One way of drilling: all that sets it apart from the others. A file each (way_*.cpp), and a line in
// ways.cpp.
#pragma once

#include <string>

#include "hole_errors.hpp"
#include "stack_parts.hpp"

namespace haftwright::alignment {

struct DrillingMethod {
  WayRow row;
  /// Why it can't be used whatever the errors; empty when it can.
  std::string (*problem)(const Design& design);
  /// How each scale is set when it is drilled.
  BothSettings (*set)(Variables& variables, const SettingInput& input);
  void (*drill_scales)(HoleDriller& drilling, std::size_t pin, Axis& left, Axis& right);
  /// Where the tang's hole guided the drill, the scales' holes are off against it, and this does nothing.
  void (*drill_tang)(HoleDriller& drilling, std::size_t pin, Axis& tang);
  /// The pins are fixed in the tang while both scales hold them; each scale is then glued on for itself.
  bool pins_are_fixed = false;
};

const DrillingMethod& drilling_method(DrillWay way);

extern const DrillingMethod kByEye;
extern const DrillingMethod kToFirst;
extern const DrillingMethod kTaped;
extern const DrillingMethod kGuide;
extern const DrillingMethod kGuidePinned;

/// Nothing stands in the way.
std::string no_problem(const Design& design);
/// The scales' drills must pass the tang's holes.
std::string drill_passes_tang(const Design& design);
void tang_as_it_guided(HoleDriller& drilling, std::size_t pin, Axis& tang);

// What both methods through the guide share.
void drill_through_guide(HoleDriller& drilling, std::size_t pin, Axis& left, Axis& right);
void drill_tang_through_guide(HoleDriller& drilling, std::size_t pin, Axis& tang);

}  // namespace haftwright::alignment
