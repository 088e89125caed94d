#include "scene_programs.hpp"

#include <algorithm>

namespace haftwright::render {
namespace {

constexpr std::string_view kBody = "body.vert.glsl";
constexpr std::string_view kNoise = "noise.glsl";
constexpr std::string_view kWood = "wood.glsl";
constexpr std::string_view kStudio = "studio.glsl";
// A blue that no wood, horn or brass has.
constexpr glm::dvec4 kHighlight{0.13, 0.52, 0.95, 0.55};

Program lit(std::string_view surface) {
  return {{kBody}, {kNoise, kStudio, surface}};
}

}  // namespace

ScenePrograms::ScenePrograms()
    : wood_({kBody}, {kNoise, kStudio, kWood, "wood.frag.glsl"}),
      photo_wood_({kBody}, {kNoise, kStudio, kWood, "photo_wood.frag.glsl"}),
      metal_(lit("metal.frag.glsl")),
      layered_(lit("layered.frag.glsl")),
      plain_(lit("plain.frag.glsl")),
      ghost_(lit("ghost.frag.glsl")),
      matte_(lit("matte.frag.glsl")),
      flat_({kBody}, {"flat.frag.glsl"}) {}

void ScenePrograms::begin(const SceneParts& scene, const KeyShadow* shadow) {
  for (const Program* program : {&wood_, &photo_wood_, &metal_, &layered_, &plain_, &ghost_, &matte_}) {
    program->use();
    program->set("to_clip", scene.frame.to_clip);
    program->set("to_camera", scene.frame.to_camera);
    program->set("eye", scene.frame.eye);
    program->set("key", key_in_camera());
    program->set("section", section_of(scene.options));
    program->set("unlit", scene.options.mode == SceneMode::albedo ? 1 : 0);
    program->set("shadow_map", 0);
    program->set("photo", kPhotoUnit);
    program->set("shadow_step", shadow ? shadow->step() : Vec2{0, 0});
    if (shadow) program->set("to_light", shadow->to_light());
  }
  if (shadow) glBindTexture(GL_TEXTURE_2D, shadow->texture());
}

const Program& ScenePrograms::place(const Program& program, const SceneParts& scene, const StoredBody& body,
                                    const GrainFrame& grain) const {
  program.use();
  program.set("shift", body.apart * scene.options.exploded);
  const Vec3 tangential = glm::cross(grain.fibre, grain.radial);
  program.set("to_grain", glm::transpose(glm::dmat3(grain.fibre, grain.radial, tangential)));
  program.set("grain_origin", grain.origin);
  const std::vector<BodyId>& chosen = scene.options.highlight;
  const bool marked = std::find(chosen.begin(), chosen.end(), body.id) != chosen.end();
  program.set("tint", marked ? kHighlight : glm::dvec4(0));
  return program;
}

void ScenePrograms::use_wood(const SceneParts& scene, const StoredBody& body) const {
  const auto [picture, texture] = scene.woods.find(body.id);
  const GrainFrame& grain = picture ? picture->grain : body.grain;
  const Program& program = place(picture ? photo_wood_ : wood_, scene, body, grain);
  const Look look = picture ? body.look_in(picture->mean_light) : body.look;
  program.set("pale", look.pale);
  program.set("dark", look.dark);
  program.set("rings", look.rings);
  program.set("pores", look.pores);
  program.set("figure", look.figure);
  program.set("fibre", grain.fibre);
  if (!picture) return;
  program.set("photo_across", picture->across);
  program.set("photo_down", picture->down);
  // The face of the photo lies square to z.
  program.set("photo_end", static_cast<float>(grain.fibre.z * grain.fibre.z));
  program.set("depth", picture->depth);
  glActiveTexture(GL_TEXTURE0 + kPhotoUnit);
  glBindTexture(GL_TEXTURE_2D, texture);
  glActiveTexture(GL_TEXTURE0);
}

void ScenePrograms::use_material(const SceneParts& scene, const StoredBody& body) const {
  const Look& look = body.look;
  switch (look.surface) {
    case Surface::wood:
      use_wood(scene, body);
      break;
    case Surface::metal: {
      const Program& program = place(metal_, scene, body, body.grain);
      program.set("mirror", look.pale);
      program.set("brush", look.grain);
      break;
    }
    case Surface::layered: {
      const Program& program = place(layered_, scene, body, body.grain);
      program.set("pale", look.pale);
      program.set("dark", look.dark);
      program.set("layer", look.grain);
      break;
    }
    case Surface::plain:
      place(plain_, scene, body, body.grain).set("pale", look.pale);
      break;
  }
}

void ScenePrograms::use_ghost(const SceneParts& scene, const StoredBody& body) const {
  place(ghost_, scene, body, body.grain).set("pale", body.colour);
}

void ScenePrograms::use_matte(const SceneParts& scene, const StoredBody& body) const {
  place(matte_, scene, body, body.grain).set("pale", glm::mix(body.colour, Vec3(0.60), 0.50));
}

void ScenePrograms::use_flat(const SceneParts& scene, const StoredBody& body, const glm::dmat4& to_clip,
                             glm::dvec4 colour) const {
  flat_.use();
  flat_.set("to_clip", to_clip);
  flat_.set("section", section_of(scene.options));
  flat_.set("shift", body.apart * scene.options.exploded);
  flat_.set("colour", colour);
}

}  // namespace haftwright::render
