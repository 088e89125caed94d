#include "haftwright/preview/fold.hpp"

#include <algorithm>
#include <cmath>
#include <limits>
#include <stdexcept>

#include "edge_walk.hpp"
#include "haftwright/geometry/outline_ops.hpp"
#include "surface_lines.hpp"

namespace haftwright {

using namespace preview;
namespace {

constexpr int kTraceSteps = 8;
constexpr double kWallStep = 1;  // between points along the top of the wall
constexpr int kCrestRows = 24;   // across the handle, to find its thickest place

class FoldMaker {
 public:
  FoldMaker(const Design& design, const Handle& handle, const FoldSettings& settings)
      : design_(design), handle_(handle), settings_(settings), map_(handle, settings.about, settings.gap_mm) {
    drawing_.map = map_;
  }

  FoldDrawing make() {
    for (const Which which : {Which::left, Which::right}) draw_steel(which);
    draw_steel_on_strip();
    for (const SideLayout* side : {&handle_.left, &handle_.right}) {
      const std::vector<SurfaceLine> lines = surface_lines(handle_, *side);
      draw_face(*side, lines);
      draw_strip(*side, lines);
    }
    for (const PinLayout& pin : handle_.pins) draw_pin(pin);
    for (std::size_t i = 0; i < design_.tang.holes.size(); ++i) draw_tang_hole(i);
    for (std::size_t i = 0; i < handle_.cutouts.size(); ++i) draw_cutout_on_strip(i);
    measure();
    return std::move(drawing_);
  }

 private:
  bool about_spine() const { return settings_.about == FoldAbout::spine; }
  static FoldRegion face_of(Which which) {
    return which == Which::left ? FoldRegion::left_face : FoldRegion::right_face;
  }
  static double sign_of(const SideLayout& side) { return side.which == Which::left ? 1 : -1; }
  /// z of a height above the tang face.
  double z_at(const SideLayout& side, double x, double height) const {
    return sign_of(side) * (handle_.tang_thickness_mm(x) / 2 + height);
  }

  FoldArea area(FoldRegion region, const BodyId& body, const std::string& name,
                const std::string& material) const {
    FoldArea made{.region = region, .body = body, .name = name, .material = material};
    if (const Material* found = design_.material(material)) {
      made.material_kind = found->kind;
      made.colour = found->colour;
    }
    return made;
  }
  static BodyId body_of(const Part& part) {
    static constexpr BodyKind kKinds[] = {BodyKind::liner, BodyKind::piece, BodyKind::spacer};
    return {kKinds[static_cast<std::size_t>(part.kind)], part.side, part.index, part.joint};
  }
  void add(FoldLine line) {
    if (line.points.size() > 1) drawing_.lines.push_back(std::move(line));
  }

  std::vector<Vec2> closed(const Outline& outline, Which face) const {
    std::vector<Vec2> points = polyline(outline, settings_.deviation_mm);
    for (Vec2& p : points) p = map_.on_face(face, p);
    return points;
  }
  std::vector<Vec2> on_face(Which face, const std::vector<Vec3>& points) const {
    std::vector<Vec2> drawn;
    for (const Vec3& p : points) drawn.push_back(map_.on_face(face, {p.x, p.y}));
    return drawn;
  }

  void draw_steel(Which which) {
    const FoldRegion region = face_of(which);
    FoldArea steel = area(region, {.kind = BodyKind::tang}, "tang", design_.tang.material);
    steel.loop = closed(handle_.tang, which);
    add({.kind = FoldLineKind::tang_outline,
         .region = region,
         .side = which,
         .closed = true,
         .points = steel.loop});
    for (const Outline& cutout : handle_.cutouts) {
      steel.holes.push_back(closed(cutout, which));
      add({.kind = FoldLineKind::cutout,
           .region = region,
           .side = which,
           .closed = true,
           .points = steel.holes.back()});
    }
    drawing_.areas.push_back(std::move(steel));
  }

