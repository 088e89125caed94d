#include <algorithm>
#include <cmath>
#include <limits>
#include <stdexcept>

#include "body_maker.hpp"
#include "cut_sheet.hpp"
#include "grain_frame.hpp"
#include "haftwright/geometry/outline_ops.hpp"
#include "haftwright/preview/meshes.hpp"
#include "haftwright/words/words.hpp"
#include "pin_body.hpp"

namespace haftwright {

using namespace preview;
namespace {

// How far parts move in the exploded view.
constexpr double kApartZ = 12;
constexpr double kApartX = 6;
/// Plan kept ahead of the front face, to be cut away.
constexpr double kAhead = 0.5;

void check(const MeshSettings& settings) {
  if (!(settings.cell_mm >= 0.2 && settings.cell_mm <= 20))
    throw std::invalid_argument("cell_mm must lie between 0.2 and 20");
  if (!(settings.deviation_mm >= 0.001 && settings.deviation_mm <= 1))
    throw std::invalid_argument("deviation_mm must lie between 0.001 and 1");
}

class PreviewMaker {
 public:
  PreviewMaker(const Design& design, const Handle& handle, const MeshSettings& settings)
      : design_(design), handle_(handle), settings_(settings) {}

  Preview make() {
    make_tang();
    make_side(handle_.left);
    if (handle_.mirrored)
      mirror_left();
    else
      make_side(handle_.right);
    for (const PinLayout& pin : handle_.pins) make_pin(pin);
    measure_bounds(preview_);
    return std::move(preview_);
  }

 private:
  Spacing spacing() const { return {settings_.cell_mm, settings_.deviation_mm}; }
  /// Flat sheets need points only where their outline bends.
  Spacing flat_spacing() const { return {std::numeric_limits<double>::infinity(), settings_.deviation_mm}; }

  Body body(BodyId id, std::string name, const std::string& material) const {
    Body made{.id = id, .name = std::move(name), .material = material};
    if (const Material* found = design_.material(material)) {
      made.material_kind = found->kind;
      made.colour = found->colour;
    }
    return made;
  }

  void make_tang() {
    SheetPlan plan{.outlines = {handle_.tang}, .openings = handle_.cutouts, .spacing = flat_spacing()};
    for (const TangHole& hole : design_.tang.holes) plan.holes.push_back({hole.at_mm, hole.diameter_mm / 2});
    for (const PinLayout& pin : handle_.pins)
      for (const HoleLayer& layer : pin.layers)
        if (layer.kind == HoleLayer::Kind::tang && design_.pins[pin.pin].existing_tang_hole.empty())
          plan.holes.push_back({pin.at, layer.diameter_mm / 2});
    build_flat_sheet(plan, -1, 1, shop_, mesh_);
    for (std::size_t i = 0; i < mesh_.points.size(); ++i) {
      mesh_.points[i].z *= handle_.tang_thickness_mm(mesh_.points[i].x) / 2;
      mesh_.normals[i].x = -handle_.tang_slope / 2;
    }
    Body tang = body({.kind = BodyKind::tang}, "tang", design_.tang.material);
    tang.grain = {{0, 0, 0}, {1, 0, 0}, {0, 0, 1}};
    maker_.add(mesh_, mesh_.faces, {}, {}, tang);
    preview_.bodies.push_back(std::move(tang));
  }

  std::vector<RoundHole> holes(const SideLayout& side, HoleLayer::Kind kind, std::size_t liner) const {
    std::vector<RoundHole> found;
    for (const PinLayout& pin : handle_.pins)
      for (const HoleLayer& layer : pin.layers)
        if (layer.kind == kind && layer.side == side.which &&
            (kind != HoleLayer::Kind::liner || layer.liner == liner))
          found.push_back({pin.at, layer.diameter_mm / 2});
    return found;
  }

  /// The edge outline without what lies well ahead of the front face.
  std::vector<Outline> plan_outlines(const SideLayout& side, double s_low, double s_high) const {
    const Bounds& bounds = side.edge.bounds();
    double foremost = std::numeric_limits<double>::infinity();
    for (const double y : {bounds.low.y, bounds.high.y})
      for (const double s : {s_low, s_high}) foremost = std::min(foremost, side.front.x_at(y, s));
    std::vector<Outline> kept = clip(side.edge, HalfPlane{{-1, 0}, kAhead - foremost});
    if (kept.empty()) kept.push_back(side.edge);
    return kept;
  }

  void make_side(const SideLayout& side) {
    const auto pieces = std::find_if(side.parts.begin(), side.parts.end(),
                                     [](const Part& part) { return part.kind != PartKind::liner; });
    for (auto part = side.parts.begin(); part != pieces; ++part) make_liner(side, *part);
    make_pieces(side, static_cast<std::size_t>(pieces - side.parts.begin()));
  }

  /// The right side's bodies out of the left side's, which follow the tang.
  void mirror_left() {
    for (std::size_t i = 0; i < handle_.right.parts.size(); ++i) {
      Body made = part_body(handle_.right, handle_.right.parts[i]);
      const Body& left = preview_.bodies[1 + i];
      made.vertices = left.vertices;
      for (Vertex& vertex : made.vertices) {
        vertex.position[2] = -vertex.position[2];
        vertex.normal[2] = -vertex.normal[2];
      }
      made.triangles = left.triangles;
      for (std::size_t k = 0; k + 2 < made.triangles.size(); k += 3)
        std::swap(made.triangles[k + 1], made.triangles[k + 2]);
      preview_.bodies.push_back(std::move(made));
    }
  }

