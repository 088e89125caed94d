#include "haftwright/preview/fold.hpp"

#include <algorithm>
#include <cmath>
#include <limits>
#include <stdexcept>
#include <utility>

#include "edge_walk.hpp"
#include "fold_roles.hpp"
#include "haftwright/words/words.hpp"
#include "surface_lines.hpp"

namespace haftwright {

using namespace preview;
namespace {

constexpr int kTraceSteps = 8;
constexpr double kWallStep = 1;  // between points along the top of the wall
constexpr int kCrestRows = 24;   // across the handle, to find its thickest place
constexpr double kAxisPast = 3;  // how far an axis reaches beyond the handle
constexpr double kCaptionPoints = 7.5;

std::vector<Node> corners(const std::vector<Vec2>& points) {
  return open_line(points).nodes;
}

class FoldMaker {
 public:
  FoldMaker(const Design& design, const Handle& handle, const FoldSettings& settings)
      : design_(design),
        handle_(handle),
        settings_(settings),
        map_(handle, settings.about, settings.gap_mm) {}

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
    FoldDrawing made{.map = map_};
    pile_up(made, areas_);
    pile_up(made, lines_);
    made.bounds = bounds_of(made.drawing).value();
    draw_axes_and_captions(made.bounds);
    pile_up(made, axes_);
    pile_up(made, bands_);
    pile_up(made, circles_);
    pile_up(made, captions_);
    return made;
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

  /// What is painted in one go.
  using Layer = std::vector<std::pair<FoldThing, Shape>>;

  static void pile_up(FoldDrawing& drawing, Layer& layer) {
    for (auto& [thing, shape] : layer) {
      drawing.drawing.add(role_of(thing), std::move(shape), drawing.things.size());
      drawing.things.push_back(std::move(thing));
    }
  }

  void add_area(FoldRegion region, const std::string& name, const std::string& material,
                std::vector<std::vector<Node>> loops) {
    Fill fill{.loops = std::move(loops)};
    if (const Material* found = design_.material(material))
      fill.natural = {found->colour.red, found->colour.green, found->colour.blue};
    areas_.emplace_back(FoldThing{.kind = FoldKind::area, .region = region, .name = name}, std::move(fill));
  }
  void add_line(FoldThing thing, Stroke stroke) {
    if (stroke.nodes.size() > 1) lines_.emplace_back(std::move(thing), std::move(stroke));
  }
  void add_line(FoldThing thing, const std::vector<Vec2>& points) {
    add_line(std::move(thing), open_line(points));
  }
  static FoldThing thing(FoldKind kind, FoldRegion region, Which side) {
    return {.kind = kind, .region = region, .side = side};
  }
  static FoldThing thing(FoldKind kind, FoldRegion region, Which side, const SurfaceLine& line) {
    return {.kind = kind, .region = region, .side = side, .joint = line.joint, .line = line.line};
  }

  std::vector<Node> on_face(Which face, const Outline& outline) const {
    return moved(outline.nodes(), map_.onto_face(face));
  }
  std::vector<Vec2> on_face(Which face, const std::vector<Vec3>& points) const {
    std::vector<Vec2> drawn;
    for (const Vec3& p : points) drawn.push_back(map_.on_face(face, {p.x, p.y}));
    return drawn;
  }

  void draw_steel(Which which) {
    const FoldRegion region = face_of(which);
    std::vector<std::vector<Node>> loops{on_face(which, handle_.tang)};
    add_line(thing(FoldKind::tang_outline, region, which), Stroke{loops.front(), true});
    for (std::size_t i = 0; i < handle_.cutouts.size(); ++i) {
      loops.push_back(on_face(which, handle_.cutouts[i]));
      add_line({.kind = FoldKind::cutout, .region = region, .side = which, .index = i},
               Stroke{loops.back(), true});
    }
    add_area(region, "tang", design_.tang.material, std::move(loops));
  }

  void draw_steel_on_strip() {
    const double from = handle_.tang.bounds().low.x;
    const double to = handle_.tang.bounds().high.x;
    const auto corner = [&](double x, double sign) {
      return map_.on_strip(x, sign * handle_.tang_thickness_mm(x) / 2);
    };
    add_area(FoldRegion::edge_strip, "tang", design_.tang.material,
             {corners({corner(from, 1), corner(to, 1), corner(to, -1), corner(from, -1)})});
    for (const Which which : {Which::left, Which::right}) {
      const double sign = which == Which::left ? 1 : -1;
      add_line(thing(FoldKind::layer, FoldRegion::edge_strip, which),
               std::vector<Vec2>{corner(from, sign), corner(to, sign)});
    }
  }

  // --- faces -----------------------------------------------------------------------------------------------

