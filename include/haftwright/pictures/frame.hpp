// A printed frame to lay round what is photographed: a dark band with a row of light dots, whose places are
// known.
//
// The program finds the dots by itself, more than forty, so that the picture is squared up with a residual
// and the lens found on the way. Which dots are missing beside one corner tells how the frame lies; how many
// there are tells which sheet it is. Printers may scale: the frame has a line 100 mm long to measure.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "haftwright/pictures/squaring.hpp"

namespace haftwright {

enum class FrameSize { a5, a4, a3, letter };

/// What is on the sheet, in millimetres from its lower left corner, x along its short side, y up.
struct FrameDrawing {
  Vec2 sheet_mm{0, 0};
  Bounds band_outer;
  Bounds band_inner;       ///< what is photographed lies in it
  std::vector<Vec2> dots;  ///< their middles
  double dot_radius_mm = 0;
  std::vector<Vec2> gaps;  ///< where a dot is left out
  Vec2 line_from{0, 0};    ///< the line that is 100 mm long
  Vec2 line_to{0, 0};
};
FrameDrawing frame_drawing(FrameSize size);

/// At true size.
std::string frame_svg(FrameSize size);
/// The same as a PDF of one page that asks not to be scaled when it is printed.
std::string frame_pdf(FrameSize size);
/// 72 to 1200 dots per inch, else std::invalid_argument. The file gets its size by png_bytes(photo, dpi).
Photo frame_photo(FrameSize size, double dpi);

struct FoundFrame {
  FrameSize size = FrameSize::a4;
  std::vector<Mark> marks;  ///< in the frame's millimetres, where the printer scaled nothing
};
/// The frame on a picture, any way round; at least half its dots must be seen, some at every corner. Nothing
/// when not sure. `printed_line_mm`: how long the line of 100 mm came out, 90 to 110, else
/// std::invalid_argument.
std::optional<FoundFrame> find_frame(const Photo& photo, double printed_line_mm = 100);

}  // namespace haftwright
