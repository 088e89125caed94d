// Smooth curves (cubic, curvature continuous) through exact points, as dense as a tolerance asks for.
#pragma once

#include <functional>
#include <stdexcept>
#include <vector>

#include <Geom_BSplineCurve.hxx>
#include <gp_Pnt.hxx>

namespace haftwright::kernel {

/// No curve within the tolerance: the function bends too sharply.
struct FitError : std::runtime_error {
  using std::runtime_error::runtime_error;
};

/// Several curves over one parameter.
using Points = std::vector<gp_Pnt>;
using CurveFunction = std::function<Points(double t)>;

/// One spline for each curve of `function`, all with the same knots, no farther than `tolerance_mm` from it.
/// `sites` is where it starts from: at least both ends, rising; places where a curvature jumps belong in it.
std::vector<opencascade::handle<Geom_BSplineCurve>> fit(const CurveFunction& function,
                                                        std::vector<double> sites, double tolerance_mm);

}  // namespace haftwright::kernel
