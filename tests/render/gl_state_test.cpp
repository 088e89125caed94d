// Drawing leaves the caller's graphics state as it was, however odd: the window's own painting shares it.
#include <epoxy/gl.h>

#include <initializer_list>

#include "drawn_scene.hpp"
#include "haftwright/preview/guide_mesh.hpp"
#include "wood_scene.hpp"

using namespace haftwright;
using namespace haftwright::test;

namespace {

std::vector<GLint> state() {
  std::vector<GLint> all;
  const auto add = [&](GLenum name, std::size_t count = 1) {
    GLint value[4] = {};
    glGetIntegerv(name, value);
    all.insert(all.end(), value, value + count);
  };
  for (const GLenum name : std::initializer_list<GLenum>{GL_BLEND_SRC_RGB,
                                                         GL_BLEND_DST_RGB,
                                                         GL_BLEND_SRC_ALPHA,
                                                         GL_BLEND_DST_ALPHA,
                                                         GL_BLEND_EQUATION_RGB,
                                                         GL_BLEND_EQUATION_ALPHA,
                                                         GL_CULL_FACE_MODE,
                                                         GL_DEPTH_WRITEMASK,
                                                         GL_STENCIL_FUNC,
                                                         GL_STENCIL_REF,
                                                         GL_STENCIL_VALUE_MASK,
                                                         GL_STENCIL_FAIL,
                                                         GL_STENCIL_PASS_DEPTH_FAIL,
                                                         GL_STENCIL_PASS_DEPTH_PASS,
                                                         GL_STENCIL_BACK_FUNC,
                                                         GL_STENCIL_BACK_REF,
                                                         GL_STENCIL_BACK_FAIL,
                                                         GL_STENCIL_BACK_PASS_DEPTH_PASS,
                                                         GL_PACK_ALIGNMENT,
                                                         GL_UNPACK_ALIGNMENT,
                                                         GL_UNPACK_ROW_LENGTH,
                                                         GL_UNPACK_SKIP_ROWS,
                                                         GL_UNPACK_SKIP_PIXELS,
                                                         GL_PIXEL_UNPACK_BUFFER_BINDING,
                                                         GL_ARRAY_BUFFER_BINDING,
                                                         GL_RENDERBUFFER_BINDING,
                                                         GL_CURRENT_PROGRAM,
                                                         GL_VERTEX_ARRAY_BINDING,
                                                         GL_ACTIVE_TEXTURE,
                                                         GL_TEXTURE_BINDING_2D,
                                                         GL_DRAW_FRAMEBUFFER_BINDING,
                                                         GL_READ_FRAMEBUFFER_BINDING,
                                                         GL_BLEND,
                                                         GL_DEPTH_TEST,
                                                         GL_CULL_FACE,
                                                         GL_STENCIL_TEST,
                                                         GL_SCISSOR_TEST,
                                                         GL_POLYGON_OFFSET_FILL,
                                                         GL_CLIP_DISTANCE0})
    add(name);
  GLint unit = 0;
  glGetIntegerv(GL_ACTIVE_TEXTURE, &unit);
  for (const GLenum other : std::initializer_list<GLenum>{GL_TEXTURE0, GL_TEXTURE1}) {
    glActiveTexture(other);
    add(GL_TEXTURE_BINDING_2D);
  }
  glActiveTexture(static_cast<GLenum>(unit));
  add(GL_COLOR_WRITEMASK, 4);
  add(GL_VIEWPORT, 4);
  for (const GLenum name : std::initializer_list<GLenum>{GL_COLOR_CLEAR_VALUE, GL_POLYGON_OFFSET_FACTOR,
                                                         GL_POLYGON_OFFSET_UNITS}) {
    GLfloat value[4] = {};
    glGetFloatv(name, value);
    for (const GLfloat part : value) all.push_back(static_cast<GLint>(part * 1000));
  }
  return all;
}

/// Nothing as it is at the start.
void make_odd_state() {
  glEnable(GL_BLEND);
  glBlendFuncSeparate(GL_DST_COLOR, GL_ONE, GL_ZERO, GL_SRC_ALPHA);
  glBlendEquationSeparate(GL_FUNC_SUBTRACT, GL_MIN);
  glCullFace(GL_FRONT);
  glPolygonOffset(3, 7);
  glClearColor(0.25F, 0.5F, 0.75F, 0.125F);
  glDepthMask(GL_FALSE);
  glColorMask(GL_TRUE, GL_FALSE, GL_TRUE, GL_FALSE);
  glStencilFuncSeparate(GL_FRONT, GL_GREATER, 3, 0x0f);
  glStencilFuncSeparate(GL_BACK, GL_LESS, 2, 0xf0);
  glStencilOpSeparate(GL_FRONT, GL_REPLACE, GL_INVERT, GL_INCR);
  glStencilOpSeparate(GL_BACK, GL_ZERO, GL_DECR, GL_INVERT);
  glPixelStorei(GL_PACK_ALIGNMENT, 2);
  glPixelStorei(GL_UNPACK_ALIGNMENT, 8);
  glPixelStorei(GL_UNPACK_ROW_LENGTH, 5000);
  glPixelStorei(GL_UNPACK_SKIP_ROWS, 3);
  glPixelStorei(GL_UNPACK_SKIP_PIXELS, 2);
  glViewport(1, 2, 30, 40);
}

}  // namespace

