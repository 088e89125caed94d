#include "haftwright/render/scene_view.hpp"

#include <algorithm>
#include <glm/gtc/matrix_transform.hpp>

#include "mismatch_marks.hpp"
#include "scene_programs.hpp"
#include "section_caps.hpp"

namespace haftwright {

using namespace render;
namespace {

constexpr int kSamples = 4;
constexpr int kLargestSide = 16384;
/// The right side's colour where it stands out behind the left one in the mismatch view (premultiplied).
constexpr glm::dvec4 kStandsOut{0.60, 0.36, 0.05, 0.65};

void require_context() {
  if (epoxy_is_desktop_gl() && epoxy_gl_version() >= 33) return;
  throw RenderError("the graphics driver does not offer OpenGL 3.3");
}

struct BackdropColours {
  Vec3 middle;
  Vec3 rim;
};
BackdropColours backdrop_colours(Backdrop backdrop) {
  if (backdrop == Backdrop::dark) return {{0.215, 0.225, 0.240}, {0.105, 0.110, 0.120}};
  return {{0.965, 0.960, 0.950}, {0.840, 0.832, 0.820}};
}

bool is_piece(const StoredBody& body) {
  return body.id.kind == BodyKind::piece;
}
/// Belongs to the right side alone.
bool is_right(const StoredBody& body) {
  return body.id.kind != BodyKind::tang && body.id.kind != BodyKind::pin && body.id.side == Which::right;
}

}  // namespace

std::array<std::uint8_t, 3> flat_id_colour(std::size_t index) {
  // An odd factor makes every 24-bit number another one: neighbours get colours far apart, none twice.
  const auto code = static_cast<std::uint32_t>((index + 1) * 0x9E3779B1u) & 0xffffffu;
  return {static_cast<std::uint8_t>(code >> 16), static_cast<std::uint8_t>(code >> 8 & 0xff),
          static_cast<std::uint8_t>(code & 0xff)};
}

struct SceneView::Impl {
  BodyStore store;
  WoodStore woods;
  std::vector<LinePair> joint_lines;
  ScenePrograms programs;
  KeyShadow key_shadow;
  GroundShadow ground_shadow;
  SectionCaps caps;
  MarkPainter marks;
  Program backdrop{{"screen.vert.glsl"}, {"noise.glsl", "backdrop.frag.glsl"}};
  GlVertexArray nothing = new_vertex_array();
  Canvas canvas;  // several samples
  Canvas result;  // one, as a texture
  Canvas ids;     // for body_at
  bool ids_stale = true;
  Camera camera;
  SceneOptions options;
  PictureSize size{0, 0};
  PictureRows rows;  // of `size`

  SceneParts scene(const ViewFrame& frame, const Box& box) const {
    return {store, woods, options, frame, box};
  }
  Box box() const { return store.box(options.exploded); }

