// The crown of a side as a surface in space.
//
// The crown is a sum of a curve along x (tang face, thickness stations) and an arc across y, and so is the
// sheet: z(x, y) = along(x) + across(y), two smooth splines.
#pragma once

#include <TopoDS_Face.hxx>

#include "haftwright/geometry/height_field.hpp"

namespace haftwright::kernel {

class CrownSheet {
 public:
  /// The surface z = z_of_base + base_slope x + crown over `plan` and an overshoot on all sides. Throws
  /// FitError when the crown bends too sharply for a smooth surface.
  CrownSheet(const SurfaceShape& shape, double z_of_base, const Bounds& plan);

  const TopoDS_Face& face() const { return face_; }
  double greatest_z() const { return greatest_z_; }

 private:
  TopoDS_Face face_;
  double greatest_z_ = 0;
};

}  // namespace haftwright::kernel