TEST_CASE("every way of drawing leaves the graphics state as it was, and is not led astray by it") {
  Scene scene(starter_design(starter_outline(StraightTang{}), 4, LengthUnit::millimetre));
  const Camera camera = scene.camera(StandardView::three_quarter, 0.2, true);
  const SectionPlane half{{0, 0, 1}, 0};
  const std::vector<SceneOptions> ways = {{.exploded = 0.2},
                                          {.section = half},
                                          {.mode = SceneMode::ghost_wood, .section = half},
                                          {.mode = SceneMode::mismatch},
                                          {.mode = SceneMode::flat_ids}};
  std::vector<Picture> usual;
  for (const SceneOptions& way : ways) usual.push_back(scene.draw(camera, way));
  make_odd_state();
  const std::vector<GLint> before = state();
  for (std::size_t i = 0; i < ways.size(); ++i) {
    INFO("way " << i);
    const Picture picture = scene.draw(camera, ways[i]);
    CHECK(state() == before);
    CHECK((picture.rgba == usual[i].rgba));
  }
  scene.view.body_at(10, 10);
  CHECK(state() == before);
  scene.view.set_preview(scene.preview, {});
  CHECK(state() == before);
}

TEST_CASE("photos of wood are uploaded and drawn alike in any graphics state, and leave it as it was") {
  WoodScene scene(sample(), {});
  const Camera camera = scene.camera(StandardView::three_quarter, 0, true);
  scene.show(photo_of(kAround, 3, code_at));
  const Picture usual = scene.draw(camera, {});
  scene.view.set_woods({});
  make_odd_state();
  const GLuint theirs = [] {
    GLuint name = 0;
    glGenTextures(1, &name);
    glActiveTexture(GL_TEXTURE1);
    glBindTexture(GL_TEXTURE_2D, name);
    return name;
  }();
  const std::vector<GLint> before = state();
  scene.show(photo_of(kAround, 3, code_at));
  CHECK(state() == before);
  CHECK((scene.draw(camera, {}).rgba == usual.rgba));
  CHECK(state() == before);
  glDeleteTextures(1, &theirs);
}

TEST_CASE("the drill guide can be drawn like a handle") {
  Scene scene(starter_design(starter_outline(StraightTang{}), 4, LengthUnit::millimetre));
  const Preview guide = build_guide_preview(lay_out_guide(scene.design, scene.handle));
  scene.view.set_preview(guide, {});
  Camera camera = standard_camera(StandardView::left, false);
  fit(camera, guide, 0, kSize);
  const std::vector<Pixels> seen = find_bodies(scene.draw(camera, flat()), guide.bodies.size());
  const Pixels& plate = seen.front();
  const Vec2 a = *project(camera, guide.low, kSize);
  const Vec2 b = *project(camera, guide.high, kSize);
  CHECK(std::abs(plate.low.x - std::min(a.x, b.x)) <= 1);
  CHECK(std::abs(plate.high.x - std::max(a.x, b.x)) <= 1);
  CHECK(std::abs(plate.low.y - std::min(a.y, b.y)) <= 1);
  CHECK(std::abs(plate.high.y - std::max(a.y, b.y)) <= 1);
  // Through a bore nothing of the guide is seen; the marks of this face are.
  const Picture picture = scene.draw(camera, flat());
  const DrillGuide plan = lay_out_guide(scene.design, scene.handle);
  const Vec2 bore = *project(camera, {plan.bores[0].at, 0}, kSize);
  CHECK(picture.at(static_cast<int>(bore.x), static_cast<int>(bore.y))[3] == 0);
  CHECK(std::count_if(seen.begin() + 1, seen.end(), [](const Pixels& p) { return p.count > 20; }) >= 3);
}