  std::vector<const StoredBody*> nearest_first(const SceneParts& scene) const;
  void paint_backdrop();
  void draw_materials(const SceneParts& scene);
  void draw_ghosts(const SceneParts& scene);
  void draw_mismatch(const SceneParts& scene);
  void draw_ids(const SceneParts& scene, const Canvas& target);
  void draw_scene();
  Picture read(const Canvas& from) const;
};

void SceneView::Impl::paint_backdrop() {
  glClearColor(0, 0, 0, 0);
  glClear(GL_COLOR_BUFFER_BIT | GL_DEPTH_BUFFER_BIT | GL_STENCIL_BUFFER_BIT);
  if (options.backdrop == Backdrop::clear) return;
  const BackdropColours colours = backdrop_colours(options.backdrop);
  glDisable(GL_DEPTH_TEST);
  backdrop.use();
  backdrop.set("middle", colours.middle);
  backdrop.set("rim", colours.rim);
  backdrop.set("aspect", static_cast<float>(size.aspect()));
  glBindVertexArray(nothing.get());
  glDrawArrays(GL_TRIANGLES, 0, 3);
}

std::vector<const StoredBody*> SceneView::Impl::nearest_first(const SceneParts& scene) const {
  std::vector<std::pair<double, const StoredBody*>> by_distance;
  for (const StoredBody& body : store.bodies())
    by_distance.emplace_back(
        glm::distance(scene.frame.eye, body.box.middle() + body.apart * scene.options.exploded), &body);
  std::sort(by_distance.begin(), by_distance.end());
  std::vector<const StoredBody*> sorted;
  for (const auto& [distance, body] : by_distance) sorted.push_back(body);
  return sorted;
}

void SceneView::Impl::draw_materials(const SceneParts& scene) {
  const bool ghosts = options.mode == SceneMode::ghost_wood;
  const auto solid = [&](const StoredBody& body) { return !ghosts || !is_piece(body); };
  const bool shadow = options.shadow && options.mode != SceneMode::albedo;
  if (shadow) key_shadow.draw(scene, std::max(size.width, size.height) > 1000 ? 2048 : 1024);
  canvas.bind();
  paint_backdrop();
  if (shadow) {
    ground_shadow.draw(scene, canvas, options.backdrop == Backdrop::dark ? 1.0 : 0.85);
    glDisable(GL_BLEND);
  }
  // Glass lets the light through: what is behind it is not in its shadow.
  programs.begin(scene, shadow && !ghosts ? &key_shadow : nullptr);
  glEnable(GL_DEPTH_TEST);
  if (options.section) glEnable(GL_CLIP_DISTANCE0);
  // Nearest first, and only what looks this way: a wooden pixel is dear, and most would be painted over. A
  // cut is closed, so that no inside is ever seen.
  glEnable(GL_CULL_FACE);
  glCullFace(GL_BACK);
  for (const StoredBody* body : nearest_first(scene)) {
    if (!solid(*body)) continue;
    programs.use_material(scene, *body);
    body->draw();
  }
  glDisable(GL_CULL_FACE);
  glDisable(GL_CLIP_DISTANCE0);
  caps.draw(scene, solid, [&](const StoredBody& body) { programs.use_material(scene, body); });
  if (ghosts) draw_ghosts(scene);
}

void SceneView::Impl::draw_ghosts(const SceneParts& scene) {
  glEnable(GL_BLEND);
  glBlendFunc(GL_ONE, GL_ONE_MINUS_SRC_ALPHA);
  glDepthMask(GL_FALSE);
  glEnable(GL_CULL_FACE);
  // Where glass lies against something solid the solid one is seen.
  glEnable(GL_POLYGON_OFFSET_FILL);
  glPolygonOffset(1, 4);
  if (options.section) glEnable(GL_CLIP_DISTANCE0);
  for (const GLenum hidden : {GLenum{GL_FRONT}, GLenum{GL_BACK}}) {  // far walls first
    glCullFace(hidden);
    for (const StoredBody& body : store.bodies()) {
      if (!is_piece(body)) continue;
      programs.use_ghost(scene, body);
      body.draw();
    }
  }
  glDisable(GL_POLYGON_OFFSET_FILL);
  glDisable(GL_CLIP_DISTANCE0);
  glDisable(GL_CULL_FACE);
  glDepthMask(GL_TRUE);
  glDisable(GL_BLEND);
}

void SceneView::Impl::draw_mismatch(const SceneParts& scene) {
  canvas.bind();
  paint_backdrop();
  programs.begin(scene, nullptr);
  glEnable(GL_DEPTH_TEST);
  if (options.section) glEnable(GL_CLIP_DISTANCE0);
  for (const StoredBody& body : store.bodies()) {
    if (is_right(body)) continue;
    programs.use_matte(scene, body);
    body.draw();
  }
  // Drawn a little behind, so that it shows only where it stands out.
  glEnable(GL_BLEND);
  glBlendFunc(GL_ONE, GL_ONE_MINUS_SRC_ALPHA);
  glEnable(GL_POLYGON_OFFSET_FILL);
  glPolygonOffset(2, 8);
  const glm::dmat4 mirrored = scene.frame.to_clip * glm::scale(glm::dmat4(1), Vec3{1, 1, -1});
  for (const StoredBody& body : store.bodies()) {
    if (!is_right(body)) continue;
    programs.use_flat(scene, body, mirrored, kStandsOut);
    body.draw();
  }
  glDisable(GL_POLYGON_OFFSET_FILL);
  glDisable(GL_CLIP_DISTANCE0);
  const Marks made = make_marks(joint_lines, camera, size, options.step_limit_mm);
  glDepthMask(GL_FALSE);
  marks.draw(made.lines, scene.frame.to_clip);
  glDisable(GL_DEPTH_TEST);
  marks.draw(made.ends, scene.frame.to_clip);
  glDepthMask(GL_TRUE);
  glDisable(GL_BLEND);
}

void SceneView::Impl::draw_ids(const SceneParts& scene, const Canvas& target) {
  target.bind();
  glClearColor(0, 0, 0, 0);
  glClear(GL_COLOR_BUFFER_BIT | GL_DEPTH_BUFFER_BIT | GL_STENCIL_BUFFER_BIT);
  glEnable(GL_DEPTH_TEST);
  if (options.section) glEnable(GL_CLIP_DISTANCE0);
  const auto shown = [&](const StoredBody& body) {
    return options.mode != SceneMode::mismatch || !is_right(body);
  };
  const auto prepare = [&](const StoredBody& body) {
    const auto colour = flat_id_colour(static_cast<std::size_t>(&body - store.bodies().data()));
    programs.use_flat(scene, body, scene.frame.to_clip,
                      {colour[0] / 255.0, colour[1] / 255.0, colour[2] / 255.0, 1});
  };
  for (const StoredBody& body : store.bodies()) {
    if (!shown(body)) continue;
    prepare(body);
    body.draw();
  }
  glDisable(GL_CLIP_DISTANCE0);
  caps.draw(scene, shown, prepare);
}

void SceneView::Impl::draw_scene() {
  const Box bounds = box();
  const ViewFrame frame = make_frame(camera, size, bounds);
  const SceneParts parts = scene(frame, bounds);
  result.fit(size.width, rows.height, {});
  result.show_rows_of(size.height, rows.bottom);
  if (options.mode == SceneMode::flat_ids) {
    draw_ids(parts, result);
    return;
  }
  canvas.fit(size.width, rows.height, {.samples = kSamples});
  canvas.show_rows_of(size.height, rows.bottom);
  if (options.mode == SceneMode::mismatch)
    draw_mismatch(parts);
  else
    draw_materials(parts);
  glBindFramebuffer(GL_READ_FRAMEBUFFER, canvas.framebuffer());
  glBindFramebuffer(GL_DRAW_FRAMEBUFFER, result.framebuffer());
  glBlitFramebuffer(0, 0, size.width, rows.height, 0, 0, size.width, rows.height, GL_COLOR_BUFFER_BIT,
                    GL_NEAREST);
}

/// Rows turned round, colours no longer multiplied by alpha.
Picture SceneView::Impl::read(const Canvas& from) const {
  Picture picture{from.width(), from.height(), {}};
  const auto row = static_cast<std::size_t>(picture.width) * 4;
  std::vector<std::uint8_t> bottom_up(row * static_cast<std::size_t>(picture.height));
  glBindFramebuffer(GL_READ_FRAMEBUFFER, from.framebuffer());
  glPixelStorei(GL_PACK_ALIGNMENT, 4);
  glReadPixels(0, 0, picture.width, picture.height, GL_RGBA, GL_UNSIGNED_BYTE, bottom_up.data());
  picture.rgba.reserve(bottom_up.size());
  for (std::size_t y = static_cast<std::size_t>(picture.height); y-- > 0;)
    picture.rgba.insert(picture.rgba.end(), bottom_up.begin() + static_cast<std::ptrdiff_t>(y * row),
                        bottom_up.begin() + static_cast<std::ptrdiff_t>((y + 1) * row));
  for (std::size_t i = 0; i < picture.rgba.size(); i += 4) {
    const unsigned alpha = picture.rgba[i + 3];
    if (alpha == 0 || alpha == 255) continue;
    for (std::size_t k = i; k < i + 3; ++k)
      picture.rgba[k] =
          static_cast<std::uint8_t>(std::min(255u, (picture.rgba[k] * 255u + alpha / 2) / alpha));
  }
  return picture;
}

SceneView::SceneView() {
  require_context();
  const StateKeeper keep;
  impl_ = std::make_unique<Impl>();
}
SceneView::~SceneView() = default;
SceneView::SceneView(SceneView&&) noexcept = default;
SceneView& SceneView::operator=(SceneView&&) noexcept = default;

void SceneView::set_preview(const Preview& preview, std::vector<LinePair> joint_lines) {
  const StateKeeper keep;
  impl_->store.set(preview);
  impl_->joint_lines = std::move(joint_lines);
  impl_->ids_stale = true;
}

void SceneView::set_woods(std::vector<WoodPicture> woods) {
  const StateKeeper keep;
  impl_->woods.set(std::move(woods));
}

void SceneView::draw(const Camera& camera, const SceneOptions& options, PictureSize size) {
  draw_rows(camera, options, size, {0, size.height});
}

void SceneView::draw_rows(const Camera& camera, const SceneOptions& options, PictureSize size,
                          PictureRows rows) {
  if (size.width < 1 || size.height < 1 || size.width > kLargestSide || size.height > kLargestSide)
    throw RenderError("a picture must be 1 to " + std::to_string(kLargestSide) + " pixels wide and high");
  if (rows.bottom < 0 || rows.height < 1 || rows.bottom > size.height - rows.height)
    throw RenderError("these rows do not lie in the picture");
  const StateKeeper keep;
  impl_->camera = camera;
  impl_->options = options;
  if (options.mode == SceneMode::mismatch) impl_->options.exploded = 0;
  impl_->size = size;
  impl_->rows = rows;
  impl_->ids_stale = true;
  impl_->draw_scene();
}

unsigned int SceneView::texture() const {
  return impl_->result.texture();
}

Picture SceneView::read() const {
  const StateKeeper keep;
  return impl_->result.framebuffer() == 0 ? Picture{} : impl_->read(impl_->result);
}

std::optional<BodyId> SceneView::body_at(int x, int y) {
  Impl& impl = *impl_;
  if (x < 0 || y < 0 || x >= impl.size.width || y >= impl.size.height) return std::nullopt;
  const StateKeeper keep;
  if (impl.ids_stale) {
    const Box bounds = impl.box();
    const ViewFrame frame = make_frame(impl.camera, impl.size, bounds);
    impl.ids.fit(impl.size.width, impl.size.height, {});
    impl.draw_ids(impl.scene(frame, bounds), impl.ids);
    impl.ids_stale = false;
  }
  std::array<std::uint8_t, 4> pixel{};
  glBindFramebuffer(GL_READ_FRAMEBUFFER, impl.ids.framebuffer());
  glReadPixels(x, impl.size.height - 1 - y, 1, 1, GL_RGBA, GL_UNSIGNED_BYTE, pixel.data());
  const std::vector<StoredBody>& bodies = impl.store.bodies();
  for (std::size_t i = 0; i < bodies.size(); ++i)
    if (flat_id_colour(i) == std::array{pixel[0], pixel[1], pixel[2]}) return bodies[i].id;
  return std::nullopt;
}

}  // namespace haftwright
