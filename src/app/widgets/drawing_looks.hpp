// How each role of a drawing looks in the window.
#pragma once

#include "haftwright/drawing/drawing.hpp"
#include "theme.hpp"

namespace haftwright::app {

/// A colour of the palette, so and so dense; without one nothing is painted.
struct Ink {
  ImU32 Palette::*colour = nullptr;
  unsigned alpha = 0xFF;

  explicit operator bool() const { return colour != nullptr; }
  ImU32 packed() const { return with_alpha(palette().*colour, alpha); }
};

struct RoleLook {
  Role role;
  Ink fill;
  Ink stroke;
  float width = 1;  ///< pixels at scale 1
  bool dashed = false;
  float halo = 0;  ///< pixels at scale 1: a paler ground under the stroke, for light wood and dark; 0: none
};
const RoleLook& look_of(Role role);

}  // namespace haftwright::app
