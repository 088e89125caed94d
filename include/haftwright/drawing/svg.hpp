// A drawing as an SVG file: at true size, arcs as arcs.
#pragma once

#include <string>

#include "haftwright/drawing/drawing.hpp"

namespace haftwright {

struct SvgPage {
  double margin_mm = 5;  ///< beyond the bounds on every side, not negative
  std::string title;
};

/// An SVG 1.1 document whose lengths are millimetres on paper. Every item is an element of the class of its
/// role, its tag in `data-tag`; looks are in one style sheet at the top. Numbers are written so that they
/// read back exactly, whatever the locale. Throws std::invalid_argument for an empty drawing or a negative
/// margin.
std::string to_svg(const Drawing& drawing, const SvgPage& page = {});

}  // namespace haftwright