  void draw_face(const SideLayout& side, const std::vector<SurfaceLine>& lines) {
    add_line(thing(FoldKind::finished_outline, face_of(side.which), side.which),
             Stroke{on_face(side.which, side.finished), true});
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
    const Which which = side.which;
    const auto drawn = [&](FoldKind front, FoldKind joint) {
      return thing(line.front_face ? front : joint, face_of(which), which, line);
    };
    add_line(drawn(FoldKind::front, FoldKind::joint), on_face(which, line.points));
    add_line(drawn(FoldKind::front_inner, FoldKind::joint_inner),
             on_face(which, {line.belly.inner, line.spine.inner}));
    const LineEnd& end = about_spine() ? line.spine : line.belly;
    add_line(drawn(FoldKind::link, FoldKind::link),
             std::vector<Vec2>{map_.on_face(which, {end.outer.x, end.outer.y}),
                               map_.on_strip(end.outer.x, end.outer.z)});
  }

  /// Round the piece: along the belly, up its rear line, along the spine, down its front line.
  void draw_part_face(const SideLayout& side, const Part& part, const std::vector<SurfaceLine>& lines,
                      std::size_t i) {
    std::vector<Node> loop;
    const auto place = [&](const LineEnd& end) { return place_near(side.edge, {end.outer.x, end.outer.y}); };
    const auto along_edge = [&](EdgePlace from, EdgePlace to) {
      const std::vector<Node> stretch = stretch_between(side.edge, from, to);
      loop.insert(loop.end(), stretch.begin(), stretch.end());
    };
    const auto along_line = [&](const std::vector<Vec3>& points) {
      for (std::size_t k = 1; k + 1 < points.size(); ++k)  // its ends are on the edge already
        loop.push_back({{points[k].x, points[k].y}, 0});
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
    add_area(face_of(side.which), part.name, part.material,
             {moved(std::move(loop), map_.onto_face(side.which))});
  }

  /// Where the round-over meets the crown, behind the front face.
  void draw_round_over_rim(const SideLayout& side) {
    if (side.surface.shape().round_over_mm == 0) return;
    const Outline& edge = side.edge;
    std::vector<Vec2> rim;
    const EdgePlace from = place_near(edge, Vec2{side.front_belly.outer.x, side.front_belly.outer.y});
    const EdgePlace to = place_near(edge, Vec2{side.front_spine.outer.x, side.front_spine.outer.y});
    for (const EdgePlace& place : walk(edge, from, to, settings_.deviation_mm, kWallStep)) {
      const Vec2 p = point_at(edge, place);
      const double reach = side.surface.round_over_reach_mm({0, p, place.edge, place.t});
      const Vec2 q = p + turned_left(edge.edges()[place.edge].direction(place.t)) * reach;
      // At a corner the rims of both edges end where they meet.
      const bool hidden = edge.nearest(q).distance_mm < reach - 1e-6;
      const bool ahead = side.front.behind_mm(q.x, q.y, side.scale_height_mm(q)) < 0;
      if (!hidden && !ahead) rim.push_back(map_.on_face(side.which, q));
    }
    add_line(thing(FoldKind::round_over_rim, face_of(side.which), side.which), rim);
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
      add_line(thing(line.front_face ? FoldKind::front : FoldKind::joint, FoldRegion::edge_strip, side.which,
                     line),
               trace(side, line, line.front_face ? -side.liner_total_mm : 0));
      const std::vector<Vec2> top = wall_top(side, line, next);
      add_line(thing(FoldKind::layer, FoldRegion::edge_strip, side.which), top);
      const Part* part = part_behind(side, i);
      if (!part) continue;
      std::vector<Vec2> loop = trace(side, line, 0);
      loop.insert(loop.end(), top.begin() + 1, top.end());
      if (next) {
        const std::vector<Vec2> rear = trace(side, *next, 0);
        loop.insert(loop.end(), rear.rbegin() + 1, rear.rend());
      } else {
        loop.push_back(map_.on_strip(butt, z_at(side, butt, side.liner_total_mm)));
      }
      add_area(FoldRegion::edge_strip, part->name, part->material, {corners(loop)});
    }
    draw_crest(side);
  }

  void draw_liner_on_strip(const SideLayout& side, const Part& part, double butt) {
    const auto rear = [&](double s) {
      return map_.on_strip(butt, z_at(side, butt, side.liner_total_mm + s));
    };
    const Vec2 outer = trace_point(side, side.front, part.s_high_mm);
    add_line(thing(FoldKind::layer, FoldRegion::edge_strip, side.which),
             std::vector<Vec2>{outer, rear(part.s_high_mm)});
    add_area(FoldRegion::edge_strip, part.name, part.material,
             {corners({trace_point(side, side.front, part.s_low_mm), outer, rear(part.s_high_mm),
                       rear(part.s_low_mm)})});
  }

  /// The thickest place across the handle, all along it.
  void draw_crest(const SideLayout& side) {
    const Bounds& bounds = side.finished.bounds();
    std::vector<Vec2> crest;
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
      if (height > 0) crest.push_back(map_.on_strip(x, z_at(side, x, height)));
    }
    add_line(thing(FoldKind::crest, FoldRegion::edge_strip, side.which), crest);
  }

