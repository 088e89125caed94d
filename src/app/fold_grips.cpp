// What can be dragged in the fold view, and what dragging it does.
#include <cmath>
#include <numbers>

#include "fold_view.hpp"

namespace haftwright::app {
namespace {

constexpr double kDegrees = 180 / std::numbers::pi;
constexpr double kSnapMm = 1.5;

struct Collector {
  const Ui& ui;
  const Handle& handle;
  const FoldMap& map;
  std::vector<Grip>& grips;

  void add(Selection::Kind kind, Which side, std::size_t index, FoldPlace place, std::string label) const {
    grips.push_back({{kind, side, index}, place, map.to_drawing(place), std::move(label)});
  }
};

FoldRegion face_of(Which side) {
  return side == Which::left ? FoldRegion::left_face : FoldRegion::right_face;
}

double outward(Which side) {
  return side == Which::left ? 1 : -1;
}

std::string numbered(const char* what, std::size_t index) {
  return what + std::to_string(index + 1);
}

std::string of_side(const Collector& to, const std::string& text, Which side, SideField field) {
  return linked(to.ui.design(), field) ? text : text + ", " + name_of(side) + " side";
}

void add_pins(const Collector& to) {
  const Design& design = to.ui.design();
  for (std::size_t i = 0; i < design.pins.size(); ++i)
    for (Which side : {Which::left, Which::right})
      to.add(Selection::Kind::pin, side, i, {face_of(side), design.pins[i].at_mm.x, design.pins[i].at_mm.y},
             numbered("Move pin ", i));
}

void add_joints(const Collector& to, Which side) {
  const Side values = side == Which::left ? to.ui.design().left : to.ui.design().right_side();
  const SideLayout& layout = to.handle.side(side);
  for (std::size_t i = 0; i < values.joints.size() && i < layout.joints.size(); ++i) {
    const Joint& joint = values.joints[i];
    to.add(Selection::Kind::joint, side, i, {face_of(side), joint.place_mm, 0},
           of_side(to, numbered("Move joint ", i), side, SideField::joints));
    const double spine_y = layout.joints[i].lines.front().spine.inner.y;
    const double slant = std::tan(joint.slant_deg / kDegrees);
    to.add(Selection::Kind::joint_slant, side, i, {face_of(side), joint.place_mm + spine_y * slant, spine_y},
           of_side(to, numbered("Slant joint ", i), side, SideField::joints));
    const LineEnd& spine = layout.joints[i].lines.front().spine;
    const LineEnd& belly = layout.joints[i].lines.front().belly;
    const LineEnd& end = to.map.about() == FoldAbout::spine ? spine : belly;
    to.add(Selection::Kind::joint_rake, side, i, {FoldRegion::edge_strip, end.outer.x, end.outer.z},
           of_side(to, numbered("Rake joint ", i), side, SideField::joints));
  }
}

void add_stations(const Collector& to, Which side) {
  const Side values = side == Which::left ? to.ui.design().left : to.ui.design().right_side();
  for (std::size_t i = 0; i < values.finish.thickness_mm.size(); ++i) {
    const MonotoneCubic::Station& station = values.finish.thickness_mm[i];
    const double z = to.handle.tang_thickness_mm(station.x) / 2 + station.value;
    to.add(Selection::Kind::station, side, i, {FoldRegion::edge_strip, station.x, outward(side) * z},
           of_side(to, numbered("Thickness at station ", i), side, SideField::finish));
  }
}

void add_tang(const Collector& to) {
  const Tang& tang = to.ui.design().tang;
  for (std::size_t i = 0; i < tang.outline.size(); ++i)
    to.add(Selection::Kind::node, Which::left, i,
           {FoldRegion::left_face, tang.outline[i].at.x, tang.outline[i].at.y},
           numbered("Move tang corner ", i));
  for (std::size_t i = 0; i < tang.holes.size(); ++i)
    to.add(Selection::Kind::tang_hole, Which::left, i,
           {FoldRegion::left_face, tang.holes[i].at_mm.x, tang.holes[i].at_mm.y},
           numbered("Move tang hole ", i));
}

Edited drag_rake(const Design& base, const Handle& handle, const Grip& grip, const FoldPlace& to) {
  const SideLayout& side = handle.side(grip.what.side);
  if (grip.what.index >= side.joints.size()) return Edited::refused("that joint is gone");
  const JointLine& line = side.joints[grip.what.index].lines.front();
  const bool at_spine =
      std::abs(line.spine.outer.x - grip.place.x_mm) <= std::abs(line.belly.outer.x - grip.place.x_mm);
  const LineEnd& end = at_spine ? line.spine : line.belly;
  const double height = std::abs(grip.place.y_or_z_mm) - std::abs(end.inner.z);
  if (height <= 0) return Edited::refused("there is no wall to lean the joint in");
  return rake_joint(base, grip.what.side, grip.what.index,
                    std::atan((to.x_mm - end.inner.x) / height) * kDegrees);
}

}  // namespace

std::vector<Grip> grips(const Ui& ui, const FoldViewState& state) {
  std::vector<Grip> all;
  const Answers* answers = ui.answers();
  if (!answers || !answers->laid_out()) return all;
  const Collector to{ui, *answers->handle, state.drawing.map, all};
  // Where two lie on each other the one added last is the one on top.
  for (Which side : {Which::left, Which::right}) {
    add_stations(to, side);
    add_joints(to, side);
  }
  add_pins(to);
  if (state.edit_outline) add_tang(to);
  return all;
}

Edited dragged(const Design& base, const Handle& handle, const Grip& grip, const FoldPlace& to, bool snap,
               bool along_axis) {
  const Vec2 place{to.x_mm, to.y_or_z_mm};
  const std::size_t index = grip.what.index;
  const Which side = grip.what.side;
  switch (grip.what.kind) {
    case Selection::Kind::pin:
      return move_pin(base, index, place, {along_axis, snap ? kSnapMm : 0});
    case Selection::Kind::joint:
      return move_joint(base, side, index, to.x_mm);
    case Selection::Kind::joint_slant: {
      const Side values = side == Which::left ? base.left : base.right_side();
      if (index >= values.joints.size() || std::abs(to.y_or_z_mm) < 1)
        return Edited::refused("drag the end of the joint line, away from the axis");
      return slant_joint(base, side, index,
                         std::atan((to.x_mm - values.joints[index].place_mm) / to.y_or_z_mm) * kDegrees);
    }
    case Selection::Kind::joint_rake:
      return drag_rake(base, handle, grip, to);
    case Selection::Kind::station: {
      const double thickness = outward(side) * to.y_or_z_mm - handle.tang_thickness_mm(to.x_mm) / 2;
      return move_station(base, side, index, to.x_mm, thickness);
    }
    case Selection::Kind::node:
      return move_node(base, {}, index, place);
    case Selection::Kind::tang_hole:
      return move_tang_hole(base, index, place);
    case Selection::Kind::none:
      break;
  }
  return Edited::refused("nothing is held");
}

}  // namespace haftwright::app
