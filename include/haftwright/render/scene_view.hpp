// Draws the finished handle with OpenGL 3.3. No GL type shows here.
//
// Every function wants the GL context that was current when the SceneView was made. In a window: make one
// SceneView, give it a Preview whenever the design has changed, draw when anything has changed, and show
// texture(). Without a window see offscreen.hpp.
#pragma once

#include <memory>
#include <optional>
#include <stdexcept>
#include <vector>

#include "haftwright/preview/meshes.hpp"
#include "haftwright/preview/mismatch.hpp"
#include "haftwright/preview/wood_pictures.hpp"
#include "haftwright/render/camera.hpp"
#include "haftwright/render/picture.hpp"

namespace haftwright {

/// The graphics system can't do what is asked of it; what() says what is missing and what would help.
class RenderError : public std::runtime_error {
 public:
  using std::runtime_error::runtime_error;
};

enum class Backdrop { light, dark, clear };  ///< clear: transparent
enum class SceneMode {
  materials,   ///< as it will look
  ghost_wood,  ///< pieces as if of glass, to see the pins, liners and the tang
  mismatch,    ///< the right side mirrored onto the left, steps in joint lines marked
  albedo,      ///< the materials' own colours, without light
  flat_ids,    ///< each body in flat_id_colour(), no light, backdrop or blur: to see what is where
};

/// What lies in front of the plane dot(normal, p) = offset_mm (p before any explosion) is cut away, and the
/// cut faces are filled.
struct SectionPlane {
  Vec3 normal{0, 0, 1};  ///< unit, toward what is cut away
  double offset_mm = 0;
};

struct SceneOptions {
  SceneMode mode = SceneMode::materials;
  Backdrop backdrop = Backdrop::light;
  double exploded = 0;  ///< 0 to 1
  std::optional<SectionPlane> section;
  bool shadow = true;             ///< soft contact shadow on the ground; not with the mismatch view
  std::vector<BodyId> highlight;  ///< tinted
  double step_limit_mm = 0.1;     ///< mismatch view: steps over this are marked as failing
};

/// Rows of a picture, counted from its bottom.
struct PictureRows {
  int bottom = 0;
  int height = 0;
};

class SceneView {
 public:
  /// There must be a current context. Throws RenderError when it can't do OpenGL 3.3 core.
  SceneView();
  ~SceneView();
  SceneView(SceneView&&) noexcept;
  SceneView& operator=(SceneView&&) noexcept;

  /// Uploads the bodies; those whose triangles have not changed since the last call are left as they are.
  void set_preview(const Preview& preview, std::vector<LinePair> joint_lines);
  /// Photos of the wood of pieces, one a body at most, until the next call; bodies without one look like
  /// their material. Only photos that were not there before are uploaded.
  void set_woods(std::vector<WoodPicture> woods);
  /// Draws into a framebuffer of this view's own, 4 samples a pixel where the system has them.
  void draw(const Camera& camera, const SceneOptions& options, PictureSize size);
  /// Only these rows of the same drawing: what a large picture is put together from in little memory.
  /// `bottom` is even; a few pixels on rims differ by rounding.
  void draw_rows(const Camera& camera, const SceneOptions& options, PictureSize size, PictureRows rows);
  /// The last drawing as a GL texture name (RGBA, alpha premultiplied, row 0 at the bottom); 0 before the
  /// first. The caller's framebuffer, viewport and program are as before the call to draw().
  unsigned int texture() const;
  /// The last drawing.
  Picture read() const;
  /// The body that the last drawing's camera and options show at a pixel (from the top left).
  std::optional<BodyId> body_at(int x, int y);

  struct Impl;

 private:
  std::unique_ptr<Impl> impl_;
};

/// The flat colour of body `index` of a Preview in SceneMode::flat_ids; no two are alike, none is a backdrop.
std::array<std::uint8_t, 3> flat_id_colour(std::size_t index);

}  // namespace haftwright
