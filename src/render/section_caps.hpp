// The cut faces of a section: where a plane goes through closed bodies, told by counting their faces in the
// stencil.
#pragma once

#include <functional>

#include "shadows.hpp"

namespace haftwright::render {

class SectionCaps {
 public:
  SectionCaps();
  /// For every body that `wanted` says and the plane cuts: prepare(body) sets up its program (the section's
  /// clipping off), then its cut face is drawn. The bound framebuffer needs a cleared stencil and the bodies'
  /// depth.
  void draw(const SceneParts& scene, const std::function<bool(const StoredBody&)>& wanted,
            const std::function<void(const StoredBody&)>& prepare);

 private:
  void count_faces(const SceneParts& scene, const StoredBody& body);
  void lay_plane(const SectionPlane& plane, const Box& box);

  Program program_;
  GlVertexArray array_;
  GlBuffer corners_;
};

}  // namespace haftwright::render
