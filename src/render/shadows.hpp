// Shadows: of the bodies on each other (a depth map seen from the key light) and on the ground (a blurred
// mask).
#pragma once

#include "body_store.hpp"
#include "haftwright/render/scene_view.hpp"
#include "wood_store.hpp"

namespace haftwright::render {

/// What every pass over the bodies needs.
struct SceneParts {
  const BodyStore& store;
  const WoodStore& woods;
  const SceneOptions& options;
  const ViewFrame& frame;
  Box box;  ///< of the bodies, exploded
};

/// Plane and shift uniforms of body.vert.glsl and ground_mask.vert.glsl.
void set_section(const Program& program, const SceneOptions& options);
glm::dvec4 section_of(const SceneOptions& options);

class KeyShadow {
 public:
  KeyShadow();
  void draw(const SceneParts& scene, int map_size);
  const glm::dmat4& to_light() const { return to_light_; }
  GLuint texture() const { return map_.texture(); }
  /// A step between looks into the map that blurs the rim of a shadow by about half a millimetre.
  Vec2 step() const { return step_; }

 private:
  Program program_;
  Canvas map_;
  glm::dmat4 to_light_{1};
  Vec2 step_{0, 0};
};

/// Up to three grounds, square to the axes, each there when the camera looks down on it.
class GroundShadow {
 public:
  GroundShadow();
  /// Draws the shadow into the bound `target`, over its backdrop. Leaves blending on.
  void draw(const SceneParts& scene, const Canvas& target, double strength);

 private:
  struct Ground {
    glm::dvec4 plane{0};
    Vec3 across{0, 0, 0};
    Vec3 upward{0, 0, 0};
    glm::dvec4 span{0};
  };
  Ground ground(const SceneParts& scene, int axis) const;
  void make_mask(const SceneParts& scene, const Ground& ground);
  void blur(const Ground& ground);

  Program mask_program_;
  Program blur_program_;
  Program program_;
  Canvas mask_;
  Canvas half_blurred_;
  GlVertexArray nothing_;
};

}  // namespace haftwright::render
