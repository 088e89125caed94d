#include "spline_fit.hpp"

#include <algorithm>

#include <GeomAPI_Interpolate.hxx>
#include <TColStd_HArray1OfReal.hxx>
#include <TColgp_HArray1OfPnt.hxx>
#include <gp_Vec.hxx>

namespace haftwright::kernel {

namespace {

using Curve = opencascade::handle<Geom_BSplineCurve>;

constexpr std::size_t kMostSites = 400;
constexpr double kSamePoint_mm = 1e-9;  // the interpolation's own check; sites are never that near

/// Second order, from inside the range.
std::vector<gp_Vec> end_tangents(const CurveFunction& function, double t, double step) {
  const Points here = function(t);
  const Points one = function(t + step);
  const Points two = function(t + 2 * step);
  std::vector<gp_Vec> tangents;
  for (std::size_t i = 0; i < here.size(); ++i) {
    tangents.push_back((gp_Vec(here[i], one[i]) * 4 - gp_Vec(here[i], two[i])) / (2 * step));
  }
  return tangents;
}

std::vector<Curve> interpolated(const std::vector<Points>& rows, const std::vector<double>& sites,
                                const std::vector<gp_Vec>& first, const std::vector<gp_Vec>& last) {
  const int count = static_cast<int>(sites.size());
  opencascade::handle<TColStd_HArray1OfReal> parameters = new TColStd_HArray1OfReal(1, count);
  for (int i = 1; i <= count; ++i) parameters->SetValue(i, sites[static_cast<std::size_t>(i - 1)]);
  std::vector<Curve> curves;
  for (std::size_t k = 0; k < first.size(); ++k) {
    opencascade::handle<TColgp_HArray1OfPnt> points = new TColgp_HArray1OfPnt(1, count);
    for (int i = 1; i <= count; ++i) points->SetValue(i, rows[static_cast<std::size_t>(i - 1)][k]);
    GeomAPI_Interpolate job(points, parameters, false, kSamePoint_mm);
    job.Load(first[k], last[k], false);
    job.Perform();
    curves.push_back(job.Curve());
  }
  return curves;
}

double farthest(const std::vector<Curve>& curves, const CurveFunction& function, double t) {
  const Points exact = function(t);
  double worst = 0;
  for (std::size_t k = 0; k < curves.size(); ++k)
    worst = std::max(worst, curves[k]->Value(t).Distance(exact[k]));
  return worst;
}

}  // namespace

std::vector<Curve> fit(const CurveFunction& function, std::vector<double> sites, double tolerance_mm) {
  const double step = (sites.back() - sites.front()) * 1e-5;
  const auto first = end_tangents(function, sites.front(), step);
  const auto last = end_tangents(function, sites.back(), -step);
  std::vector<Points> rows;
  for (const double t : sites) rows.push_back(function(t));
  while (sites.size() <= kMostSites) {
    const auto curves = interpolated(rows, sites, first, last);
    std::vector<double> finer{sites.front()};
    std::vector<Points> finer_rows{rows.front()};
    for (std::size_t i = 0; i + 1 < sites.size(); ++i) {
      const double from = sites[i];
      const double to = sites[i + 1];
      double worst = 0;
      for (const double share : {0.25, 0.5, 0.75}) {
        worst = std::max(worst, farthest(curves, function, from + share * (to - from)));
      }
      if (worst > tolerance_mm) {
        finer.push_back((from + to) / 2);
        finer_rows.push_back(function(finer.back()));
      }
      finer.push_back(to);
      finer_rows.push_back(rows[i + 1]);
    }
    if (finer.size() == sites.size()) return curves;
    sites = std::move(finer);
    rows = std::move(finer_rows);
  }
  throw FitError("the shape bends too sharply");
}

}  // namespace haftwright::kernel
