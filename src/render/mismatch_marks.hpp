// What the mismatch view draws over the left side: the joint lines of both sides, what lies between them, and
// a mark at each end whose shape tells good from bad where colours can't be told apart.
#pragma once

#include <array>
#include <vector>

#include "gl_objects.hpp"
#include "haftwright/preview/mismatch.hpp"
#include "haftwright/render/camera.hpp"

namespace haftwright::render {

struct MarkCorner {
  std::array<float, 3> position{};
  std::array<float, 4> colour{};  ///< sRGB, alpha
};

/// Triangles, three corners each, for one camera.
struct Marks {
  std::vector<MarkCorner> lines;  ///< lie on the surface: hidden where the handle hides them
  std::vector<MarkCorner> ends;   ///< stand beside the handle: never hidden
};
Marks make_marks(const std::vector<LinePair>& pairs, const Camera& camera, PictureSize size,
                 double step_limit_mm);

/// Draws triangles of coloured corners.
class MarkPainter {
 public:
  MarkPainter();
  void draw(const std::vector<MarkCorner>& corners, const glm::dmat4& to_clip);

 private:
  Program program_;
  GlVertexArray array_;
  GlBuffer buffer_;
};

}  // namespace haftwright::render