  void draw_steel_on_strip() {
    FoldArea steel = area(FoldRegion::edge_strip, {.kind = BodyKind::tang}, "tang", design_.tang.material);
    const double from = handle_.tang.bounds().low.x;
    const double to = handle_.tang.bounds().high.x;
    const auto corner = [&](double x, double sign) {
      return map_.on_strip(x, sign * handle_.tang_thickness_mm(x) / 2);
    };
    steel.loop = {corner(from, 1), corner(to, 1), corner(to, -1), corner(from, -1)};
    for (const Which which : {Which::left, Which::right}) {
      const double sign = which == Which::left ? 1 : -1;
      add({.kind = FoldLineKind::strip_layer,
           .region = FoldRegion::edge_strip,
           .side = which,
           .points = {corner(from, sign), corner(to, sign)}});
    }
    drawing_.areas.push_back(std::move(steel));
  }

  // --- faces -----------------------------------------------------------------------------------------------

  void draw_face(const SideLayout& side, const std::vector<SurfaceLine>& lines) {
    const FoldRegion region = face_of(side.which);
    add({.kind = FoldLineKind::finished_outline,
         .region = region,
         .side = side.which,
         .closed = true,
         .points = closed(side.finished, side.which)});
    for (std::size_t i = 0; i < lines.size(); ++i) {
      draw_surface_line(side, lines[i]);
      if (const Part* part = part_behind(side, i)) draw_part_face(side, *part, lines, i);
    }
    draw_round_over_rim(side);
  }
  /// The piece or strip whose front face is line i.
  static const Part* part_behind(const SideLayout& side, std::size_t i) {
    const auto first = std::find_if(side.parts.begin(), side.parts.end(),
                                    [](const Part& part) { return part.kind != PartKind::liner; });
    const auto left = static_cast<std::size_t>(side.parts.end() - first);
    return i < left ? &*(first + static_cast<std::ptrdiff_t>(i)) : nullptr;
  }

  void draw_surface_line(const SideLayout& side, const SurfaceLine& line) {
    const FoldRegion region = face_of(side.which);
    const auto kind = [&](FoldLineKind front, FoldLineKind joint) { return line.front_face ? front : joint; };
    FoldLine drawn{.kind = kind(FoldLineKind::front_surface, FoldLineKind::joint_surface),
                   .region = region,
                   .side = side.which,
                   .joint = line.joint,
                   .line = line.line};
    drawn.points = on_face(side.which, line.points);
    add(drawn);
    drawn.kind = kind(FoldLineKind::front_inner, FoldLineKind::joint_inner);
    drawn.points = on_face(side.which, {line.belly.inner, line.spine.inner});
    add(drawn);
    const LineEnd& end = about_spine() ? line.spine : line.belly;
    drawn.kind = FoldLineKind::fold_link;
    drawn.points = {map_.on_face(side.which, {end.outer.x, end.outer.y}),
                    map_.on_strip(end.outer.x, end.outer.z)};
    add(drawn);
  }

  /// Round the piece: along the belly, up its rear line, along the spine, down its front line.
  void draw_part_face(const SideLayout& side, const Part& part, const std::vector<SurfaceLine>& lines,
                      std::size_t i) {
    FoldArea face = area(face_of(side.which), body_of(part), part.name, part.material);
    const auto place = [&](const LineEnd& end) { return place_near(side.edge, {end.outer.x, end.outer.y}); };
    const auto along_edge = [&](EdgePlace from, EdgePlace to) {
      for (const EdgePlace& at :
           walk(side.edge, from, to, settings_.deviation_mm, std::numeric_limits<double>::infinity()))
        face.loop.push_back(map_.on_face(side.which, point_at(side.edge, at)));
    };
    const auto along_line = [&](const std::vector<Vec3>& points) {
      for (std::size_t k = 1; k + 1 < points.size(); ++k)  // its ends are on the edge already
        face.loop.push_back(map_.on_face(side.which, {points[k].x, points[k].y}));
    };
    const SurfaceLine& front = lines[i];
    if (i + 1 < lines.size()) {
      const SurfaceLine& rear = lines[i + 1];
      along_edge(place(front.belly), place(rear.belly));
      along_line(rear.points);
      along_edge(place(rear.spine), place(front.spine));
    } else {
      along_edge(place(front.belly), place(front.spine));
    }
    along_line({front.points.rbegin(), front.points.rend()});
    drawing_.areas.push_back(std::move(face));
  }

