// The basic shapes of SVG.
#pragma once

#include <pugixml.hpp>

#include "path_maker.hpp"

namespace haftwright::intake {

/// What lengths in percent are shares of, in the units where they stand.
struct Viewport {
  double width = 0;
  double height = 0;
};

/// A length among an element's attributes, or `fallback`. `whole`: what percent is a share of.
double svg_length_of(const pugi::xml_node& element, const char* name, double whole, double fallback,
                     const std::string& place);

/// Whether it is a path, rect, circle, ellipse, line, polyline or polygon.
bool is_shape(std::string_view kind);
/// Draws an element for which is_shape says so.
void draw_shape(std::string_view kind, const pugi::xml_node& element, const Viewport& viewport,
                const std::string& place, PathMaker& maker);

}  // namespace haftwright::intake
