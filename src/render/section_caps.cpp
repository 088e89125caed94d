#include "section_caps.hpp"

#include <algorithm>
#include <cmath>

namespace haftwright::render {
namespace {

bool cuts(const SectionPlane& plane, const Box& box) {
  double low = -plane.offset_mm;
  double high = -plane.offset_mm;
  for (int axis = 0; axis < 3; ++axis) {
    const double a = plane.normal[axis] * box.low[axis];
    const double b = plane.normal[axis] * box.high[axis];
    low += std::min(a, b);
    high += std::max(a, b);
  }
  return low < 0 && high > 0;
}

}  // namespace

SectionCaps::SectionCaps()
    : program_({"body.vert.glsl"}, {"depth.frag.glsl"}), array_(new_vertex_array()), corners_(new_buffer()) {
  glBindVertexArray(array_.get());
  glBindBuffer(GL_ARRAY_BUFFER, corners_.get());
  glBufferData(GL_ARRAY_BUFFER, 4 * sizeof(Vertex), nullptr, GL_DYNAMIC_DRAW);
  describe_vertices();
  glBindVertexArray(0);
}

void SectionCaps::count_faces(const SceneParts& scene, const StoredBody& body) {
  program_.use();
  program_.set("to_clip", scene.frame.to_clip);
  program_.set("shift", body.apart * scene.options.exploded);
  set_section(program_, scene.options);
  glColorMask(GL_FALSE, GL_FALSE, GL_FALSE, GL_FALSE);
  glDepthMask(GL_FALSE);
  glDisable(GL_DEPTH_TEST);
  glStencilFunc(GL_ALWAYS, 0, 0xff);
  glStencilOpSeparate(GL_FRONT, GL_KEEP, GL_KEEP, GL_DECR_WRAP);
  glStencilOpSeparate(GL_BACK, GL_KEEP, GL_KEEP, GL_INCR_WRAP);
  body.draw();
  glDisable(GL_CLIP_DISTANCE0);
  glColorMask(GL_TRUE, GL_TRUE, GL_TRUE, GL_TRUE);
  glDepthMask(GL_TRUE);
  glEnable(GL_DEPTH_TEST);
}

/// A square in the plane, wider than everything.
void SectionCaps::lay_plane(const SectionPlane& plane, const Box& box) {
  const Vec3 n = plane.normal;
  const Vec3 across = glm::normalize(glm::cross(std::abs(n.y) < 0.9 ? Vec3{0, 1, 0} : Vec3{1, 0, 0}, n));
  const Vec3 upward = glm::cross(n, across);
  const Vec3 middle = box.middle() + n * (plane.offset_mm - glm::dot(n, box.middle()));
  const double reach = box.radius() + 1;
  Vertex corners[4];
  for (int i = 0; i < 4; ++i) {
    const Vec3 p = middle + across * (i % 2 == 0 ? -reach : reach) + upward * (i < 2 ? -reach : reach);
    for (std::size_t k = 0; k < 3; ++k) {
      corners[i].position[k] = static_cast<float>(p[static_cast<int>(k)]);
      corners[i].normal[k] = static_cast<float>(n[static_cast<int>(k)]);
    }
    corners[i].below = kCutFace;
  }
  glBindVertexArray(array_.get());
  glBindBuffer(GL_ARRAY_BUFFER, corners_.get());
  glBufferSubData(GL_ARRAY_BUFFER, 0, sizeof corners, corners);
}

void SectionCaps::draw(const SceneParts& scene, const std::function<bool(const StoredBody&)>& wanted,
                       const std::function<void(const StoredBody&)>& prepare) {
  if (!scene.options.section) return;
  glEnable(GL_STENCIL_TEST);
  for (const StoredBody& body : scene.store.bodies()) {
    if (!wanted(body) || !cuts(*scene.options.section, body.box)) continue;
    count_faces(scene, body);
    // Where the count is not even the plane lies inside; each place is set back as it is drawn.
    glStencilFunc(GL_NOTEQUAL, 0, 0xff);
    glStencilOp(GL_ZERO, GL_ZERO, GL_ZERO);
    prepare(body);
    glDisable(GL_CLIP_DISTANCE0);
    lay_plane(*scene.options.section, body.box);
    glDrawArrays(GL_TRIANGLE_STRIP, 0, 4);
  }
  glDisable(GL_STENCIL_TEST);
}

}  // namespace haftwright::render
