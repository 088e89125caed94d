// The programs that draw bodies, one for each way a material is made.
#pragma once

#include "shadows.hpp"

namespace haftwright::render {

class ScenePrograms {
 public:
  ScenePrograms();

  /// What a scene sets once for every program.
  void begin(const SceneParts& scene, const KeyShadow* shadow);
  /// Set up for a body in its own material, as if of glass, or toned down.
  void use_material(const SceneParts& scene, const StoredBody& body) const;
  void use_ghost(const SceneParts& scene, const StoredBody& body) const;
  void use_matte(const SceneParts& scene, const StoredBody& body) const;
  /// One sRGB colour with its alpha; colour premultiplied.
  void use_flat(const SceneParts& scene, const StoredBody& body, const glm::dmat4& to_clip,
                glm::dvec4 colour) const;

 private:
  const Program& place(const Program& program, const SceneParts& scene, const StoredBody& body,
                       const GrainFrame& grain) const;

  void use_wood(const SceneParts& scene, const StoredBody& body) const;

  Program wood_;
  Program photo_wood_;
  Program metal_;
  Program layered_;
  Program plain_;
  Program ghost_;
  Program matte_;
  Program flat_;
};

}  // namespace haftwright::render
