// Plain steps on the kernel's shapes: outlines into solids, cuts, and what must hold after each.
//
// A step that fails throws SolidError; `what` in these functions is the name of the part being made, which
// the message begins with. Cuts and splits are tried with several tolerances, and what they return is closed
// and valid. Shapes given in are never changed. The kernel's own coincidence is 1e-7 mm:
// cutting tools must overshoot instead of ending flush with a face.
#pragma once

#include <functional>
#include <string>
#include <vector>

#include <TopoDS_Face.hxx>
#include <TopoDS_Shape.hxx>
#include <TopoDS_Wire.hxx>
#include <gp_Pln.hxx>
#include <gp_Pnt.hxx>

#include "haftwright/geometry/outline.hpp"

namespace haftwright::kernel {

/// Keeps the kernel from printing, for the whole process. Cheap to call again.
void keep_quiet();

TopoDS_Wire wire(const Outline& outline, double z);
TopoDS_Face face(const Outline& outline, double z);
/// Solid with upright walls: planes and cylinders only.
TopoDS_Shape upright(const Outline& outline, double z_low, double z_high);
/// The same with openings right through it, which lie clear of the outline and of each other.
TopoDS_Shape upright(const Outline& outline, const std::vector<Outline>& openings, double z_low,
                     double z_high);
TopoDS_Shape upright_cylinder(Vec2 at, double radius_mm, double z_low, double z_high);

/// A face of `plane` that reaches past everything whose plan lies in `plan` and whose height lies between.
TopoDS_Face wide_face(const gp_Pln& plane, const Bounds& plan, double z_low, double z_high);

/// The same flat face as a spline. The kernel follows its cuts step by step where, for a plane that leans a
/// hundredth of a degree against round walls, it looks for ellipses kilometres long and loses them.
TopoDS_Face as_spline(const TopoDS_Face& flat);

/// `from` without the tools; without tools it is `from` itself.
TopoDS_Shape cut(const TopoDS_Shape& from, const std::vector<TopoDS_Shape>& tools, const std::string& what);
TopoDS_Shape fused(const TopoDS_Shape& a, const std::vector<TopoDS_Shape>& others, const std::string& what);
/// The parts of each shape that lie inside both, in the order of `shapes`, which must not meet each other.
/// Every shape has to reach inside.
std::vector<TopoDS_Shape> common(const std::vector<TopoDS_Shape>& shapes, const TopoDS_Shape& keep,
                                 const TopoDS_Shape& and_keep, const std::string& what);
/// Of the solids that `faces` part `solid` into, the wanted ones; only those need be sound.
using Wanted = std::function<bool(const TopoDS_Shape& solid)>;
std::vector<TopoDS_Shape> split(const TopoDS_Shape& solid, const std::vector<TopoDS_Shape>& faces,
                                const std::string& what, const Wanted& wanted);
/// What of `solid` lies on the side of `plane` its normal points away from. The plane has to pass right
/// through or leave it whole.
TopoDS_Shape below(const TopoDS_Shape& solid, const gp_Pln& plane, const std::string& what);

/// The solids a shape is made of.
std::vector<TopoDS_Shape> solids_of(const TopoDS_Shape& shape);
/// The one solid as itself, several as a compound, none as a null shape.
TopoDS_Shape gathered(const std::vector<TopoDS_Shape>& solids);

/// Good to about 1e-6 of itself.
double volume_mm3(const TopoDS_Shape& shape);
/// The shape with neighbouring edges drawn out to where they meet. Where two round-overs meet at a slight
/// bend the kernel may leave them up to some tenths of a millimetre apart and call that the vertex's
/// tolerance: then areas along such a border are wrong, and whoever reads the body closes it in a way of his
/// own. A shape whose borders are closed, or can't be, is returned as it is.
TopoDS_Shape with_borders_closed(const TopoDS_Shape& shape);
/// Signed distance from the plane of the shape's place farthest off it, among places along its edges:
/// positive where the plane's normal points.
double farthest_off(const gp_Pln& plane, const TopoDS_Shape& shape);
/// True when the shape lies where the plane's normal points, false when it lies on the other side. Throws
/// SolidError when the plane passes through it by more than 0.001 mm: a cut along the plane was missed.
bool lies_ahead(const gp_Pln& plane, const TopoDS_Shape& shape, const std::string& what);

/// The kernel's own check, and beside it: at least one solid, every edge of every shell used exactly once in
/// each direction. (The kernel's check alone lets shells pass that are not closed.)
bool closed_and_valid(const TopoDS_Shape& shape);
/// Throws SolidError when it is not.
void require_sound(const TopoDS_Shape& shape, const std::string& what, const std::string& step);

}  // namespace haftwright::kernel
