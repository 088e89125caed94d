#include "haftwright/photos/traced.hpp"

#include <algorithm>
#include <array>
#include <cmath>

#include "haftwright/geometry/outline_ops.hpp"
#include "haftwright/pictures/warp.hpp"
#include "mirrored.hpp"
#include "scale.hpp"

namespace haftwright {

using namespace photos;
namespace {

constexpr double kMostPxPerMm = 10;
// Coarser, an edge found to a tenth of a pixel is still off by more than a joint may be.
constexpr double kLeastPxPerMm = 2;
// What is warped and traced: 10 pixels a millimetre on a sheet of A3 and something about it.
constexpr double kMostTraced_px = 20e6;
// So far the ground's rim keeps from the edge of a sheet or frame, which may not lie flat.
constexpr double kRim_mm = 1.5;
constexpr double kStep_mm = 2;
constexpr double kMostReach_mm = 600;
// A share of the marks' box to look beyond it, for marks on the offcut's own corners.
constexpr double kBeyondMarks = 0.25;
constexpr double kOutlineStep_mm = 0.05;
// Less of a side than this is not worth a word.
constexpr double kSideWorthSaying_mm = 0.1;

bool inside(const Bounds& box, Vec2 mm) {
  return mm.x >= box.low.x && mm.y >= box.low.y && mm.x <= box.high.x && mm.y <= box.high.y;
}

bool on_picture(const Squaring& squaring, Vec2 mm) {
  const Vec2 px = squaring.to_px(mm);
  return px.x >= 0 && px.y >= 0 && px.x <= squaring.width_px() && px.y <= squaring.height_px();
}

/// Moves each side of the box out, turn by turn, as long as the picture shows all of it.
Bounds grown(const Squaring& squaring, Bounds box, double most_mm) {
  const auto seen = [&](const Bounds& b) {
    return on_picture(squaring, b.low) && on_picture(squaring, b.high) &&
           on_picture(squaring, {b.low.x, b.high.y}) && on_picture(squaring, {b.high.x, b.low.y});
  };
  std::array<bool, 4> done{};
  for (double by = kStep_mm; by <= most_mm; by += kStep_mm)
    for (std::size_t side = 0; side < 4; ++side) {
      if (done[side]) continue;
      Bounds wider = box;
      (side == 0   ? wider.low.x
       : side == 1 ? wider.low.y
       : side == 2 ? wider.high.x
                   : wider.high.y) += side < 2 ? -kStep_mm : kStep_mm;
      done[side] = !seen(wider);
      if (!done[side]) box = wider;
    }
  return box;
}

/// The part of the marks' plane as it is seen through the plane of the face: what lies lower looks smaller.
Bounds seen_on_face(const Squaring& face, const SquaringInput& input, const Bounds& within) {
  SquaringInput on_marks = input;
  on_marks.face_above_marks_mm = 0;
  const Squaring flat = square_up(on_marks, face.width_px(), face.height_px());
  const Vec2 a = face.to_mm(flat.to_px(within.low)), b = face.to_mm(flat.to_px(within.high));
  return {glm::min(a, b) + kRim_mm, glm::max(a, b) - kRim_mm};
}

/// One go at tracing: what was looked at, and what was found on it.
struct Attempt {
  Bounds box;
  double px_per_mm = 0;
  Photo warped;
  Traced found;
};

Attempt attempt(const Photo& picture, const Squaring& squaring, const Bounds& box,
                std::optional<Vec2> seed_mm) {
  const Vec2 size = box.size();
  if (!(size.x > 0 && size.y > 0))
    throw PictureError(
        "There is no room left to look for the offcut in: is the face that far above the marks?");
  const double gives = squaring.px_per_mm((box.low + box.high) / 2.0);
  const double px_per_mm = std::min({kMostPxPerMm, gives, std::sqrt(kMostTraced_px / (size.x * size.y))});
  if (!(px_per_mm >= kLeastPxPerMm))
    throw PictureError("The picture has fewer than 2 pixels a millimetre: let the offcut fill more of it.");
  Attempt one{box, px_per_mm, warp(picture, squaring, box, px_per_mm), {}};
  one.found = trace(one.warped,
                    {.px_per_mm = px_per_mm, .upper_left_mm = {box.low.x, box.high.y}, .seed_mm = seed_mm});
  return one;
}

Attempt best_attempt(const Photo& picture, const FoundScale& scale, const Squaring& squaring,
                     std::optional<Vec2> seed_mm) {
  if (scale.within_mm) {
    const Bounds box = seen_on_face(squaring, scale.input, *scale.within_mm);
    if (!seed_mm || inside(box, *seed_mm)) return attempt(picture, squaring, box, seed_mm);
    if (scale.frame) throw PictureError("The place that was given lies outside the printed frame.");
    return attempt(picture, squaring, grown(squaring, box, kMostReach_mm), seed_mm);
  }
  const Bounds marked = squaring.measured_mm();
  const double beyond = kBeyondMarks * std::max(marked.size().x, marked.size().y);
  const Bounds wide = grown(squaring, marked, beyond);
  if (seed_mm && !inside(marked, *seed_mm)) return attempt(picture, squaring, wide, seed_mm);
  // Marks on the offcut's own corners leave no ground round it.
  try {
    Attempt within = attempt(picture, squaring, marked, seed_mm);
    if (!within.found.outlines.front().cut_by_picture) return within;
  } catch (const SquaringError&) {
    throw;
  } catch (const PictureError&) {
    return attempt(picture, squaring, wide, seed_mm);
  }
  return attempt(picture, squaring, wide, seed_mm);
}

/// How much of the offcut's sides shows beside its face, as the camera does not stand over it.
double side_seen(const Squaring& squaring, const Outline& outline, const TraceRequest& request) {
  const auto camera = squaring.camera();
  if (!camera || !request.thickness_mm) return 0;
  const double height_mm = camera->height_mm - request.face_above_marks_mm;
  const std::vector<Vec2> places = polyline(outline, kOutlineStep_mm);
  double beside_mm = 0;
  for (std::size_t i = 0; i < places.size(); ++i) {
    const Vec2 along = places[(i + 1) % places.size()] - places[i];
    if (along == Vec2{0, 0}) continue;
    beside_mm = std::max(beside_mm, -cross(glm::normalize(along), camera->foot_mm - places[i]));
  }
  return beside_mm * *request.thickness_mm / (height_mm + *request.thickness_mm);
}

std::string advice_on(const TracedOffcut& traced, const Squaring& squaring, const Outline& seen,
                      const std::string& of_trace) {
  std::string advice = of_trace;
  const auto say = [&](const std::string& words) { advice += (advice.empty() ? "" : " ") + words; };
  if (traced.side_seen_mm > kSideWorthSaying_mm)
    say("The camera did not stand over the offcut, so one of its sides may have been taken for its face: "
        "take the "
        "picture from straight above its middle.");
  const Bounds box = seen.bounds();
  if (!inside(squaring.measured_mm(), box.low) || !inside(squaring.measured_mm(), box.high))
    say("The offcut reaches beyond the marks: lay them round it.");
  return advice;
}

std::vector<Node> moved(std::vector<Node> chain, Vec2 by) {
  for (Node& node : chain) node.at += by;
  return chain;
}

OffcutPhoto marked_photo(const FoundScale& scale, const TraceRequest& request, Vec2 by) {
  OffcutPhoto photo;
  photo.face = request.face;
  for (const Mark& mark : scale.input.marks)
    photo.marks.push_back({mark.at_px, shown(request.face, mark.at_mm) + by});
  photo.face_above_marks_mm = request.face_above_marks_mm;
  photo.camera_height_mm = request.camera_height_mm;
  photo.lens_k1 = request.lens_k1;
  return photo;
}

}  // namespace

TracedOffcut traced(const Photo& picture, const PictureFacts& facts, const TraceRequest& request) {
  const FoundScale scale = find_scale(picture, facts, request);
  const Squaring squaring = square_up(scale.input, facts.width_px, facts.height_px);
  std::optional<Vec2> seed_mm;
  if (request.seed_px) seed_mm = squaring.to_mm(*request.seed_px);
  Attempt best = best_attempt(picture, scale, squaring, seed_mm);
  const TracedOutline& found = best.found.outlines.front();

  const Outline seen(found.outer);
  const std::vector<Node> outline = shown(request.face, found.outer);
  const Vec2 by = request.lower_left_mm ? *request.lower_left_mm - Outline(outline).bounds().low : Vec2{0, 0};
  TracedOffcut result;
  result.outline = moved(outline, by);
  for (const auto& hole : found.holes) result.holes.push_back(moved(shown(request.face, hole), by));
  result.photo = marked_photo(scale, request, by);
  result.largest_fit_mm = found.largest_fit_mm;
  result.scatter_mm = found.scatter_mm;
  result.quality = best.found.quality;
  result.bound = largest_bound(squaring, Face::upper, found.outer);
  result.side_seen_mm = side_seen(squaring, seen, request);
  result.residual_mm = squaring.largest_residual_mm();
  result.frame = scale.frame;
  result.px_per_mm = best.px_per_mm;
  result.advice = advice_on(result, squaring, seen, best.found.advice);
  const Bounds& box = best.box;
  const bool upper = request.face == Face::upper;
  result.squared = upper ? std::move(best.warped) : mirrored(std::move(best.warped));
  result.squared_mm = upper ? Bounds{box.low + by, box.high + by}
                            : Bounds{Vec2{-box.high.x, box.low.y} + by, Vec2{-box.low.x, box.high.y} + by};
  return result;
}

TracedOffcut traced(const std::filesystem::path& picture, const TraceRequest& request) {
  const PictureFacts facts = picture_facts(picture);
  TracedOffcut result = traced(read_picture(picture), facts, request);
  result.photo.file = picture.filename().string();
  return result;
}

}  // namespace haftwright
