// A pin as a body: a round bar or tube whose ends follow the finished surfaces.
#pragma once

#include "haftwright/handle/handle.hpp"
#include "haftwright/preview/meshes.hpp"

namespace haftwright::preview {

/// Appends the pin's triangles to `body`.
void build_pin(const Handle& handle, const PinLayout& pin, double bore_mm, const MeshSettings& settings,
               Body& body);

}  // namespace haftwright::preview
