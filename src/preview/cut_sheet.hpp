// Cuts a sheet by planes that do not cross inside it, front to rear, and closes the cut faces.
#pragma once

#include <span>
#include <vector>

#include "haftwright/handle/handle.hpp"
#include "sheet.hpp"

namespace haftwright::preview {

/// What lies between plane i and plane i + 1; what lies ahead of the first plane is dropped.
struct Slab {
  std::vector<SheetFace> faces;  ///< corners index SheetMesh::points; cut faces name their plane
};

/// New points are added to `mesh`. Where `surface` is given, points cut into the outer face are put on the
/// surface and on the plane exactly (s = height - below_mm).
std::vector<Slab> cut_sheet(SheetMesh& mesh, std::span<const CutPlane> planes,
                            const CrownedSheet* crowned = nullptr);

}  // namespace haftwright::preview
