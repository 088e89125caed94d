#include "view_frame.hpp"

#include <algorithm>

namespace haftwright::render {

Vec3 key_in_camera() {
  return glm::normalize(Vec3{-0.42, 0.60, 0.68});
}

double pixel_mm(const Camera& camera, Vec3 place, PictureSize size) {
  double span = camera.height_mm;
  if (camera.perspective) {
    const double distance = camera.distance_mm();
    span *= std::max(0.01, 1 - glm::dot(place - camera.target, camera.back) / distance);
  }
  return span / size.height;
}

ViewFrame make_frame(const Camera& camera, PictureSize size, const Box& box) {
  const Vec3 right = camera.right();
  ViewFrame frame;
  frame.to_camera = glm::transpose(glm::dmat3(right, camera.up, camera.back));
  frame.key = right * key_in_camera().x + camera.up * key_in_camera().y + camera.back * key_in_camera().z;
  const double reach = box.radius() + glm::length(box.middle() - camera.target) + 1;
  const double far_off = 50 * reach;
  const double distance = camera.perspective ? camera.distance_mm() : far_off;
  frame.eye = camera.target + camera.back * distance;

  glm::dmat4 view(frame.to_camera);
  view[3] = glm::dvec4(frame.to_camera * -frame.eye, 1);
  const double near = std::max(distance - reach, camera.perspective ? 0.02 * distance : 0.0);
  const double far = distance + reach;
  const double half = camera.height_mm / 2;
  glm::dmat4 projection(0);
  if (camera.perspective) {
    projection[0][0] = distance / (half * size.aspect());
    projection[1][1] = distance / half;
    projection[2][2] = -(far + near) / (far - near);
    projection[2][3] = -1;
    projection[3][2] = -2 * far * near / (far - near);
  } else {
    projection[0][0] = 1 / (half * size.aspect());
    projection[1][1] = 1 / half;
    projection[2][2] = -2 / (far - near);
    projection[3][2] = -(far + near) / (far - near);
    projection[3][3] = 1;
  }
  frame.to_clip = projection * view;
  return frame;
}

}  // namespace haftwright::render
