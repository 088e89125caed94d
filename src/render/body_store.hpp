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

  BodyId id;
  Look look;
  Vec3 colour{0, 0, 0};  ///< linear
  GrainFrame grain;
  Vec3 apart{0, 0, 0};
  Box box;  ///< not exploded

 private:
  void upload(const Body& body);

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

/// Describes the layout of Vertex to the bound vertex array and buffer.
void describe_vertices();

}  // namespace haftwright::render
