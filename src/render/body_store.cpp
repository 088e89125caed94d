#include "body_store.hpp"

#include <cstddef>
#include <cstring>
#include <limits>

namespace haftwright::render {
namespace {

/// FNV-1a over eight bytes at a time, in four lanes, none of which waits for another's product: only to
/// notice a change.
class Fingerprint {
 public:
  template <class T>
  void add(const std::vector<T>& values) {
    const auto* bytes = reinterpret_cast<const char*>(values.data());
    const std::size_t size = values.size() * sizeof(T);
    add(0, size);
    std::size_t done = 0;
    for (; done + 8 * kLanes <= size; done += 8 * kLanes)
      for (std::size_t lane = 0; lane < kLanes; ++lane) add(lane, word_at(bytes + done + 8 * lane, 8));
    for (; done < size; done += 8) add(0, word_at(bytes + done, std::min<std::size_t>(8, size - done)));
  }
  std::uint64_t value() const {
    std::uint64_t value = 0;
    for (const std::uint64_t lane : lanes_) value = (value ^ lane) * kPrime;
    return value;
  }

 private:
  static constexpr std::size_t kLanes = 4;
  static constexpr std::uint64_t kPrime = 0x100000001B3u;
  static std::uint64_t word_at(const char* bytes, std::size_t count) {
    std::uint64_t word = 0;
    std::memcpy(&word, bytes, count);
    return word;
  }
  void add(std::size_t lane, std::uint64_t word) { lanes_[lane] = (lanes_[lane] ^ word) * kPrime; }
  std::uint64_t lanes_[kLanes] = {0xCBF29CE484222325u, 1, 2, 3};
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

}  // namespace

void describe_vertices() {
  const auto attribute = [](GLuint index, GLint count, std::size_t offset) {
    glEnableVertexAttribArray(index);
    glVertexAttribPointer(index, count, GL_FLOAT, GL_FALSE, sizeof(Vertex),
                          reinterpret_cast<const void*>(offset));
  };
  attribute(0, 3, offsetof(Vertex, position));
  attribute(1, 3, offsetof(Vertex, normal));
  attribute(2, 1, offsetof(Vertex, below));
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
  const BodyBox measured = box_of(body);
  box = {measured.low, measured.high};
}

void StoredBody::update(const Body& body) {
  id = body.id;
  material_ = {
      .id = body.id, .material = body.material, .material_kind = body.material_kind, .colour = body.colour};
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
