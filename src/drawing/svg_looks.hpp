// How each role looks on paper.
#pragma once

#include <string_view>

#include "haftwright/drawing/drawing.hpp"

namespace haftwright::drawing {

/// Declarations of the style sheet for the elements of a role.
std::string_view style_of(Role role);

}  // namespace haftwright::drawing
