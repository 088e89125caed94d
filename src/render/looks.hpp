// How a material looks: which shader draws it, with which numbers. Chosen by eye; nothing is worked out from
// them.
#pragma once

#include <glm/vec4.hpp>

#include "haftwright/preview/meshes.hpp"

namespace haftwright::render {

enum class Surface { wood, metal, layered, plain };

struct Look {
  Surface surface = Surface::plain;
  Vec3 pale{0, 0, 0};  ///< linear colours; metal: what it mirrors straight back
  Vec3 dark{0, 0, 0};
  glm::dvec4 rings{0};  ///< wood.frag.glsl: rings, pores, figure
  glm::dvec4 pores{0};
  glm::dvec4 figure{0};
  glm::dvec4 grain{0};  ///< metal.frag.glsl: brush; layered.frag.glsl: layer
};

Look look_of(const Body& body);
/// The look of its wood in another colour, linear: what a photo shows of it on the whole.
Look look_of(const Body& body, Vec3 colour);
/// sRGB to linear light.
Vec3 linear(const Colour& colour);

}  // namespace haftwright::render
