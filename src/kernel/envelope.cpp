#include "envelope.hpp"

#include <algorithm>
#include <cmath>
#include <limits>
#include <utility>

#include <BRepFilletAPI_MakeFillet.hxx>
#include <BRep_Tool.hxx>
#include <Standard_Failure.hxx>
#include <TopExp.hxx>
#include <TopExp_Explorer.hxx>
#include <TopTools_IndexedMapOfShape.hxx>
#include <TopoDS.hxx>
#include <TopoDS_Edge.hxx>
#include <TopoDS_Vertex.hxx>

#include "crown_sheet.hpp"
#include "haftwright/design/units.hpp"
#include "haftwright/solids/solids.hpp"
#include "rim_check.hpp"
#include "shapes.hpp"

namespace haftwright::kernel {

namespace {

/// The prism over `plan` cut off by the crown: its lower part.
TopoDS_Shape crowned(const EnvelopeShape& shape, const Outline& plan, const CrownSheet& sheet) {
  const TopoDS_Shape prism = upright(plan, shape.z_deep, sheet.greatest_z() + 1);
  const auto level = [](double z) { return gp_Pln(gp_Pnt(0, 0, z), gp_Dir(0, 0, 1)); };
  // Each part is farthest from the middle at its own end of the prism.
  const gp_Pln middle = level((shape.z_deep + sheet.greatest_z() + 1) / 2);
  const auto is_lower = [&](const TopoDS_Shape& part) { return farthest_off(middle, part) < 0; };
  const auto parts = split(prism, {sheet.face()}, shape.name, is_lower);
  const double most_mm = sheet.greatest_z() + 0.5 - shape.z_deep;
  if (parts.size() != 1 || farthest_off(level(shape.z_deep), parts.front()) > most_mm)
    throw SolidError(shape.name + ": the crown does not pass right through the handle");
  return parts.front();
}

/// About where a chain of edges begins and ends: an edge alone at its corners, several at the middles of the
/// first and the last.
std::pair<gp_Pnt, gp_Pnt> ends_of(const std::vector<TopoDS_Edge>& chain) {
  TopoDS_Vertex from, to;
  TopExp::Vertices(chain.front(), from, to);
  if (chain.size() == 1) return {BRep_Tool::Pnt(from), BRep_Tool::Pnt(to)};
  const gp_XYZ first = (BRep_Tool::Pnt(from).XYZ() + BRep_Tool::Pnt(to).XYZ()) / 2;
  TopExp::Vertices(chain.back(), from, to);
  return {first, (BRep_Tool::Pnt(from).XYZ() + BRep_Tool::Pnt(to).XYZ()) / 2};
}

/// The edges where walls and crown meet, but for those ahead of what is kept.
std::vector<TopoDS_Edge> rim_of(const TopoDS_Shape& solid, const CrownSheet& sheet, double ahead_mm) {
  const auto crown = BRep_Tool::Surface(sheet.face());
  TopTools_IndexedMapOfShape edges;
  for (TopExp_Explorer it(solid, TopAbs_FACE); it.More(); it.Next()) {
    const TopoDS_Face& face = TopoDS::Face(it.Current());
    if (BRep_Tool::Surface(face) == crown) TopExp::MapShapes(face, TopAbs_EDGE, edges);
  }
  std::vector<TopoDS_Edge> result;
  for (int i = 1; i <= edges.Extent(); ++i) {
    TopoDS_Vertex from, to;
    TopExp::Vertices(TopoDS::Edge(edges(i)), from, to);
    if (std::max(BRep_Tool::Pnt(from).X(), BRep_Tool::Pnt(to).X()) > ahead_mm)
      result.push_back(TopoDS::Edge(edges(i)));
  }
  return result;
}

/// Corners of the plan round which the ball of the round-over has no room, or next to none.
struct TightCorner {
  Vec2 from{0, 0};
  Vec2 to{0, 0};
  double radius_mm = 0;
};

bool is_tight(const Edge& edge, double round_over_mm) {
  return edge.sweep > 0 && edge.radius < 1.1 * round_over_mm;
}

std::vector<TightCorner> tight_corners(const Outline& plan, double round_over_mm) {
  std::vector<TightCorner> corners;
  for (const Edge& edge : plan.edges())
    if (is_tight(edge, round_over_mm)) corners.push_back({edge.from, edge.to, edge.radius});
  return corners;
}

/// The plan with a node beside each tight corner, between which the radius can change.
Outline with_run_ins(const Outline& plan, double round_over_mm) {
  const std::vector<Edge>& edges = plan.edges();
  const double run_in_mm = 2 * round_over_mm;
  std::vector<Node> chain;
  for (std::size_t i = 0; i < edges.size(); ++i) {
    const Edge& edge = edges[i];
    std::vector<double> stops{0};
    if (!is_tight(edge, round_over_mm) && edge.length() > 2 * run_in_mm) {
      const double share = run_in_mm / edge.length();
      if (is_tight(edges[(i + edges.size() - 1) % edges.size()], round_over_mm)) stops.push_back(share);
      if (is_tight(edges[(i + 1) % edges.size()], round_over_mm)) stops.push_back(1 - share);
    }
    stops.push_back(1);
    for (std::size_t k = 0; k + 1 < stops.size(); ++k)
      chain.push_back({edge.point(stops[k]), std::tan(edge.sweep * (stops[k + 1] - stops[k]) / 4)});
  }
  return Outline::trusted(std::move(chain));
}

/// The kernel takes 30 to 50 ms an edge to round a rim over, and mostly fails in the end where they are many.
constexpr std::size_t kMostRoundedEdges = 400;

/// One try at rounding the rim over.
class Rounding {
 public:
  Rounding(const TopoDS_Shape& solid, const std::vector<TopoDS_Edge>& edges, double radius_mm,
           ChFi3d_FilletShape form)
      : fillet_(solid, form), radius_mm_(radius_mm) {
    for (const TopoDS_Edge& edge : edges)
      if (fillet_.Contour(edge) == 0) fillet_.Add(radius_mm, edge);
  }

