// What stands in attributes of SVG: numbers, lengths, transforms, boxes.
#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "affine.hpp"

namespace haftwright::intake {

/// One pixel of CSS is 1/96 in by definition.
inline constexpr double kMmPerPixel = 25.4 / 96;

/// Skips blanks and at most one comma.
void skip_separator(std::string_view& text);

/// All numbers of a list with blanks and commas between them; none where something else stands there.
std::optional<std::vector<double>> number_list(std::string_view text);

/// A length with its unit. `value` is in pixels where the unit is an absolute one or none.
struct SvgLength {
  double value = 0;
  bool percent = false;
  bool has_unit = false;
};
/// None for what is no length, or in units that depend on a font.
std::optional<SvgLength> svg_length(std::string_view text);

/// "translate(1 2) rotate(30)"; none where it can't be read.
std::optional<Affine> svg_transform(std::string_view text);

struct ViewBox {
  double x = 0;
  double y = 0;
  double width = 0;
  double height = 0;
};
/// None where it can't be read or has no area.
std::optional<ViewBox> view_box(std::string_view text);

/// From a view box into a box at the origin that is `width` by `height`, as preserveAspectRatio says.
std::optional<Affine> view_map(const ViewBox& box, double width, double height, std::string_view ratio);

}  // namespace haftwright::intake
