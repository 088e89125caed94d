#include "refusals.hpp"

#include <limits>
#include <utility>

#include "haftwright/design/validate.hpp"
#include "walls.hpp"

namespace haftwright::layout {
namespace {

LowWall wall_under(const ScaleBody& body, const HeightField& surface) {
  return layout::lowest_wall(surface, body.liner_total_mm, body.front);
}

/// Greatest round-over that leaves the least wall, to a hundredth of a millimetre, rounded down.
double greatest_round_over_mm(const ScaleBody& body) {
  SurfaceShape shape = body.surface.shape();
  double good = 0;
  double bad = shape.round_over_mm;
  while (bad - good > 0.005) {
    shape.round_over_mm = (good + bad) / 2;
    const HeightField surface(body.edge(), shape);
    (wall_under(body, surface).wood_mm >= kLeastWall_mm ? good : bad) = shape.round_over_mm;
  }
  return std::floor(good * 100) / 100;
}

}  // namespace

HeightField finished_surface(const SideInput& input, const Outline& edge) {
  const Finish& finish = input.side.finish;
  if (finish.crown_radius_mm) {
    const double farthest =
        std::max(edge.bounds().high.y - finish.crest_y_mm, finish.crest_y_mm - edge.bounds().low.y);
    if (!(*finish.crown_radius_mm >= farthest) || !(*finish.crown_radius_mm > finish.round_over_mm))
      throw InputError(input.field("finish.crown_radius_mm"),
                       "is too small: the handle reaches " + input.length(farthest) +
                           " from the crest and the round-over is " + input.length(finish.round_over_mm) +
                           "; the radius must be larger than both");
  }
  return HeightField(edge, {finish.thickness_mm, finish.crown_radius_mm, finish.crest_y_mm,
                            finish.round_over_mm, input.tang_slope / 2});
}

double over_air_mm2(const Outline& edge, const Outline& backed, const CutPlane& front,
                    double liner_total_mm) {
  double most = 0;
  for (const double s : {0.0, -liner_total_mm})
    most = std::max(most, area_mm2(clip(edge, behind(front, s))) - area_mm2(clip(backed, behind(front, s))));
  return most;
}

Outline finished_outline(const SideInput& input, const ScaleBody& body, const Outline& backed) {
  const std::string field = input.field("front.place_mm");
  std::vector<Outline> left = clip(body.edge(), behind(body.front, 0));
  if (left.empty()) throw InputError(field, "the front face lies behind the whole tang: no handle is left");
  if (left.size() > 1)
    throw InputError(field, "the front face cuts the handle into " + std::to_string(left.size()) +
                                " parts; move it, or give it less slant, so that one part is left");
  if (over_air_mm2(body.edge(), backed, body.front, body.liner_total_mm) > kOverAir_mm2)
    throw InputError(field,
                     "the front face stands partly ahead of the tang's outline, so that the scale would lie "
                     "on air there; draw the tang's outline further toward the blade or move the front face "
                     "back");
  return std::move(left.front());
}

LowWall sound_lowest_wall(const SideInput& input, const ScaleBody& body) {
  const LowWall low = wall_under(body, body.surface);
  if (low.wood_mm >= kLeastWall_mm) return low;
  SurfaceShape sharp = body.surface.shape();
  const double round_over = std::exchange(sharp.round_over_mm, 0.0);
  const HeightField unrounded(body.edge(), sharp);
  const LowWall surface = wall_under(body, unrounded);
  if (surface.wood_mm < kLeastWall_mm)
    throw InputError(input.field("finish.thickness"),
                     "the finished surface leaves " + input.length(surface.wood_mm) +
                         " above the liners at " + input.place(surface.at) + " and must leave at least " +
                         input.length(kLeastWall_mm) +
                         "; make the side thicker there, the crown flatter or the liners thinner");
  throw InputError(input.field("finish.round_over_mm"),
                   "a round-over of " + input.length(round_over) + " leaves " + input.length(low.wood_mm) +
                       " of side wall above the liners at " + input.place(low.at) +
                       " and must leave at least " + input.length(kLeastWall_mm) +
                       "; the greatest that does is " + input.length(greatest_round_over_mm(body)));
}

PlaneSection face_through(const SideInput& input, const ScaleBody& body, const CutPlane& plane,
                          const std::string& name, const std::string& field) {
  std::optional<PlaneSection> section = cut(body, plane, Closeness::line);
  if (!section) throw InputError(field, name + " does not cross the handle: it lies wholly ahead or behind");
  for (const FaceEnd* end : {&section->belly, &section->spine})
    if (!end->reaches_top)
      throw InputError(field,
                       name + " runs out of the handle's end at " + input.place(end->inner) +
                           " before it reaches the finished surface; move it inward or lessen its rake");
  return *std::move(section);
}

void refuse_crossing(const SideInput& input, const NamedFace& front, const NamedFace& rear,
                     const std::string& field) {
  Vec2 worst{0, 0};
  double least = std::numeric_limits<double>::infinity();
  const auto look = [&](Vec2 ys) {
    const double apart = rear.plane.x_at(ys.x, ys.y) - front.plane.x_at(ys.x, ys.y);
    if (apart < least) least = apart, worst = ys;
  };
  for (const NamedFace* face : {&front, &rear}) {
    for (const FaceEnd* end : {&face->section.belly, &face->section.spine}) look({end->inner.y, 0});
    for (const Vec2 ys : face->section.line) look(ys);
  }
  if (least > 1e-6) return;
  throw InputError(field, rear.name + " meets " + front.name + " inside the handle, at " +
                              input.place({rear.plane.x_at(worst.x, worst.y), worst.x}) + ", " +
                              input.length(worst.y) +
                              " above the liners; move them apart or give them slants and rakes that agree");
}

}  // namespace haftwright::layout