  /// Where the round-over meets the crown, behind the front face.
  void draw_round_over_rim(const SideLayout& side) {
    if (side.surface.shape().round_over_mm == 0) return;
    const Outline& edge = side.edge;
    FoldLine rim{.kind = FoldLineKind::round_over_rim, .region = face_of(side.which), .side = side.which};
    const EdgePlace from = place_near(edge, Vec2{side.front_belly.outer.x, side.front_belly.outer.y});
    const EdgePlace to = place_near(edge, Vec2{side.front_spine.outer.x, side.front_spine.outer.y});
    for (const EdgePlace& place : walk(edge, from, to, settings_.deviation_mm, kWallStep)) {
      const Vec2 p = point_at(edge, place);
      const double reach = side.surface.round_over_reach_mm({0, p, place.edge, place.t});
      const Vec2 q = p + turned_left(edge.edges()[place.edge].direction(place.t)) * reach;
      // At a corner the rims of both edges end where they meet.
      const bool hidden = edge.nearest(q).distance_mm < reach - 1e-6;
      const bool ahead = side.front.behind_mm(q.x, q.y, side.scale_height_mm(q)) < 0;
      if (!hidden && !ahead) rim.points.push_back(map_.on_face(side.which, q));
    }
    add(std::move(rim));
  }

  // --- strip -----------------------------------------------------------------------------------------------

  Vec2 trace_point(const SideLayout& side, const CutPlane& plane, double s) const {
    const Vec2 p = edge_point(side, plane, s, about_spine());
    return map_.on_strip(p.x, z_at(side, p.x, side.liner_total_mm + s));
  }
  /// A plane's trace on the wall, from the height `from_s` to the top of the wall.
  std::vector<Vec2> trace(const SideLayout& side, const SurfaceLine& line, double from_s) const {
    const LineEnd& end = about_spine() ? line.spine : line.belly;
    std::vector<Vec2> points;
    for (int k = 0; k < kTraceSteps; ++k)
      points.push_back(trace_point(side, line.plane, from_s + (end.outer_s_mm - from_s) * k / kTraceSteps));
    if (from_s == 0) points.front() = map_.on_strip(end.inner.x, end.inner.z);
    points.push_back(map_.on_strip(end.outer.x, end.outer.z));
    return points;
  }
  /// Top of the wall from a line on rearward to the next one, or to the rearmost place.
  std::vector<Vec2> wall_top(const SideLayout& side, const SurfaceLine& from, const SurfaceLine* to) const {
    const auto end = [&](const SurfaceLine& line) {
      const LineEnd& at = about_spine() ? line.spine : line.belly;
      return place_near(side.edge, {at.outer.x, at.outer.y});
    };
    const EdgePlace front = end(from);
    const EdgePlace rear = to ? end(*to) : rearmost(side.edge);
    std::vector<Vec2> points;
    for (const EdgePlace& at : about_spine()
                                   ? walk(side.edge, rear, front, settings_.deviation_mm, kWallStep)
                                   : walk(side.edge, front, rear, settings_.deviation_mm, kWallStep)) {
      const Vec2 p = point_at(side.edge, at);
      points.push_back(
          map_.on_strip(p.x, z_at(side, p.x, side.surface.wall_height_mm({0, p, at.edge, at.t}))));
    }
    if (about_spine()) std::reverse(points.begin(), points.end());
    return points;
  }

