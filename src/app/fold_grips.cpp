// What can be dragged in the fold view, and what dragging or nudging it does.
#include <cmath>

#include "fold_view.hpp"
#include "haftwright/geometry/outline_ops.hpp"

namespace haftwright::app {
namespace {

constexpr double kSnapDeg = 0.75;
constexpr double kLeastShownEdge = 34;  // pixels at scale 1: a shorter edge has no room for a grip

FoldRegion face_of(Which side) {
  return side == Which::left ? FoldRegion::left_face : FoldRegion::right_face;
}

double outward(Which side) {
  return side == Which::left ? 1 : -1;
}

std::string numbered(const char* what, std::size_t index) {
  return what + std::to_string(index + 1);
}

struct Collector {
  const Ui& ui;
  const FoldViewState& state;
  const Handle& handle;
  std::vector<Grip>& grips;

  Grip& add(Selection what, FoldPlace place, std::string label) const {
    grips.push_back({what, place, state.drawing.map.to_drawing(place), {0, 0, 0}, std::move(label)});
    return grips.back();
  }
  /// What both sides share: one thing, to be taken hold of on either face.
  void on_faces(const Selection& what, Vec2 at, const std::string& label) const {
    for (Which side : {Which::left, Which::right}) add(what, {face_of(side), at.x, at.y}, label);
  }
};

std::string of_side(const Collector& to, const std::string& text, Which side, SideField field) {
  return linked(to.ui.design(), field) ? text : text + ", " + name_of(side) + " side";
}

void add_pins(const Collector& to) {
  const Design& design = to.ui.design();
  for (std::size_t i = 0; i < design.pins.size(); ++i)
    to.on_faces({Selection::Kind::pin, Which::left, i}, design.pins[i].at_mm, numbered("Move pin ", i));
}

/// The middle of a joint's strips where they come to an edge of the finished surface.
Vec3 middle(const LineEnd& front, const LineEnd& rear) {
  return {(front.outer.x + rear.outer.x) / 2, (front.outer.y + rear.outer.y) / 2,
          (front.outer_s_mm + rear.outer_s_mm) / 2};
}

void add_joint(const Collector& to, Which side, std::size_t i, const Joint& joint) {
  const JointLayout& layout = to.handle.side(side).joints[i];
  const JointLine& front = layout.lines.front();
  const JointLine& rear = layout.lines.back();
  const auto label = [&](const char* what) {
    return of_side(to, numbered(what, i), side, SideField::joints);
  };
  const double surface = to.handle.side(side).scale_height_mm({joint.place_mm, 0});
  to.add({Selection::Kind::joint, side, i},
         {face_of(side), joint.place_mm + surface * front.plane.tan_rake, 0}, label("Move joint "));
  for (const bool spine : {true, false}) {
    const Vec3 end = spine ? middle(front.spine, rear.spine) : middle(front.belly, rear.belly);
    to.add({Selection::Kind::joint_slant, side, i}, {face_of(side), end.x, end.y}, label("Slant joint "))
        .xys = end;
    if (spine != (to.state.about == FoldAbout::spine)) continue;
    const double z = outward(side) *
                     (to.handle.tang_thickness_mm(end.x) / 2 + to.handle.side(side).liner_total_mm + end.z);
    to.add({Selection::Kind::joint_rake, side, i}, {FoldRegion::edge_strip, end.x, z}, label("Rake joint "))
        .xys = end;
  }
}

void add_joints(const Collector& to, Which side) {
  const Side values = side == Which::left ? to.ui.design().left : to.ui.design().right_side();
  const std::size_t count = std::min(values.joints.size(), to.handle.side(side).joints.size());
  for (std::size_t i = 0; i < count; ++i) add_joint(to, side, i, values.joints[i]);
}

void add_stations(const Collector& to, Which side) {
  const Side values = side == Which::left ? to.ui.design().left : to.ui.design().right_side();
  for (std::size_t i = 0; i < values.finish.thickness_mm.size(); ++i) {
    const MonotoneCubic::Station& station = values.finish.thickness_mm[i];
    const double z = to.handle.tang_thickness_mm(station.x) / 2 + station.value;
    to.add({Selection::Kind::station, side, i}, {FoldRegion::edge_strip, station.x, outward(side) * z},
           of_side(to, numbered("Thickness at station ", i), side, SideField::finish));
  }
}

/// Corners, and the middles of the edges where there is room for them.
void add_outline(const Collector& to, const std::vector<Node>& chain, std::optional<std::size_t> cutout) {
  const std::string of = cutout ? "cutout " + std::to_string(*cutout + 1) + ", " : "tang ";
  for (std::size_t i = 0; i < chain.size(); ++i) {
    const Edge edge(chain[i].at, chain[(i + 1) % chain.size()].at, chain[i].bulge);
    if (edge.length() * to.state.frame.pixels_per_mm >= scaled(kLeastShownEdge))
      to.on_faces({Selection::Kind::edge, Which::left, i, cutout}, edge.point(0.5),
                  "Bend " + of + numbered("edge ", i));
    to.on_faces({Selection::Kind::node, Which::left, i, cutout}, chain[i].at,
                "Move " + of + numbered("corner ", i));
  }
}

void add_tang(const Collector& to) {
  const Tang& tang = to.ui.design().tang;
  for (std::size_t k = 0; k < tang.cutouts.size(); ++k) {
    if (k < to.handle.cutouts.size())
      to.on_faces({Selection::Kind::cutout, Which::left, k}, to.handle.cutouts[k].moments().centroid,
                  numbered("Move cutout ", k));
    add_outline(to, tang.cutouts[k], k);
  }
  add_outline(to, tang.outline, std::nullopt);
  for (std::size_t i = 0; i < tang.holes.size(); ++i)
    to.on_faces({Selection::Kind::tang_hole, Which::left, i}, tang.holes[i].at_mm,
                numbered("Move tang hole ", i));
}

const Joint* joint_of(const Side& side, std::size_t index) {
  return index < side.joints.size() ? &side.joints[index] : nullptr;
}

Edited drag_joint(const Design& base, const Grip& grip, const FoldPlace& to, const DragWay& way) {
  const Side values = grip.what.side == Which::left ? base.left : base.right_side();
  const Joint* joint = joint_of(values, grip.what.index);
  if (!joint) return Edited::refused("that joint is gone");
  return move_joint(base, grip.what.side, grip.what.index, joint->place_mm + to.x_mm - grip.place.x_mm,
                    way.snap_mm);
}

Edited drag_station(const Design& base, const Handle& handle, const Grip& grip, const FoldPlace& to,
                    const DragWay& way) {
  const double x = way.one_way ? grip.place.x_mm : to.x_mm;
  const double z = outward(grip.what.side) * to.y_or_z_mm;
  return move_station(base, grip.what.side, grip.what.index, x, z - handle.tang_thickness_mm(x) / 2);
}

/// By so much on the handle, as far as what is selected can go that way.
Edited nudge_side(const Design& design, const Selection& what, Vec2 by, Vec2 steps, double step_deg) {
  const Side values = what.side == Which::left ? design.left : design.right_side();
  if (what.kind == Selection::Kind::station) {
    const auto& stations = values.finish.thickness_mm;
    if (what.index >= stations.size()) return Edited::refused("that station is gone");
    return move_station(design, what.side, what.index, stations[what.index].x + by.x,
                        stations[what.index].value + outward(what.side) * by.y);
  }
  const Joint* joint = joint_of(values, what.index);
  if (!joint) return Edited::refused("that joint is gone");
  const double turn = (steps.x + steps.y) * step_deg;
  if (what.kind == Selection::Kind::joint_slant)
    return slant_joint(design, what.side, what.index, joint->slant_deg + turn);
  if (what.kind == Selection::Kind::joint_rake)
    return rake_joint(design, what.side, what.index, joint->rake_deg + turn);
  if (by.x == 0) return Edited::refused("a joint moves along the handle only: use the left and right keys");
  return move_joint(design, what.side, what.index, joint->place_mm + by.x);
}

}  // namespace

std::vector<Grip> grips(const Ui& ui, const FoldViewState& state) {
  std::vector<Grip> all;
  const Answers* answers = ui.answers();
  if (!answers || !answers->laid_out() || state.drawn_revision == 0) return all;
  const Collector to{ui, state, *answers->handle, all};
  // Where two lie on each other the one added last is the one on top.
  for (Which side : {Which::left, Which::right}) {
    add_stations(to, side);
    add_joints(to, side);
  }
  if (state.edit_outline) add_tang(to);
  add_pins(to);
  return all;
}

Edited dragged(const Design& base, const Handle& handle, const Grip& grip, const FoldPlace& to,
               const DragWay& way) {
  const Selection& what = grip.what;
  const Vec2 place{to.x_mm, way.one_way ? grip.place.y_or_z_mm : to.y_or_z_mm};
  const double snap_deg = way.snap_mm > 0 ? kSnapDeg : 0;
  switch (what.kind) {
    case Selection::Kind::pin:
      return move_pin(base, what.index, place, {way.one_way, way.snap_mm});
    case Selection::Kind::joint:
      return drag_joint(base, grip, to, way);
    case Selection::Kind::joint_slant:
      return slant_joint_through(base, what.side, what.index, {to.x_mm, grip.xys.y, grip.xys.z}, snap_deg);
    case Selection::Kind::joint_rake:
      return rake_joint_through(base, what.side, what.index, {to.x_mm, grip.xys.y, grip.xys.z}, snap_deg);
    case Selection::Kind::station:
      return drag_station(base, handle, grip, to, way);
    case Selection::Kind::node:
      return move_node(base, {what.cutout}, what.index, place);
    case Selection::Kind::edge:
      return bend_edge_through(base, {what.cutout}, what.index, place, way.snap_mm / 2);
    case Selection::Kind::tang_hole:
      return move_tang_hole(base, what.index, place);
    case Selection::Kind::cutout:
      return move_cutout(base, what.index, place - Vec2{grip.place.x_mm, grip.place.y_or_z_mm});
    case Selection::Kind::none:
      break;
  }
  return Edited::refused("nothing is held");
}

Edited nudged(const Design& design, const FoldMap& map, const Grip& grip, Vec2 steps, double step_mm,
              double step_deg) {
  const Selection& what = grip.what;
  const FoldPlace to = map.to_handle(map.to_drawing(grip.place) + steps * step_mm, grip.place.region);
  const Vec2 by{to.x_mm - grip.place.x_mm, to.y_or_z_mm - grip.place.y_or_z_mm};
  switch (what.kind) {
    case Selection::Kind::pin:
      if (what.index >= design.pins.size()) break;
      return move_pin(design, what.index, design.pins[what.index].at_mm + by);
    case Selection::Kind::tang_hole:
      if (what.index >= design.tang.holes.size()) break;
      return move_tang_hole(design, what.index, design.tang.holes[what.index].at_mm + by);
    case Selection::Kind::cutout:
      return move_cutout(design, what.index, by);
    case Selection::Kind::node:
      return move_node(design, {what.cutout}, what.index, Vec2{grip.place.x_mm, grip.place.y_or_z_mm} + by);
    case Selection::Kind::edge: {
      const double rise = edge_rise_mm(design, {what.cutout}, what.index).value_or(0);
      return set_edge_rise(design, {what.cutout}, what.index, rise + (steps.x + steps.y) * step_mm);
    }
    case Selection::Kind::none:
      break;
    default:
      return nudge_side(design, what, by, steps, step_deg);
  }
  return Edited::refused("nothing is selected");
}

}  // namespace haftwright::app
