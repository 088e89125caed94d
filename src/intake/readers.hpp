// The two kinds of file.
#pragma once

#include "haftwright/intake/sketch.hpp"

namespace haftwright::intake {

Sketch read_dxf(std::string_view bytes, const ReadOptions& options);
Sketch read_svg(std::string_view bytes, const ReadOptions& options);

}  // namespace haftwright::intake
