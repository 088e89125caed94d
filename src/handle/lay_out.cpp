#include "haftwright/handle/lay_out.hpp"

#include "haftwright/design/holes.hpp"
#include "haftwright/design/quantities.hpp"
#include "haftwright/design/validate.hpp"
#include "lay_out_side.hpp"

namespace haftwright {

using namespace layout;
namespace {

/// A side without liners may leave the liner's hole open.
double liner_hole_mm(const Design& design, const Pin& pin) {
  const bool liners = !design.left.liners.empty() || !design.right_side().liners.empty();
  return liners ? pin.liner_hole.actual_mm() : 0;
}

std::vector<PinHoles> holes_of(const Design& design) {
  std::vector<PinHoles> holes;
  for (const Pin& pin : design.pins)
    holes.push_back({pin.at_mm, pin.scale_hole.actual_mm(), liner_hole_mm(design, pin),
                     tang_hole(design, pin).actual_mm()});
  return holes;
}

/// Lays the holes of one pin out through all layers.
class PinDrill {
 public:
  PinDrill(const Handle& handle, const PinHoles& holes)
      : handle_(handle), holes_(holes), half_tang_mm_(handle.tang_thickness_mm(holes.at.x) / 2) {}

  std::vector<HoleLayer> layers() {
    outward(handle_.right, -1);
    std::ranges::reverse(layers_);
    add({.kind = HoleLayer::Kind::tang, .diameter_mm = holes_.tang_mm}, -half_tang_mm_, half_tang_mm_, 1);
    outward(handle_.left, 1);
    return std::move(layers_);
  }

 private:
  /// The layers of one side, tang outward.
  void outward(const SideLayout& side, int sign) {
    const double face = half_tang_mm_ + side.liner_total_mm;
    for (const Part& part : side.parts)
      if (part.kind == PartKind::liner)
        add({.kind = HoleLayer::Kind::liner,
             .side = side.which,
             .liner = part.index,
             .diameter_mm = holes_.liner_mm},
            face + part.s_low_mm, face + part.s_high_mm, sign);
    add({.kind = HoleLayer::Kind::scale, .side = side.which, .diameter_mm = holes_.scale_mm}, face,
        half_tang_mm_ + side.surface.height_mm(holes_.at), sign);
  }

  /// From `inner` to `outer` away from the mid-plane; the rim is on the inner one, the tang's on its left
  /// face.
  void add(HoleLayer layer, double inner, double outer, int sign) {
    layer.z_from_mm = std::min(sign * inner, sign * outer);
    layer.z_to_mm = std::max(sign * inner, sign * outer);
    const double rim_z = layer.kind == HoleLayer::Kind::tang ? outer : sign * inner;
    layer.rim_centre = {holes_.at, rim_z};
    layer.rim_semi_minor_mm = layer.diameter_mm / 2;
    layer.rim_semi_major_mm = layer.rim_semi_minor_mm * std::hypot(1, handle_.tang_slope / 2);
    layers_.push_back(layer);
  }

  const Handle& handle_;
  const PinHoles& holes_;
  double half_tang_mm_;
  std::vector<HoleLayer> layers_;
};

void refuse_pins_beside_scale(const Design& design, const SideLayout& side) {
  for (std::size_t i = 0; i < design.pins.size(); ++i) {
    const Vec2 at = design.pins[i].at_mm;
    const double s = side.scale_height_mm(at);
    if (s > 0 && std::min(side.front.behind_mm(at.x, at.y, 0), side.front.behind_mm(at.x, at.y, s)) > 0)
      continue;
    throw InputError("pins[" + std::to_string(i) + "]",
                     std::string("the pin does not go through the ") + name_of(side.which) +
                         " scale from its inner face to its surface; move the pin or the front face");
  }
}

/// Nodes nearer to each other than a caliper reads are one corner to a maker: the ends of the handle, and the
/// solid kernel, are not to be decided by an edge that nobody can see.
constexpr double kOneCorner_mm = 0.01;

Outline as_made(const std::vector<Node>& chain) {
  return with_nodes_merged(Outline(chain), kOneCorner_mm);
}

/// The taper goes on ahead of x = 0, where it may leave no steel or too much to be one.
void refuse_odd_taper(const Design& design, const Outline& tang, double slope) {
  const double foremost = tang.bounds().low.x;
  const double thickness = design.tang.thickness_front_mm + slope * foremost;
  const schema::Quantity& range = schema::kTangThickness;
  if (thickness >= range.least && thickness <= range.most) return;
  throw InputError("tang.thickness_butt_mm",
                   "the taper would make the tang " + format_length(thickness, LengthUnit::millimetre) +
                       " thick at its front end, x " + format_length(foremost, LengthUnit::millimetre) +
                       "; it must be " + schema::range_text(range));
}

}  // namespace

Handle lay_out(const Design& design) {
  const Outline tang = as_made(design.tang.outline);
  std::vector<Outline> cutouts;
  for (const std::vector<Node>& chain : design.tang.cutouts) cutouts.push_back(as_made(chain));
  const double rear_mm = tang.bounds().high.x;
  const double slope = (design.tang.thickness_butt_mm - design.tang.thickness_front_mm) / rear_mm;
  refuse_odd_taper(design, tang, slope);
  const std::vector<PinHoles> holes = holes_of(design);
  const auto side = [&](const Side& numbers, Which which) {
    return lay_out_side(
        {design, numbers, which, tang, cutouts, design.tang.thickness_front_mm, slope, holes});
  };
  SideLayout left = side(design.left, Which::left);
  const bool mirrored = design.mirrored();
  SideLayout right = mirrored ? mirrored_side(left) : side(design.right_side(), Which::right);
  Handle handle{.tang = tang,
                .cutouts = cutouts,
                .tang_thickness_front_mm = design.tang.thickness_front_mm,
                .tang_slope = slope,
                .left = std::move(left),
                .right = std::move(right),
                .mirrored = mirrored};
  for (const Which which : {Which::left, Which::right}) refuse_pins_beside_scale(design, handle.side(which));
  for (std::size_t i = 0; i < holes.size(); ++i) {
    PinLayout pin{i, holes[i].at, design.pins[i].stock.diameter_mm(), PinDrill(handle, holes[i]).layers()};
    pin.length_mm = pin.layers.back().z_to_mm - pin.layers.front().z_from_mm;
    handle.pins.push_back(std::move(pin));
  }
  return handle;
}

}  // namespace haftwright