  /// Less at the ends of tight corners, as laid out at all other corners.
  void ease(const std::vector<TightCorner>& corners, double share) {
    for (int contour = 1; contour <= fillet_.NbContours(); ++contour)
      for (int k = 1; k <= fillet_.NbEdges(contour); ++k) {
        TopoDS_Vertex from, to;
        TopExp::Vertices(fillet_.Edge(contour, k), from, to);
        for (const TopoDS_Vertex& vertex : {from, to})
          fillet_.SetRadius(radius_at(vertex, corners, share), contour, vertex);
      }
  }

  /// A null shape when the kernel can't do it.
  TopoDS_Shape made() {
    try {
      fillet_.Build();
      if (!fillet_.IsDone()) return {};
      const TopoDS_Shape result = gathered(solids_of(fillet_.Shape()));
      return closed_and_valid(result) ? result : TopoDS_Shape();
    } catch (const Standard_Failure&) {
      return {};
    }
  }

  /// The edges that run smoothly into each other, chain by chain.
  std::vector<std::vector<TopoDS_Edge>> chains() const {
    std::vector<std::vector<TopoDS_Edge>> chains;
    for (int contour = 1; contour <= fillet_.NbContours(); ++contour) {
      chains.emplace_back();
      for (int k = 1; k <= fillet_.NbEdges(contour); ++k) chains.back().push_back(fillet_.Edge(contour, k));
    }
    return chains;
  }

 private:
  double radius_at(const TopoDS_Vertex& vertex, const std::vector<TightCorner>& corners, double share) const {
    constexpr double kSameCorner_mm = 1e-4;
    const gp_Pnt at = BRep_Tool::Pnt(vertex);
    double radius = radius_mm_;
    for (const TightCorner& corner : corners)
      for (const Vec2 end : {corner.from, corner.to})
        if (glm::distance(end, Vec2{at.X(), at.Y()}) < kSameCorner_mm)
          radius = std::min(radius, share * corner.radius_mm);
    return radius;
  }

  BRepFilletAPI_MakeFillet fillet_;
  double radius_mm_;
};

std::string at_place(Vec2 place) {
  return "x " + format_number(place.x, 1) + " mm, y " + format_number(place.y, 1) + " mm";
}

/// Rounds the rim of one side over, by the first way that the kernel can go.
class RimMaker {
 public:
  explicit RimMaker(const EnvelopeShape& shape)
      : shape_(shape),
        plan_(shape.surface.edge()),
        radius_mm_(shape.surface.shape().round_over_mm),
        sheet_(shape.surface.shape(), shape.z_of_base, plan_.bounds()),
        solid_(crowned(shape, plan_, sheet_)),
        all_(rim_of(solid_, sheet_, -std::numeric_limits<double>::infinity())),
        kept_(rim_of(solid_, sheet_, shape.ahead_mm)) {}

  Envelope make(RimWay from) const {
    if (radius_mm_ <= 0) return {solid_, RimWay::sharp, {}, true};
    if (all_.size() > kMostRoundedEdges) return sharp();
    for (RimWay way = from; way != RimWay::sharp; way = next(way))
      if (Envelope made = by(way); !made.shape.IsNull()) return made;
    return sharp();
  }

 private:
  /// A null shape when the kernel can't go this way.
  Envelope by(RimWay way) const {
    try {
      if (way == RimWay::whole) return as_laid_out(all_, way);
      if (way == RimWay::behind_front) return behind_front();
      return way == RimWay::eased_corners ? with_eased_corners() : partly_sharp();
    } catch (const Standard_Failure&) {
      return {};
    }
  }