  void draw_strip(const SideLayout& side, const std::vector<SurfaceLine>& lines) {
    const double butt = point_at(side.edge, rearmost(side.edge)).x;
    for (const Part& part : side.parts)
      if (part.kind == PartKind::liner) draw_liner_on_strip(side, part, butt);
    for (std::size_t i = 0; i < lines.size(); ++i) {
      const SurfaceLine& line = lines[i];
      const SurfaceLine* next = i + 1 < lines.size() ? &lines[i + 1] : nullptr;
      FoldLine drawn{.kind = line.front_face ? FoldLineKind::strip_front : FoldLineKind::strip_joint,
                     .region = FoldRegion::edge_strip,
                     .side = side.which,
                     .joint = line.joint,
                     .line = line.line};
      drawn.points = trace(side, line, line.front_face ? -side.liner_total_mm : 0);
      add(drawn);
      std::vector<Vec2> top = wall_top(side, line, next);
      drawn.kind = FoldLineKind::strip_layer;
      drawn.points = top;
      add(drawn);
      const Part* part = part_behind(side, i);
      if (!part) continue;
      FoldArea layer = area(FoldRegion::edge_strip, body_of(*part), part->name, part->material);
      layer.loop = trace(side, line, 0);
      layer.loop.insert(layer.loop.end(), top.begin() + 1, top.end());
      if (next) {
        const std::vector<Vec2> rear = trace(side, *next, 0);
        layer.loop.insert(layer.loop.end(), rear.rbegin() + 1, rear.rend());
      } else {
        layer.loop.push_back(map_.on_strip(butt, z_at(side, butt, side.liner_total_mm)));
      }
      drawing_.areas.push_back(std::move(layer));
    }
    draw_crest(side);
  }

  void draw_liner_on_strip(const SideLayout& side, const Part& part, double butt) {
    FoldArea layer = area(FoldRegion::edge_strip, body_of(part), part.name, part.material);
    const auto rear = [&](double s) {
      return map_.on_strip(butt, z_at(side, butt, side.liner_total_mm + s));
    };
    layer.loop = {trace_point(side, side.front, part.s_low_mm), trace_point(side, side.front, part.s_high_mm),
                  rear(part.s_high_mm), rear(part.s_low_mm)};
    add({.kind = FoldLineKind::strip_layer,
         .region = FoldRegion::edge_strip,
         .side = side.which,
         .points = {layer.loop[1], layer.loop[2]}});
    drawing_.areas.push_back(std::move(layer));
  }

  /// The thickest place across the handle, all along it.
  void draw_crest(const SideLayout& side) {
    const Bounds& bounds = side.finished.bounds();
    FoldLine crest{.kind = FoldLineKind::strip_crest, .region = FoldRegion::edge_strip, .side = side.which};
    const int count = std::max(2, static_cast<int>(std::ceil(bounds.size().x / kWallStep)));
    for (int i = 0; i <= count; ++i) {
      const double x = bounds.low.x + bounds.size().x * i / count;
      double height = 0;
      const auto look = [&](double y) {
        if (side.front.behind_mm(x, y, side.scale_height_mm({x, y})) >= 0)
          height = std::max(height, side.surface.height_mm({x, y}));
      };
      look(side.surface.shape().crest_y_mm);
      for (int k = 0; k <= kCrestRows; ++k) look(bounds.low.y + bounds.size().y * k / kCrestRows);
      if (height > 0) crest.points.push_back(map_.on_strip(x, z_at(side, x, height)));
    }
    add(std::move(crest));
  }

  // --- pins and holes --------------------------------------------------------------------------------------

  void circle(FoldCircleKind kind, Which face, std::size_t index, Vec2 at, double radius) {
    drawing_.circles.push_back({kind, face, index, map_.on_face(face, at), radius});
  }
  void band(FoldCircleKind kind, std::size_t index, double x, double radius, double z_from, double z_to) {
    const Vec2 a = map_.on_strip(x - radius, z_from);
    const Vec2 b = map_.on_strip(x + radius, z_to);
    drawing_.bands.push_back({kind, index, glm::min(a, b), glm::max(a, b)});
  }