  // --- pins and holes --------------------------------------------------------------------------------------

  static std::string hole_name(FoldKind kind, std::size_t index) {
    if (kind == FoldKind::cutout) return numbered("cutout", index);
    return numbered(kind == FoldKind::existing_hole ? "tang hole" : "pin", index);
  }
  void circle(FoldKind kind, Which face, std::size_t index, Vec2 at, double radius) {
    circles_.emplace_back(FoldThing{.kind = kind,
                                    .region = face_of(face),
                                    .side = face,
                                    .index = index,
                                    .name = hole_name(kind, index)},
                          Circle{map_.on_face(face, at), {.mm = radius}});
  }
  /// Seen edge-on, across the layer that it goes through.
  void band(FoldKind kind, std::size_t index, double x, double radius, double z_from, double z_to) {
    bands_.emplace_back(
        FoldThing{.kind = kind, .region = FoldRegion::edge_strip, .index = index},
        Fill{.loops = {box_loop(map_.on_strip(x - radius, z_from), map_.on_strip(x + radius, z_to))}});
  }

  void draw_pin(const PinLayout& pin) {
    const PinStock& stock = design_.pins[pin.pin].stock;
    for (const HoleLayer& layer : pin.layers) {
      const double radius = layer.diameter_mm / 2;
      static constexpr FoldKind kKinds[] = {FoldKind::scale_hole, FoldKind::liner_hole, FoldKind::tang_hole};
      const FoldKind kind = kKinds[static_cast<std::size_t>(layer.kind)];
      if (layer.kind == HoleLayer::Kind::tang)
        for (const Which face : {Which::left, Which::right}) circle(kind, face, pin.pin, pin.at, radius);
      else
        circle(kind, layer.side, pin.pin, pin.at, radius);
      band(kind, pin.pin, pin.at.x, radius, layer.z_from_mm, layer.z_to_mm);
    }
    for (const Which face : {Which::left, Which::right}) {
      circle(FoldKind::pin, face, pin.pin, pin.at, pin.diameter_mm / 2);
      if (stock.bore_mm > 0) circle(FoldKind::pin_bore, face, pin.pin, pin.at, stock.bore_mm / 2);
    }
    if (pin.layers.empty()) return;
    const double low = pin.layers.front().z_from_mm;
    const double high = pin.layers.back().z_to_mm;
    band(FoldKind::pin, pin.pin, pin.at.x, pin.diameter_mm / 2, low, high);
    if (stock.bore_mm > 0) band(FoldKind::pin_bore, pin.pin, pin.at.x, stock.bore_mm / 2, low, high);
  }

  void draw_tang_hole(std::size_t i) {
    const TangHole& hole = design_.tang.holes[i];
    const double half = handle_.tang_thickness_mm(hole.at_mm.x) / 2;
    for (const Which face : {Which::left, Which::right})
      circle(FoldKind::existing_hole, face, i, hole.at_mm, hole.diameter_mm / 2);
    band(FoldKind::existing_hole, i, hole.at_mm.x, hole.diameter_mm / 2, -half, half);
  }

  void draw_cutout_on_strip(std::size_t i) {
    const Bounds& bounds = handle_.cutouts[i].bounds();
    const double middle = (bounds.low.x + bounds.high.x) / 2;
    const double half = handle_.tang_thickness_mm(middle) / 2;
    band(FoldKind::cutout, i, middle, bounds.size().x / 2, -half, half);
  }

  void draw_axes_and_captions(const Bounds& handle) {
    const auto caption = [&](FoldRegion region, Vec2 end, const char* words) {
      captions_.emplace_back(
          FoldThing{.kind = FoldKind::caption, .region = region},
          Text{.at = end, .shift_points = {kCaptionPoints, 0}, .words = words, .across = TextAcross::middle});
    };
    for (const Which face : {Which::left, Which::right}) {
      axes_.emplace_back(thing(FoldKind::axis, face_of(face), face),
                         straight(map_.on_face(face, {handle.low.x - kAxisPast, 0}),
                                  map_.on_face(face, {handle.high.x + kAxisPast, 0})));
      caption(face_of(face), map_.on_face(face, {handle.high.x, 0}), face == Which::left ? "left" : "right");
    }
    caption(FoldRegion::edge_strip, map_.on_strip(handle.high.x, 0), about_spine() ? "spine" : "belly");
  }

  const Design& design_;
  const Handle& handle_;
  const FoldSettings& settings_;
  FoldMap map_;
  // From below to above.
  Layer areas_, axes_, lines_, bands_, circles_, captions_;
};

}  // namespace

FoldDrawing draw_fold(const Design& design, const Handle& handle, const FoldSettings& settings) {
  if (!(settings.gap_mm > 0 && std::isfinite(settings.gap_mm)))
    throw std::invalid_argument("the gap must be positive");
  if (!(settings.deviation_mm > 0)) throw std::invalid_argument("the deviation must be positive");
  return FoldMaker(design, handle, settings).make();
}

}  // namespace haftwright
