// An offcut's outline taken from a photo of it.
#pragma once

#include <filesystem>
#include <optional>
#include <string>
#include <variant>
#include <vector>

#include "haftwright/offcuts/bin.hpp"
#include "haftwright/photos/squared.hpp"
#include "haftwright/pictures/frame.hpp"
#include "haftwright/pictures/trace.hpp"

namespace haftwright {

/// Places typed by the maker, four or more round the offcut. Their millimetres are those of an OffcutPhoto's
/// marks: as the upper face is looked at, also where the picture shows the lower one.
struct TypedMarks {
  std::vector<PhotoMark> marks;
};
/// The printed frame (pictures/frame.hpp) lies round the offcut. x runs along the frame's short side.
struct PrintedFrame {
  double line_mm = 100;  ///< how long its line of 100 mm came out of the printer, 90 to 110
};
/// A rectangle of that size lies under the offcut, or near it where the seed says what is wanted. x runs
/// along the side that lies level in the picture.
struct KnownSheet {
  double width_mm = 0;
  double height_mm = 0;
};

struct TraceRequest {
  std::variant<TypedMarks, PrintedFrame, KnownSheet> scale;
  Face face = Face::upper;
  /// How far the face lies nearer to the camera than the marks, the frame or the sheet.
  double face_above_marks_mm = 0;
  std::optional<double> camera_height_mm = {};
  double lens_k1 = 0;  ///< 0: not known
  /// How far the offcut's sides reach down from the face, to say how much of them may have been seen.
  std::optional<double> thickness_mm = {};
  /// A place on the offcut in the picture, in pixels; none: the largest thing there is.
  std::optional<Vec2> seed_px = {};
  /// Where the lower left corner of the box round the outline comes to lie. None: places stay as the marks
  /// give them.
  std::optional<Vec2> lower_left_mm = Vec2{0, 0};
};

struct TracedOffcut {
  std::vector<Node> outline;             ///< counter-clockwise, in the offcut's frame
  std::vector<std::vector<Node>> holes;  ///< the same
  /// Marks and heights for the bin, in the frame of `outline`; its file is the picture's name. Of a frame
  /// with many dots as many as a bin holds.
  OffcutPhoto photo;
  double largest_fit_mm = 0;  ///< TracedOutline says what these two mean
  double scatter_mm = 0;
  TraceQuality quality = TraceQuality::clear;
  std::string advice;  ///< for the maker, one sentence after another; may be empty
  PlaceBound bound;    ///< where along the outline it is largest
  /// How far at most the outline may stand out because one of the offcut's sides was seen beside its face:
  /// the camera did not stand over it. On top of `bound`; 0 where it did or no thickness is known.
  double side_seen_mm = 0;
  std::optional<double> residual_mm;  ///< of the marks; none for four
  std::optional<FrameSize> frame;     ///< the one that was found
  Photo squared;                      ///< what was traced, from square above, in the offcut's frame
  Bounds squared_mm;                  ///< what that shows
  double px_per_mm = 0;               ///< its scale: 10, or less where the picture has less
  /// What tracing adds: how far lines and arcs leave the edge, and one pixel for the edge itself
  /// (tests/pictures/trace_test.cpp finds it so on pictures with blur, noise and shadow).
  double tracing_mm() const { return largest_fit_mm + 1 / px_per_mm; }
  /// The most that a place of the outline may be off, where thing and ground can be told apart well.
  double bound_mm() const { return bound.total_mm() + side_seen_mm + tracing_mm(); }
};

/// Reads the picture, squares it up, traces the offcut. Throws PictureError, SquaringError for one, with a
/// sentence for the maker: a picture that can't be read, no frame or no sheet found on it, marks that square
/// nothing up, a picture too coarse to trace, nothing to be told from the ground, sizes out of their range.
TracedOffcut traced(const std::filesystem::path& picture, const TraceRequest& request);
/// The same for a picture that was read already, at its full size; `photo.file` is left empty.
TracedOffcut traced(const Photo& picture, const PictureFacts& facts, const TraceRequest& request);

}  // namespace haftwright
