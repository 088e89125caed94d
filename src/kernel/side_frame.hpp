// A side's own frame: x and y as in the handle, z outward from the tang's mid-plane. The left side stands in
// it as it is in the handle, the right side mirrored.
#pragma once

#include <gp_Pln.hxx>

#include "haftwright/handle/handle.hpp"

namespace haftwright::kernel {

class SideFrame {
 public:
  SideFrame(const Handle& handle, const SideLayout& side)
      : tang_front_z_(handle.tang_thickness_front_mm / 2),
        slope_(handle.tang_slope / 2),
        liner_total_mm_(side.liner_total_mm) {}

  /// z of the tang face at x = 0.
  double tang_front_z() const { return tang_front_z_; }
  double z_of(double x, double s) const { return tang_front_z_ + slope_ * x + liner_total_mm_ + s; }
  double s_of(const gp_Pnt& p) const { return p.Z() - z_of(p.X(), 0); }
  bool tapered() const { return slope_ != 0; }

  /// The plane at height s, normal outward.
  gp_Pln level(double s) const { return {gp_Pnt(0, 0, z_of(0, s)), gp_Dir(-slope_, 0, 1)}; }
  /// A cut plane in space, normal toward the butt.
  gp_Pln plane(const CutPlane& cut) const {
    return {gp_Pnt(cut.x0_mm, 0, z_of(cut.x0_mm, 0)),
            gp_Dir(1 + cut.tan_rake * slope_, -cut.tan_slant, -cut.tan_rake)};
  }
  bool is_behind(const CutPlane& cut, const gp_Pnt& p) const {
    return cut.behind_mm(p.X(), p.Y(), s_of(p)) > 0;
  }

 private:
  double tang_front_z_;
  double slope_;
  double liner_total_mm_;
};

}  // namespace haftwright::kernel
