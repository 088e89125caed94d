#include "shadows.hpp"

#include <algorithm>
#include <cmath>

namespace haftwright::render {
namespace {

constexpr double kSoft_mm = 0.35;  // step between looks into the key light's map
// Steps of the ground shadow's blurs one after the other, each wide enough for the next to find nothing
// sharp: what stands off the ground, and what is near it.
constexpr Vec2 kBlurs_mm[] = {{0.6, 0.35}, {1.6, 0.25}};
constexpr double kPixelsPerMm = 1.3;  // of the ground's mask

double smoothstep(double from, double to, double x) {
  const double t = std::clamp((x - from) / (to - from), 0.0, 1.0);
  return t * t * (3 - 2 * t);
}

void set_ground(const Program& program, glm::dvec4 plane, Vec3 across, Vec3 upward, glm::dvec4 span) {
  program.set("ground", plane);
  program.set("across", across);
  program.set("upward", upward);
  program.set("span", span);
}

}  // namespace

glm::dvec4 section_of(const SceneOptions& options) {
  if (!options.section) return {0, 0, 0, 1};
  return {options.section->normal, options.section->offset_mm};
}

void set_section(const Program& program, const SceneOptions& options) {
  program.set("section", section_of(options));
  (options.section ? glEnable : glDisable)(GL_CLIP_DISTANCE0);
}

KeyShadow::KeyShadow() : program_({"body.vert.glsl"}, {"depth.frag.glsl"}) {}

void KeyShadow::draw(const SceneParts& scene, int map_size) {
  map_.fit(map_size, map_size, {.colour = GL_NONE});
  const double radius = scene.box.radius() + 1;
  const Vec3 key = scene.frame.key;
  const Vec3 across = glm::normalize(glm::cross(std::abs(key.y) < 0.9 ? Vec3{0, 1, 0} : Vec3{1, 0, 0}, key));
  const Vec3 upward = glm::cross(key, across);
  glm::dmat4 to_map(glm::transpose(glm::dmat3(across, upward, -key)));
  to_map[3] = glm::dvec4(glm::dmat3(to_map) * -scene.box.middle(), 1);
  glm::dmat4 scale(1 / radius);
  scale[3][3] = 1;
  to_map = scale * to_map;
  glm::dmat4 to_texture(0.5);
  to_texture[3] = {0.5, 0.5, 0.5, 1};
  to_light_ = to_texture * to_map;
  step_ = Vec2(kSoft_mm / (2 * radius));

  map_.bind();
  glClear(GL_DEPTH_BUFFER_BIT);
  glEnable(GL_DEPTH_TEST);
  // What looks toward the light, a little behind itself so that it does not shade itself. Faces that look
  // away would do without, but inside the handle they touch the surface at every joint.
  glEnable(GL_CULL_FACE);
  glCullFace(GL_BACK);
  glEnable(GL_POLYGON_OFFSET_FILL);
  glPolygonOffset(1.5f, 4);
  program_.use();
  program_.set("to_clip", to_map);
  set_section(program_, scene.options);
  for (const StoredBody& body : scene.store.bodies()) {
    program_.set("shift", body.apart * scene.options.exploded);
    body.draw();
  }
  glDisable(GL_POLYGON_OFFSET_FILL);
  glDisable(GL_CULL_FACE);
  glDisable(GL_CLIP_DISTANCE0);
}

GroundShadow::GroundShadow()
    : mask_program_({"ground_mask.vert.glsl"}, {"ground_mask.frag.glsl"}),
      blur_program_({"screen.vert.glsl"}, {"blur.frag.glsl"}),
      program_({"ground.vert.glsl"}, {"ground.frag.glsl"}),
      nothing_(new_vertex_array()) {}

GroundShadow::Ground GroundShadow::ground(const SceneParts& scene, int axis) const {
  const Vec3 back =
      Vec3{scene.frame.to_camera[0][2], scene.frame.to_camera[1][2], scene.frame.to_camera[2][2]};
  const double sign = back[axis] < 0 ? -1 : 1;
  Ground made;
  Vec3 normal{0, 0, 0};
  normal[axis] = sign;
  made.across[(axis + 1) % 3] = 1;
  made.upward[(axis + 2) % 3] = 1;
  const Box& box = scene.box;
  made.plane = {normal, sign > 0 ? box.low[axis] : -box.high[axis]};
  const double height = box.high[axis] - box.low[axis];
  const auto side = [&](Vec3 direction) {
    const double low = glm::dot(direction, box.low);
    const double high = glm::dot(direction, box.high);
    return Vec2{(low + high) / 2, (high - low) / 2 + 0.9 * height + 25};
  };
  const Vec2 x = side(made.across);
  const Vec2 y = side(made.upward);
  made.span = {x.x, y.x, x.y, y.y};
  return made;
}

void GroundShadow::make_mask(const SceneParts& scene, const Ground& ground) {
  const auto pixels = [](double half) {
    return static_cast<int>(std::clamp(2 * half * kPixelsPerMm, 32.0, 1024.0));
  };
  mask_.fit(pixels(ground.span.z), pixels(ground.span.w), {.depth = false});
  half_blurred_.fit(mask_.width(), mask_.height(), {.depth = false});
  mask_.bind();
  glDisable(GL_DEPTH_TEST);
  glClearColor(0, 0, 0, 0);
  glClear(GL_COLOR_BUFFER_BIT);
  glEnable(GL_BLEND);
  glBlendEquation(GL_MAX);
  mask_program_.use();
  set_ground(mask_program_, ground.plane, ground.across, ground.upward, ground.span);
  // The shadow leans away from the light, but not so far that it leaves the handle.
  mask_program_.set("light", glm::normalize(scene.frame.key + Vec3(ground.plane) * 0.6));
  set_section(mask_program_, scene.options);
  for (const StoredBody& body : scene.store.bodies()) {
    mask_program_.set("shift", body.apart * scene.options.exploded);
    body.draw();
  }
  glDisable(GL_CLIP_DISTANCE0);
  glBlendEquation(GL_FUNC_ADD);
  glDisable(GL_BLEND);
}

void GroundShadow::blur(const Ground& ground) {
  blur_program_.use();
  blur_program_.set("map", 0);
  glBindVertexArray(nothing_.get());
  const auto pass = [&](const Canvas& from, const Canvas& to, Vec2 direction, Vec2 step) {
    to.bind();
    glBindTexture(GL_TEXTURE_2D, from.texture());
    blur_program_.set("step_red", direction * step.x);
    blur_program_.set("step_green", direction * step.y);
    glDrawArrays(GL_TRIANGLES, 0, 3);
  };
  for (const Vec2 step : kBlurs_mm) {
    pass(mask_, half_blurred_, {1 / (2 * ground.span.z), 0}, step);
    pass(half_blurred_, mask_, {0, 1 / (2 * ground.span.w)}, step);
  }
}

void GroundShadow::draw(const SceneParts& scene, const Canvas& target, double strength) {
  for (int axis = 0; axis < 3; ++axis) {
    const double facing = std::abs(scene.frame.to_camera[axis][2]);
    const double share = smoothstep(0.60, 0.85, facing);
    if (share == 0) continue;
    const Ground here = ground(scene, axis);
    make_mask(scene, here);
    blur(here);
    target.bind();
    glEnable(GL_BLEND);
    glBlendFunc(GL_ONE, GL_ONE_MINUS_SRC_ALPHA);
    program_.use();
    program_.set("to_clip", scene.frame.to_clip);
    set_ground(program_, here.plane, here.across, here.upward, here.span);
    program_.set("map", 0);
    program_.set("strength", static_cast<float>(share * strength));
    glBindTexture(GL_TEXTURE_2D, mask_.texture());
    glBindVertexArray(nothing_.get());
    glDrawArrays(GL_TRIANGLE_STRIP, 0, 4);
  }
  target.bind();
}

}  // namespace haftwright::render
