// The lines, arrows and text that a dimension is drawn with, so that every painter draws it alike.
//
// After drawing practice as of ISO 129-1 (from memory): the dimension line beside the thing, between lines
// that reach a little past it; slender closed arrows, which stand outside where the room between is short;
// the words over the line, readable from below or from the right, beside it where they are much longer than
// it.
#pragma once

#include <array>
#include <optional>
#include <vector>

#include "haftwright/drawing/drawing.hpp"

namespace haftwright {

struct DimensionLines {
  std::vector<std::array<Vec2, 2>> lines;
  std::vector<std::array<Vec2, 3>> arrows;  ///< filled; the tip comes first
  std::optional<Circle> ring;               ///< in place of arrows, where there is next to nothing between
  std::optional<Text> text;
};

/// In millimetres of the drawing. `mm_per_point` (> 0, else std::invalid_argument): how much of the drawing a
/// point of the sheet covers.
DimensionLines dimension_lines(const Dimension& dimension, double mm_per_point);

}  // namespace haftwright
