// Splines of DXF.
#pragma once

#include "dxf_file.hpp"
#include "path_maker.hpp"

namespace haftwright::intake {

/// Draws the spline; true where it is given by its fit points alone, so that a curve was laid through them.
bool draw_spline(std::span<const Tag> tags, const Record& record, PathMaker& maker);

}  // namespace haftwright::intake
