// Pictures with no display at all: an EGL context without a surface.
#pragma once

#include <memory>

#include "haftwright/render/scene_view.hpp"

namespace haftwright {

/// A GL context of its own, current in the thread that made it until it goes.
class OffscreenContext {
 public:
  /// Throws RenderError when there is no EGL that can do without a display, or no OpenGL 3.3.
  OffscreenContext();
  ~OffscreenContext();
  OffscreenContext(const OffscreenContext&) = delete;
  OffscreenContext& operator=(const OffscreenContext&) = delete;

 private:
  struct Impl;
  std::unique_ptr<Impl> impl_;
};

/// One picture of the handle, from nothing; `woods` as SceneView::set_woods takes them. Throws RenderError.
Picture draw_picture(const Preview& preview, std::vector<LinePair> joint_lines, const Camera& camera,
                     const SceneOptions& options, PictureSize size, std::vector<WoodPicture> woods = {});

}  // namespace haftwright
