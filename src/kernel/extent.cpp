#include "extent.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <limits>
#include <optional>
#include <utility>
#include <vector>

#include <BRepAdaptor_Curve.hxx>
#include <BRepAdaptor_Surface.hxx>
#include <BRepTools.hxx>
#include <BRepTopAdaptor_FClass2d.hxx>
#include <BRep_Tool.hxx>
#include <TopExp.hxx>
#include <TopTools_IndexedMapOfShape.hxx>
#include <TopoDS.hxx>
#include <gp_Pnt2d.hxx>

namespace haftwright::kernel {

namespace {

constexpr int kSteps = 12;  // of an edge, and of a face each way

/// Places along +x, +y, +z, -x, -y, -z.
using Reaches = std::array<double, 6>;

Reaches reaches_of(const gp_Pnt& p) {
  return {p.X(), p.Y(), p.Z(), -p.X(), -p.Y(), -p.Z()};
}

/// The greatest value of a function with one hump between `from` and `to`, by the golden section.
template <class Function>
double greatest(const Function& value, double from, double to) {
  constexpr double kGolden = 0.6180339887498949;
  constexpr int kSections = 30;  // to a millionth of the range: a hump is flat there
  double a = to - kGolden * (to - from), b = from + kGolden * (to - from);
  double at_a = value(a), at_b = value(b);
  for (int i = 0; i < kSections; ++i) {
    if (at_a > at_b) {
      to = std::exchange(b, a);
      at_b = at_a;
      a = to - kGolden * (to - from);
      at_a = value(a);
    } else {
      from = std::exchange(a, b);
      at_a = at_b;
      b = from + kGolden * (to - from);
      at_b = value(b);
    }
  }
  return std::max(at_a, at_b);
}

class Measure {
 public:
  Measure() { most_.fill(-std::numeric_limits<double>::infinity()); }

  void take(const TopoDS_Edge& edge) {
    const BRepAdaptor_Curve curve(edge);
    const double from = curve.FirstParameter();
    const double step = (curve.LastParameter() - from) / kSteps;
    const int steps = curve.GetType() == GeomAbs_Line ? 1 : kSteps;
    std::vector<Reaches> row;
    for (int i = 0; i <= steps; ++i)
      row.push_back(reaches_of(curve.Value(i == steps ? curve.LastParameter() : from + i * step)));
    for (std::size_t k = 0; k < most_.size(); ++k) {
      const auto reach = [&](double t) { return reaches_of(curve.Value(t))[k]; };
      for (int i = 0; i <= steps; ++i) most_[k] = std::max(most_[k], row[static_cast<std::size_t>(i)][k]);
      for (int i = 1; i < steps; ++i) {
        const auto at = static_cast<std::size_t>(i);
        const double here = row[at][k];
        // Between its samples a smooth curve rises by no more than it falls to the next ones.
        const double fall = here - std::min(row[at - 1][k], row[at + 1][k]);
        if (fall < 0 || here + fall <= most_[k]) continue;
        most_[k] = std::max(most_[k], greatest(reach, from + (i - 1) * step, from + (i + 1) * step));
      }
    }
  }

  /// To be called after all edges: most faces reach no farther than they do, which shows quickly.
  void take(const TopoDS_Face& face) {
    const BRepAdaptor_Surface surface(face, false);
    // Both are made of straight lines that run on to an edge: they are farthest out there.
    if (surface.GetType() == GeomAbs_Plane || surface.GetType() == GeomAbs_Cylinder) return;
    Patch patch(face, surface);
    for (std::size_t k = 0; k < most_.size(); ++k) most_[k] = std::max(most_[k], patch.most(k, most_[k]));
  }

  Extent extent() const {
    if (!std::isfinite(most_[0])) return {};
    return {{-most_[3], -most_[4], -most_[5]}, {most_[0], most_[1], most_[2]}};
  }

