#include "body_store.hpp"

#include <cstddef>
#include <cstring>
#include <limits>

namespace haftwright::render {
namespace {

/// FNV-1a over eight bytes at a time: only to notice a change.
class Fingerprint {
 public:
  template <class T>
  void add(const std::vector<T>& values) {
    const auto* bytes = reinterpret_cast<const char*>(values.data());
    const std::size_t size = values.size() * sizeof(T);
    add(size);
    for (std::size_t i = 0; i < size; i += 8) {
      std::uint64_t word = 0;
      std::memcpy(&word, bytes + i, std::min<std::size_t>(8, size - i));
      add(word);
    }
  }
  std::uint64_t value() const { return value_; }

 private:
  void add(std::uint64_t word) { value_ = (value_ ^ word) * 0x100000001B3u; }
  std::uint64_t value_ = 0xCBF29CE484222325u;
};

std::uint64_t fingerprint(const Body& body) {
  Fingerprint print;
  print.add(body.vertices);
  print.add(body.triangles);
  return print.value();
}

template <class T>
void fill(GLenum target, const GlBuffer& buffer, const std::vector<T>& values) {
  glBindBuffer(target, buffer.get());
  glBufferData(target, static_cast<GLsizeiptr>(values.size() * sizeof(T)), values.data(), GL_DYNAMIC_DRAW);
}

Box box_of(const Body& body) {
  Box box{Vec3(std::numeric_limits<double>::infinity()), Vec3(-std::numeric_limits<double>::infinity())};
  for (const Vertex& vertex : body.vertices) {
    const Vec3 p(vertex.position[0], vertex.position[1], vertex.position[2]);
    box.low = glm::min(box.low, p);
    box.high = glm::max(box.high, p);
  }
  return box;
}

}  // namespace

void describe_vertices() {
  const auto attribute = [](GLuint index, std::size_t offset) {
    glEnableVertexAttribArray(index);
    glVertexAttribPointer(index, 3, GL_FLOAT, GL_FALSE, sizeof(Vertex),
                          reinterpret_cast<const void*>(offset));
  };
  attribute(0, offsetof(Vertex, position));
  attribute(1, offsetof(Vertex, normal));
}

StoredBody::StoredBody(const Body& body)
    : array_(new_vertex_array()), vertices_(new_buffer()), indices_(new_buffer()) {
  glBindVertexArray(array_.get());
  upload(body);
  describe_vertices();
  fingerprint_ = fingerprint(body);
  update(body);
}

void StoredBody::upload(const Body& body) {
  fill(GL_ARRAY_BUFFER, vertices_, body.vertices);
  fill(GL_ELEMENT_ARRAY_BUFFER, indices_, body.triangles);
  count_ = static_cast<GLsizei>(body.triangles.size());
  box = box_of(body);
}

void StoredBody::update(const Body& body) {
  id = body.id;
  look = look_of(body);
  colour = linear(body.colour);
  grain = body.grain;
  apart = body.apart;
  const std::uint64_t now = fingerprint(body);
  if (now == fingerprint_) return;
  fingerprint_ = now;
  glBindVertexArray(array_.get());
  upload(body);
}

void StoredBody::draw() const {
  glBindVertexArray(array_.get());
  glDrawElements(GL_TRIANGLES, count_, GL_UNSIGNED_INT, nullptr);
}

void BodyStore::set(const Preview& preview) {
  // Bodies keep their order from one edit to the next, so that the place in the list tells which is which.
  while (bodies_.size() > preview.bodies.size()) bodies_.pop_back();
  for (std::size_t i = 0; i < preview.bodies.size(); ++i) {
    if (i < bodies_.size())
      bodies_[i].update(preview.bodies[i]);
    else
      bodies_.emplace_back(preview.bodies[i]);
  }
  glBindVertexArray(0);
}

Box BodyStore::box(double exploded) const {
  Box all{Vec3(std::numeric_limits<double>::infinity()), Vec3(-std::numeric_limits<double>::infinity())};
  for (const StoredBody& body : bodies_) {
    all.low = glm::min(all.low, body.box.low + body.apart * exploded);
    all.high = glm::max(all.high, body.box.high + body.apart * exploded);
  }
  return bodies_.empty() ? Box{} : all;
}

}  // namespace haftwright::render
