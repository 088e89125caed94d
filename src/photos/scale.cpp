#include "scale.hpp"

#include <algorithm>
#include <array>
#include <cmath>

#include "haftwright/offcuts/bin_schema.hpp"
#include "haftwright/pictures/find_sheet.hpp"

namespace haftwright::photos {
namespace {

// Dots are found to about a third of a pixel (tests/pictures/frame_test.cpp).
constexpr double kDotError_px = 0.3;
// The corners of a sheet are where its sides meet, seldom worse than its edge strays.
constexpr double kCornerError_px = 1;
// A side that was measured with calipers or a good rule: from own judgement.
constexpr double kMeasuredSize_mm = 0.25;
// Sheets of the series A may be off by 1.5 mm for sides up to 150 mm and by 2 mm up to 600 mm (ISO 216).
constexpr double kSmallSheet_mm = 1.5;
constexpr double kLargeSheet_mm = 2;
constexpr std::array<std::array<double, 2>, 4> kPaper_mm{{{105, 148}, {148, 210}, {210, 297}, {297, 420}}};
// The logarithm of a rectangle's shape. Nearer to a square, a slanted view can't tell which side lies level:
// from own judgement.
constexpr double kLeastShapeShare = 0.08;

SquaringInput common_input(const PictureFacts& facts, const TraceRequest& request) {
  if (request.camera_height_mm && !(*request.camera_height_mm > 0))
    throw SquaringError("The camera's height over the marks must be more than 0.");
  if (!std::isfinite(request.face_above_marks_mm))
    throw SquaringError("How far the face lies above the marks must be a number.");
  SquaringInput input;
  input.face_above_marks_mm = request.face_above_marks_mm;
  input.camera_height_mm = request.camera_height_mm;
  input.focal_px = facts.focal_px;
  if (request.lens_k1 != 0) input.lens_k1 = request.lens_k1;
  return input;
}

/// As many of the marks as a bin holds, evenly chosen.
std::vector<Mark> thinned(const std::vector<Mark>& marks) {
  if (marks.size() <= limits::kPhotoMarks) return marks;
  std::vector<Mark> some;
  for (std::size_t i = 0; i < limits::kPhotoMarks; ++i)
    some.push_back(marks[i * marks.size() / limits::kPhotoMarks]);
  return some;
}

double size_error_of(const KnownSheet& sheet) {
  const double shorter = std::min(sheet.width_mm, sheet.height_mm);
  const double longer = std::max(sheet.width_mm, sheet.height_mm);
  for (const auto& paper : kPaper_mm)
    if (std::abs(shorter - paper[0]) < 0.01 && std::abs(longer - paper[1]) < 0.01)
      return (shorter <= 150 ? kSmallSheet_mm : kLargeSheet_mm) / shorter;
  return kMeasuredSize_mm / shorter;
}

/// The sides of the sheet from the first corner on, in the order in which the picture shows them.
std::array<double, 2> sides_as_seen(const std::array<Vec2, 4>& corners, const KnownSheet& sheet) {
  const double level = glm::distance(corners[0], corners[1]) + glm::distance(corners[2], corners[3]);
  const double upright = glm::distance(corners[1], corners[2]) + glm::distance(corners[3], corners[0]);
  const double seen = std::log(level / upright);
  const double stated = std::log(sheet.width_mm / sheet.height_mm);
  if (stated == 0) return {sheet.width_mm, sheet.height_mm};
  if (std::min(std::abs(stated), std::abs(seen)) < kLeastShapeShare)
    throw SquaringError(
        "Which side of the sheet is which can't be told: use one that is square or clearly longer than wide, "
        "and take the picture more from straight above.");
  if ((seen > 0) == (stated > 0)) return {sheet.width_mm, sheet.height_mm};
  return {sheet.height_mm, sheet.width_mm};
}

FoundScale by_marks(const TypedMarks& typed, const TraceRequest& request, SquaringInput input) {
  for (const PhotoMark& mark : typed.marks)
    input.marks.push_back({mark.at_px, shown(request.face, mark.at_mm)});
  return {std::move(input), std::nullopt, std::nullopt};
}

FoundScale by_frame(const PrintedFrame& printed, const Photo& picture, SquaringInput input) {
  if (!(printed.line_mm >= 90 && printed.line_mm <= 110))
    throw SquaringError("The frame's line of 100 mm must have come out 90 to 110 mm long.");
  const auto found = find_frame(picture, printed.line_mm);
  if (!found)
    throw SquaringError(
        "No printed frame was found on the picture: all four of its corners and most of its light dots must "
        "be seen, in light that is not too uneven.");
  input.marks = thinned(found->marks);
  input.mark_error_px = kDotError_px;
  Bounds within = frame_drawing(found->size).band_inner;
  within = {within.low * (printed.line_mm / 100), within.high * (printed.line_mm / 100)};
  return {std::move(input), within, found->size};
}

FoundScale by_sheet(const KnownSheet& sheet, const Photo& picture, SquaringInput input) {
  if (!(sheet.width_mm >= 20 && sheet.height_mm >= 20 && sheet.width_mm <= 2000 && sheet.height_mm <= 2000))
    throw SquaringError("The sides of the sheet must be from 20 to 2000 mm long.");
  const auto found = find_sheet(picture);
  if (!found)
    throw SquaringError(
        "No sheet with four straight sides was found on the picture: it must be wholly seen, on a ground "
        "much "
        "darker or lighter than it.");
  const auto [level, upright] = sides_as_seen(found->corners_px, sheet);
  // Clockwise as seen from the upper left corner.
  input.marks = {{found->corners_px[0], {0, upright}},
                 {found->corners_px[1], {level, upright}},
                 {found->corners_px[2], {level, 0}},
                 {found->corners_px[3], {0, 0}}};
  input.mark_error_px = std::max(kCornerError_px, 2 * found->stray_px);
  input.size_error_share = size_error_of(sheet);
  return {std::move(input), Bounds{{0, 0}, {level, upright}}, std::nullopt};
}

}  // namespace

FoundScale find_scale(const Photo& picture, const PictureFacts& facts, const TraceRequest& request) {
  SquaringInput input = common_input(facts, request);
  if (const auto* typed = std::get_if<TypedMarks>(&request.scale))
    return by_marks(*typed, request, std::move(input));
  if (const auto* printed = std::get_if<PrintedFrame>(&request.scale))
    return by_frame(*printed, picture, std::move(input));
  return by_sheet(std::get<KnownSheet>(request.scale), picture, std::move(input));
}

}  // namespace haftwright::photos