  SheetFrame frame(const SideLayout& side) const {
    return {side.which == Which::left ? 1.0 : -1.0, handle_.tang_thickness_front_mm / 2 + side.liner_total_mm,
            handle_.tang_slope / 2};
  }

  void make_liner(const SideLayout& side, const Part& part) {
    const SheetPlan plan{.outlines = plan_outlines(side, part.s_low_mm, part.s_high_mm),
                         .holes = holes(side, HoleLayer::Kind::liner, part.index),
                         .spacing = flat_spacing()};
    build_flat_sheet(plan, part.s_low_mm, part.s_high_mm, shop_, mesh_);
    const CutPlane planes[] = {side.front};
    const std::vector<Slab> slabs = cut_sheet(mesh_, planes);
    add_part(side, part, slabs[0], planes);
  }

  void make_pieces(const SideLayout& side, std::size_t first) {
    std::vector<CutPlane> planes{side.front};
    SheetPlan plan{.outlines = plan_outlines(side, 0, side.parts[first].s_high_mm),
                   .holes = holes(side, HoleLayer::Kind::scale, 0),
                   .spacing = spacing()};
    const auto want = [&plan](const LineEnd& end) {
      plan.wanted.push_back({end.inner.x, end.inner.y});
      plan.wanted.push_back({end.outer.x, end.outer.y});
    };
    want(side.front_spine);
    want(side.front_belly);
    for (const JointLayout& joint : side.joints)
      for (const JointLine& line : joint.lines) {
        planes.push_back(line.plane);
        want(line.spine);
        want(line.belly);
      }
    const CrownedSheet sheet{side.surface, side.liner_total_mm, settings_.cell_mm};
    build_crowned_sheet(plan, sheet, shop_, mesh_);
    const std::vector<Slab> slabs = cut_sheet(mesh_, planes, &sheet);
    for (std::size_t i = 0; i < slabs.size(); ++i)
      add_part(side, side.parts[first + i], slabs[i], planes, &sheet);
  }

  Body part_body(const SideLayout& side, const Part& part) const {
    static constexpr BodyKind kKinds[] = {BodyKind::liner, BodyKind::piece, BodyKind::spacer};
    Body made = body({kKinds[static_cast<std::size_t>(part.kind)], part.side, part.index, part.joint},
                     part.name, part.material);
    made.grain = grain(part);
    made.apart = apart(side, part);
    return made;
  }
  void add_part(const SideLayout& side, const Part& part, const Slab& slab, std::span<const CutPlane> planes,
                const CrownedSheet* crown = nullptr) {
    Body made = part_body(side, part);
    maker_.add(mesh_, slab.faces, planes, frame(side), made, crown);
    preview_.bodies.push_back(std::move(made));
  }
  GrainFrame grain(const Part& part) const {
    if (part.kind == PartKind::liner) return liner_grain(part);
    if (part.kind == PartKind::spacer) return spacer_grain(part);
    const Side right = part.side == Which::right ? design_.right_side() : Side{};
    const Side& side = part.side == Which::right ? right : design_.left;
    return piece_grain(side.pieces[part.index].grain, part);
  }
  /// Layers go outward, pieces and strips draw away from each other along the handle.
  Vec3 apart(const SideLayout& side, const Part& part) const {
    const double sign = side.which == Which::left ? 1 : -1;
    if (part.kind == PartKind::liner) return {0, 0, sign * kApartZ * static_cast<double>(part.index + 1)};
    const auto liners = static_cast<double>(std::count_if(
        side.parts.begin(), side.parts.end(), [](const Part& p) { return p.kind == PartKind::liner; }));
    const double count = static_cast<double>(side.parts.size()) - liners;
    const double place = static_cast<double>(&part - side.parts.data()) - liners;
    return {kApartX * (place - (count - 1) / 2), 0, sign * kApartZ * (liners + 1)};
  }

  void make_pin(const PinLayout& pin) {
    const Pin& drawn = design_.pins[pin.pin];
    Body made =
        body({.kind = BodyKind::pin, .index = pin.pin}, pin_name(design_, pin.pin), drawn.stock.material);
    made.grain = {{pin.at.x, pin.at.y, 0}, {0, 0, 1}, {1, 0, 0}};
    build_pin(handle_, pin, drawn.stock.bore_mm, settings_, made);
    // Out of the left scale, in line with its hole.
    const SideLayout& left = handle_.left;
    Vec3 shift{0, 0, 0};
    for (const Part& part : left.parts) {
      if (part.kind == PartKind::liner) continue;
      const bool holds = part.front.behind_mm(pin.at.x, pin.at.y, 0) >= 0 &&
                         (part.to_butt || part.rear.behind_mm(pin.at.x, pin.at.y, 0) < 0);
      if (holds) shift = apart(left, part);
    }
    made.apart = shift + Vec3{0, 0, pin.length_mm + kApartZ / 2};
    preview_.bodies.push_back(std::move(made));
  }

  const Design& design_;
  const Handle& handle_;
  const MeshSettings& settings_;
  SheetWorkshop shop_;
  SheetMesh mesh_;
  BodyMaker maker_;
  Preview preview_;
};

}  // namespace

Preview build_preview(const Design& design, const Handle& handle, const MeshSettings& settings) {
  check(settings);
  return PreviewMaker(design, handle, settings).make();
}

}  // namespace haftwright
