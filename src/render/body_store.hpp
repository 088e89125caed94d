// The bodies of a Preview in the graphics memory.
#pragma once

#include <cstdint>
#include <vector>

#include "gl_objects.hpp"
#include "looks.hpp"
#include "view_frame.hpp"

namespace haftwright::render {

class StoredBody {
 public:
  explicit StoredBody(const Body& body);
  /// Takes over what has changed.
  void update(const Body& body);
  void draw() const;

  /// As `look`, of wood whose colour a photo tells.
  Look look_in(Vec3 wood_colour) const { return look_of(material_, wood_colour); }

  BodyId id;
  Look look;
  Vec3 colour{0, 0, 0};  ///< linear
  GrainFrame grain;
  Vec3 apart{0, 0, 0};
  Box box;  ///< not exploded

 private:
  void upload(const Body& body);

  Body material_;  ///< without its triangles
  std::uint64_t fingerprint_ = 0;
  GLsizei count_ = 0;
  GlVertexArray array_;
  GlBuffer vertices_;
  GlBuffer indices_;
};

class BodyStore {
 public:
  void set(const Preview& preview);
  const std::vector<StoredBody>& bodies() const { return bodies_; }
  /// All bodies, exploded by a share.
  Box box(double exploded) const;

 private:
  std::vector<StoredBody> bodies_;
};

/// Vertex::below on the face of a section: how deep it lies in the wood tells body.vert.glsl.
inline constexpr float kCutFace = -1;

/// Describes the layout of Vertex to the bound vertex array and buffer.
void describe_vertices();

}  // namespace haftwright::render