  void draw_pin(const PinLayout& pin) {
    const PinStock& stock = design_.pins[pin.pin].stock;
    for (const HoleLayer& layer : pin.layers) {
      const double radius = layer.diameter_mm / 2;
      static constexpr FoldCircleKind kKinds[] = {FoldCircleKind::scale_hole, FoldCircleKind::liner_hole,
                                                  FoldCircleKind::tang_hole};
      const FoldCircleKind kind = kKinds[static_cast<std::size_t>(layer.kind)];
      if (layer.kind == HoleLayer::Kind::tang)
        for (const Which face : {Which::left, Which::right}) circle(kind, face, pin.pin, pin.at, radius);
      else
        circle(kind, layer.side, pin.pin, pin.at, radius);
      band(kind, pin.pin, pin.at.x, radius, layer.z_from_mm, layer.z_to_mm);
    }
    for (const Which face : {Which::left, Which::right}) {
      circle(FoldCircleKind::pin, face, pin.pin, pin.at, pin.diameter_mm / 2);
      if (stock.bore_mm > 0) circle(FoldCircleKind::pin_bore, face, pin.pin, pin.at, stock.bore_mm / 2);
    }
    if (pin.layers.empty()) return;
    const double low = pin.layers.front().z_from_mm;
    const double high = pin.layers.back().z_to_mm;
    band(FoldCircleKind::pin, pin.pin, pin.at.x, pin.diameter_mm / 2, low, high);
    if (stock.bore_mm > 0) band(FoldCircleKind::pin_bore, pin.pin, pin.at.x, stock.bore_mm / 2, low, high);
  }

  void draw_tang_hole(std::size_t i) {
    const TangHole& hole = design_.tang.holes[i];
    const double half = handle_.tang_thickness_mm(hole.at_mm.x) / 2;
    for (const Which face : {Which::left, Which::right})
      circle(FoldCircleKind::existing_tang_hole, face, i, hole.at_mm, hole.diameter_mm / 2);
    band(FoldCircleKind::existing_tang_hole, i, hole.at_mm.x, hole.diameter_mm / 2, -half, half);
  }

  void draw_cutout_on_strip(std::size_t i) {
    const Bounds& bounds = handle_.cutouts[i].bounds();
    const double middle = (bounds.low.x + bounds.high.x) / 2;
    const double half = handle_.tang_thickness_mm(middle) / 2;
    band(FoldCircleKind::cutout, i, middle, bounds.size().x / 2, -half, half);
  }

  void measure() {
    drawing_.low = Vec2(std::numeric_limits<double>::infinity());
    drawing_.high = -drawing_.low;
    const auto cover = [&](Vec2 p) {
      drawing_.low = glm::min(drawing_.low, p);
      drawing_.high = glm::max(drawing_.high, p);
    };
    for (const FoldArea& drawn : drawing_.areas) std::for_each(drawn.loop.begin(), drawn.loop.end(), cover);
    for (const FoldLine& drawn : drawing_.lines)
      std::for_each(drawn.points.begin(), drawn.points.end(), cover);
  }

  const Design& design_;
  const Handle& handle_;
  const FoldSettings& settings_;
  FoldMap map_;
  FoldDrawing drawing_;
};

}  // namespace

FoldDrawing draw_fold(const Design& design, const Handle& handle, const FoldSettings& settings) {
  if (!(settings.gap_mm > 0 && std::isfinite(settings.gap_mm)))
    throw std::invalid_argument("the gap must be positive");
  if (!(settings.deviation_mm > 0)) throw std::invalid_argument("the deviation must be positive");
  return FoldMaker(design, handle, settings).make();
}

}  // namespace haftwright
