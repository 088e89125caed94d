#include "photo_textures.hpp"

#include <epoxy/gl.h>

#include <cstdint>

namespace haftwright::app {
namespace {

unsigned made_of(const Photo& photo) {
  GLint bound = 0;
  glGetIntegerv(GL_TEXTURE_BINDING_2D, &bound);
  GLuint texture = 0;
  glGenTextures(1, &texture);
  glBindTexture(GL_TEXTURE_2D, texture);
  glTexParameteri(GL_TEXTURE_2D, GL_TEXTURE_MIN_FILTER, GL_LINEAR_MIPMAP_LINEAR);
  glTexParameteri(GL_TEXTURE_2D, GL_TEXTURE_MAG_FILTER, GL_LINEAR);
  glTexParameteri(GL_TEXTURE_2D, GL_TEXTURE_WRAP_S, GL_CLAMP_TO_EDGE);
  glTexParameteri(GL_TEXTURE_2D, GL_TEXTURE_WRAP_T, GL_CLAMP_TO_EDGE);
  glPixelStorei(GL_UNPACK_ALIGNMENT, 1);
  glTexImage2D(GL_TEXTURE_2D, 0, GL_RGB8, photo.width_px, photo.height_px, 0, GL_RGB, GL_UNSIGNED_BYTE,
               photo.rgb.data());
  glPixelStorei(GL_UNPACK_ALIGNMENT, 4);
  glGenerateMipmap(GL_TEXTURE_2D);
  glBindTexture(GL_TEXTURE_2D, static_cast<GLuint>(bound));
  return texture;
}

}  // namespace

PhotoTextures::~PhotoTextures() {
  for (const auto& [face, shown] : shown_) glDeleteTextures(1, &shown.texture);
}

Ground PhotoTextures::ground(const std::shared_ptr<const SquaredFace>& face) {
  if (!face) return {};
  Shown& shown = shown_[face];
  if (shown.texture == 0) shown.texture = made_of(face->photo);
  shown.used = true;
  // Dear ImGui's back end for OpenGL takes names of textures in place of pointers.
  return {reinterpret_cast<ImTextureID>(static_cast<std::uintptr_t>(shown.texture)), face->box_mm};
}

void PhotoTextures::forget_unused() {
  for (auto at = shown_.begin(); at != shown_.end();) {
    if (!at->second.used) {
      glDeleteTextures(1, &at->second.texture);
      at = shown_.erase(at);
      continue;
    }
    at->second.used = false;
    ++at;
  }
}

}  // namespace haftwright::app
