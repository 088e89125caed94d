// A camera turned into matrices, with what the lights need to know.
#pragma once

#include <glm/mat3x3.hpp>
#include <glm/mat4x4.hpp>

#include "haftwright/render/camera.hpp"

namespace haftwright::render {

/// A box along the axes.
struct Box {
  Vec3 low{0, 0, 0};
  Vec3 high{0, 0, 0};
  Vec3 middle() const { return (low + high) / 2.0; }
  double radius() const { return glm::length(high - low) / 2; }
};

struct ViewFrame {
  glm::dmat4 to_clip{1};
  glm::dmat3 to_camera{1};  ///< world direction -> x right, y up, z toward the eye
  Vec3 eye{0, 0, 0};        ///< far along the line of sight in a parallel view
  Vec3 key{0, 0, 1};        ///< toward the key light, world
};

/// Near and far planes enclose the box.
ViewFrame make_frame(const Camera& camera, PictureSize size, const Box& box);
/// Toward the key light in the camera's frame: up on the left, before the handle.
Vec3 key_in_camera();
/// Millimetres that a pixel spans at a place.
double pixel_mm(const Camera& camera, Vec3 place, PictureSize size);

}  // namespace haftwright::render