  Envelope as_laid_out(const std::vector<TopoDS_Edge>& edges, RimWay way) const {
    // Where the kernel stumbles over one description of the surface, a tenth of a micrometre or another form
    // of the same round may get it past. A rim of many edges takes long, and is hardly ever helped.
    constexpr std::size_t kManyEdges = 64;
    TopoDS_Shape nearest;
    RimDeviation least;
    for (const double nudge_mm : {0.0, 1e-4, -1e-4})
      for (const ChFi3d_FilletShape form : {ChFi3d_Rational, ChFi3d_QuasiAngular}) {
        const TopoDS_Shape result = Rounding(solid_, edges, radius_mm_ + nudge_mm, form).made();
        if (!result.IsNull()) {
          const RimDeviation off = rim_deviation(result, shape_);
          if (std::abs(off.too_high_mm) <= kRimDeviation_mm) return {result, way, {}, true};
          if (nearest.IsNull() || std::abs(off.too_high_mm) < std::abs(least.too_high_mm)) {
            nearest = result;
            least = off;
          }
        }
        if (edges.size() > kManyEdges) return {nearest, way, deviation_words(least), true};
      }
    return {nearest, way, deviation_words(least), true};
  }

  std::vector<std::string> deviation_words(const RimDeviation& off) const {
    return {shape_.name + ": the solid's round-over is up to " + format_number(std::abs(off.too_high_mm), 2) +
            " mm too " + (off.too_high_mm > 0 ? "high" : "low") + " at " + at_place(off.at)};
  }

  Envelope behind_front() const {
    if (kept_.size() == all_.size()) return {};
    Envelope made = as_laid_out(kept_, RimWay::behind_front);
    // Measured on a random design: up to 0.2 mm too high, fading out some 18 mm behind the front end.
    made.warnings.push_back(
        shape_.name +
        ": the solid's round-over stands a few tenths of a millimetre too high near the front face");
    return made;
  }

  Envelope with_eased_corners() const {
    const std::vector<TightCorner> corners = tight_corners(plan_, radius_mm_);
    if (corners.empty()) return {};
    const TopoDS_Shape solid = crowned(shape_, with_run_ins(plan_, radius_mm_), sheet_);
    const std::vector<TopoDS_Edge> edges = rim_of(solid, sheet_, shape_.ahead_mm);
    for (const double share : {0.9, 0.8}) {
      Rounding rounding(solid, edges, radius_mm_, ChFi3d_Rational);
      rounding.ease(corners, share);
      const TopoDS_Shape result = rounding.made();
      if (result.IsNull()) continue;
      Envelope envelope{result, RimWay::eased_corners, {}, true};
      for (const TightCorner& corner : corners)
        envelope.warnings.push_back(shape_.name + ": the solid's round-over is " +
                                    format_number(std::min(radius_mm_, share * corner.radius_mm), 2) +
                                    " mm instead of " + format_number(radius_mm_, 2) +
                                    " mm round the corner at " + at_place((corner.from + corner.to) / 2.0) +
                                    ", which is too tight for it");
      return envelope;
    }
    return {};
  }

  /// With one smooth chain of edges after the other left out.
  Envelope partly_sharp() const {
    constexpr std::size_t kMostChains = 12;
    const auto chains = Rounding(solid_, kept_, radius_mm_, ChFi3d_Rational).chains();
    if (chains.size() < 2 || chains.size() > kMostChains) return {};
    for (const auto& left_out : chains) {
      std::vector<TopoDS_Edge> rest;
      for (const auto& chain : chains)
        if (&chain != &left_out) rest.insert(rest.end(), chain.begin(), chain.end());
      const TopoDS_Shape result = Rounding(solid_, rest, radius_mm_, ChFi3d_Rational).made();
      if (result.IsNull()) continue;
      const auto [from, to] = ends_of(left_out);
      return {
          result,
          RimWay::partly_sharp,
          {shape_.name + ": the solid kernel can't round the edge over from " +
           at_place({from.X(), from.Y()}) + " to " + at_place({to.X(), to.Y()}) + "; it is left sharp there"},
          false};
    }
    return {};
  }

  Envelope sharp() const {
    return {solid_,
            RimWay::sharp,
            {shape_.name + ": the solid kernel can't round this edge over by " +
             format_number(radius_mm_, 2) + " mm; the solid's edge is left sharp all round"},
            false};
  }

  const EnvelopeShape& shape_;
  const Outline& plan_;
  double radius_mm_;
  CrownSheet sheet_;
  TopoDS_Shape solid_;
  std::vector<TopoDS_Edge> all_;   ///< the whole rim
  std::vector<TopoDS_Edge> kept_;  ///< what of it is not cut away later
};

}  // namespace

Envelope envelope(const EnvelopeShape& shape, RimWay from) {
  return RimMaker(shape).make(from);
}

}  // namespace haftwright::kernel