 private:
  /// A face as a grid of places.
  class Patch {
   public:
    Patch(const TopoDS_Face& face, const BRepAdaptor_Surface& surface) : face_(face), surface_(surface) {
      double u_high = 0, v_high = 0;
      BRepTools::UVBounds(face, u_low_, u_high, v_low_, v_high);
      u_step_ = (u_high - u_low_) / kSteps;
      v_step_ = (v_high - v_low_) / kSteps;
      for (int i = 0; i <= kSteps; ++i)
        for (int j = 0; j <= kSteps; ++j) grid_.push_back(at(i, j));
    }

    /// How far the face reaches the k-th way, where that is beyond `known`; some smaller value otherwise.
    double most(std::size_t k, double known) {
      std::vector<std::pair<double, std::pair<int, int>>> places;
      for (int i = 0; i <= kSteps; ++i)
        for (int j = 0; j <= kSteps; ++j)
          if (const double here = value(i, j, k); here + fall(i, j, k) > known)
            places.push_back({here, {i, j}});
      std::sort(places.rbegin(), places.rend());
      // Of several humps the highest need not hold the highest place of the grid.
      double most = known;
      for (const auto& [here, place] : places)
        if (here + fall(place.first, place.second, k) > most && inside(place.first, place.second))
          most = std::max(most, climbed(k, place.first, place.second));
      return most;
    }

   private:
    Reaches at(double i, double j) const {
      return reaches_of(surface_.Value(u_low_ + i * u_step_, v_low_ + j * v_step_));
    }
    double value(int i, int j, std::size_t k) const {
      return grid_[static_cast<std::size_t>(i * (kSteps + 1) + j)][k];
    }
    /// From a place of the grid to its lowest neighbour.
    double fall(int i, int j, std::size_t k) const {
      double lowest = value(i, j, k);
      for (int a = std::max(0, i - 1); a <= std::min(kSteps, i + 1); ++a)
        for (int b = std::max(0, j - 1); b <= std::min(kSteps, j + 1); ++b)
          lowest = std::min(lowest, value(a, b, k));
      return value(i, j, k) - lowest;
    }
    bool inside(double i, double j) {
      if (!within_) within_.emplace(face_, 1e-7);
      return within_->Perform(gp_Pnt2d(u_low_ + i * u_step_, v_low_ + j * v_step_)) == TopAbs_IN;
    }
    /// Uphill from a place inside, by ever smaller steps that stay inside.
    double climbed(std::size_t k, double i, double j) {
      double best = at(i, j)[k];
      for (double step = 0.5; step > 1e-5;) {
        bool higher = false;
        for (const auto& [a, b] : {std::pair{step, 0.0}, {-step, 0.0}, {0.0, step}, {0.0, -step}}) {
          const double there = at(i + a, j + b)[k];
          if (there <= best || !inside(i + a, j + b)) continue;
          best = there;
          i += a;
          j += b;
          higher = true;
        }
        if (!higher) step /= 2;
      }
      return best;
    }

    const TopoDS_Face& face_;
    const BRepAdaptor_Surface& surface_;
    double u_low_ = 0, v_low_ = 0, u_step_ = 0, v_step_ = 0;
    std::vector<Reaches> grid_;
    std::optional<BRepTopAdaptor_FClass2d> within_;
  };

  Reaches most_{};
};

}  // namespace

Extent extent(const TopoDS_Shape& shape) {
  Measure measure;
  TopTools_IndexedMapOfShape edges, faces;
  TopExp::MapShapes(shape, TopAbs_EDGE, edges);
  TopExp::MapShapes(shape, TopAbs_FACE, faces);
  for (int i = 1; i <= edges.Extent(); ++i)
    if (!BRep_Tool::Degenerated(TopoDS::Edge(edges(i)))) measure.take(TopoDS::Edge(edges(i)));
  for (int i = 1; i <= faces.Extent(); ++i) measure.take(TopoDS::Face(faces(i)));
  return measure.extent();
}

}  // namespace haftwright::kernel
