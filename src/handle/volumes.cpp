#include "haftwright/handle/volumes.hpp"

#include <algorithm>

#include "disc.hpp"
#include "numeric.hpp"
#include "part_volume.hpp"

namespace haftwright {

using namespace layout;
namespace {

/// The holes of all pins in one kind of layer.
std::vector<Disc> holes_in(const Handle& handle, HoleLayer::Kind kind) {
  std::vector<Disc> discs;
  for (const PinLayout& pin : handle.pins) {
    const auto layer = std::ranges::find(pin.layers, kind, &HoleLayer::kind);
    if (layer != pin.layers.end()) discs.push_back({pin.at, layer->diameter_mm / 2});
  }
  return discs;
}

PartVolume liner_volume(const SideLayout& side, const Part& liner, double thickness_mm,
                        const std::vector<Disc>& holes) {
  const auto section = [&](double s) { return clip(side.edge, behind(side.front, s)); };
  const double middle = area_mm2(section(liner.s_low_mm + thickness_mm / 2));
  // Exact where the front face meets straight walls: the plan's area is then quadratic in s.
  return {
      thickness_mm * (liner.inner_face_area_mm2 + 4 * middle + area_mm2(section(liner.s_high_mm))) / 6,
      integrate(kGauss3, liner.s_low_mm, liner.s_high_mm,
                [&](double s) { return taken_by(holes, section(s), {}).area_mm2; }),
  };
}

class SideMeasure {
 public:
  SideMeasure(const Side& numbers, const SideLayout& side, const Handle& handle)
      : numbers_(numbers),
        side_(side),
        handle_(handle),
        body_{side.surface, side.liner_total_mm, side.front,
              MonotoneCubic(side.surface.shape().thickness_mm).greatest() - side.liner_total_mm},
        round_over_(body_) {}

  SideVolumes all() const {
    SideVolumes volumes;
    const std::vector<Disc> liner_holes = holes_in(handle_, HoleLayer::Kind::liner);
    for (const Part& part : side_.parts)
      volumes.parts.push_back(
          part.kind == PartKind::liner
              ? liner_volume(side_, part, numbers_.liners[part.index].thickness_mm, liner_holes)
              : PartVolume{part_volume_mm3(body_, round_over_, part), 0});
    add_drilled(volumes);
    volumes.scale_mm3 = volume_between_mm3(body_, round_over_, {side_.finished}, side_.front, std::nullopt);
    return volumes;
  }

 private:
  /// What the holes take out of pieces and strips, all at once: a hole may go through several.
  void add_drilled(SideVolumes& volumes) const {
    const std::size_t first = numbers_.liners.size();
    std::vector<Slice> slices;
    for (std::size_t i = first; i < side_.parts.size(); ++i)
      slices.push_back({side_.parts[i].front, side_.parts[i].rear, side_.parts[i].to_butt});
    const std::vector<double> drilled = drilled_mm3(body_, holes_in(handle_, HoleLayer::Kind::scale), slices);
    for (std::size_t i = 0; i < drilled.size(); ++i) volumes.parts[first + i].drilled_mm3 = drilled[i];
  }

  const Side& numbers_;
  const SideLayout& side_;
  const Handle& handle_;
  ScaleBody body_;
  RoundOverVolume round_over_;
};

/// What is left of the steel: its thickness is linear in x, so that the area's centre tells the mean.
double tang_mm3(const Design& design, const Handle& handle) {
  std::vector<Disc> discs;
  for (const TangHole& hole : design.tang.holes) discs.push_back({hole.at_mm, hole.diameter_mm / 2});
  for (const Disc& hole : holes_in(handle, HoleLayer::Kind::tang)) discs.push_back(hole);
  const auto volume = [&](double area, double x_moment) {
    return handle.tang_thickness_front_mm * area + handle.tang_slope * x_moment;
  };
  const auto outline_volume = [&](const Outline& outline) {
    const Moments moments = outline.moments();
    return volume(moments.area_mm2, moments.area_mm2 * moments.centroid.x);
  };
  const Taken taken = taken_by(discs, {handle.tang}, handle.cutouts);
  double left = outline_volume(handle.tang) - volume(taken.area_mm2, taken.x_moment_mm3);
  for (const Outline& cutout : handle.cutouts) left -= outline_volume(cutout);
  return left;
}

}  // namespace

HandleVolumes volumes_of(const Design& design, const Handle& handle) {
  HandleVolumes volumes{.tang_mm3 = tang_mm3(design, handle)};
  volumes.left = SideMeasure(design.left, handle.left, handle).all();
  volumes.right =
      handle.mirrored ? volumes.left : SideMeasure(design.right_side(), handle.right, handle).all();
  return volumes;
}

}  // namespace haftwright
