#include "part_volume.hpp"

#include "crown_volume.hpp"
#include "numeric.hpp"
#include "plane_section.hpp"

namespace haftwright::layout {
namespace {

/// What lies between a plane and the same plane stood upright on its line at s = 0, positive where the rake
/// adds to the part ahead. Integrated over two planes in between.
double rake_volume_mm3(const ScaleBody& body, const CutPlane& plane) {
  if (plane.tan_rake == 0) return 0;
  return integrate(kGauss2, 0, plane.tan_rake, [&](double tan_rake) {
    const auto section = cut(body, {plane.x0_mm, plane.tan_slant, tan_rake}, Closeness::area);
    return section ? section->s_moment_mm3 : 0;
  });
}

/// Of a plane's whole face, in (y, s).
double face_area_mm2(const ScaleBody& body, const CutPlane& plane) {
  const auto section = cut(body, plane, Closeness::line);
  return section ? section->area_mm2 : 0;
}

/// Between two parallel planes; the second lies behind the first.
double slab_volume_mm3(const ScaleBody& body, const CutPlane& front, const CutPlane& rear) {
  const double apart_mm = rear.x0_mm - front.x0_mm;
  // A strip is thin: two steps for each 4 mm follow it.
  const std::size_t steps = 2 * static_cast<std::size_t>(std::ceil(apart_mm / 4));
  double sum = (face_area_mm2(body, front) + face_area_mm2(body, rear)) / 3;
  for (std::size_t i = 1; i < steps; ++i) {
    CutPlane plane = front;
    plane.x0_mm += apart_mm * static_cast<double>(i) / static_cast<double>(steps);
    const auto section = cut(body, plane, Closeness::area);
    if (section) sum += simpson_weight(i, steps) * section->area_mm2;
  }
  return sum * apart_mm / static_cast<double>(steps);
}

}  // namespace

double volume_between_mm3(const ScaleBody& body, const RoundOverVolume& round_over,
                          const std::vector<Outline>& region, const CutPlane& front,
                          const std::optional<CutPlane>& rear) {
  double volume = crown_volume_mm3(body.surface.shape(), region);
  for (const Outline& outline : region) volume -= body.liner_total_mm * outline.area_mm2();
  volume -= round_over.taken_mm3(front, rear);
  volume -= rake_volume_mm3(body, front);
  if (rear) volume += rake_volume_mm3(body, *rear);
  return volume;
}

double part_volume_mm3(const ScaleBody& body, const RoundOverVolume& round_over, const Part& part) {
  if (part.kind == PartKind::spacer) return slab_volume_mm3(body, part.front, part.rear);
  return volume_between_mm3(body, round_over, part.inner_face, part.front,
                            part.to_butt ? std::nullopt : std::optional(part.rear));
}

}  // namespace haftwright::layout
