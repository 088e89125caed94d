#include "wood_store.hpp"

#include <algorithm>
#include <cstdint>

namespace haftwright::render {
namespace {

/// Rows from the top, as the picture has them: the texture's t runs down.
std::vector<std::uint8_t> with_alpha(const ThingPhoto& thing) {
  std::vector<std::uint8_t> rgba;
  rgba.reserve(4 * thing.shown.size());
  for (std::size_t i = 0; i < thing.shown.size(); ++i) {
    rgba.insert(rgba.end(), {thing.photo.rgb[3 * i], thing.photo.rgb[3 * i + 1], thing.photo.rgb[3 * i + 2],
                             thing.shown[i]});
  }
  return rgba;
}

/// Decoded to linear light before it is filtered. None where it is larger than the system takes; all that
/// are known offer 8192 pixels a side (from memory), twice what a wood's picture has.
GlTexture upload(const ThingPhoto& thing) {
  GLint most = 0;
  glGetIntegerv(GL_MAX_TEXTURE_SIZE, &most);
  if (thing.photo.width_px > most || thing.photo.height_px > most) return {};
  GlTexture texture = new_texture();
  glBindTexture(GL_TEXTURE_2D, texture.get());
  glTexImage2D(GL_TEXTURE_2D, 0, GL_SRGB8_ALPHA8, thing.photo.width_px, thing.photo.height_px, 0, GL_RGBA,
               GL_UNSIGNED_BYTE, with_alpha(thing).data());
  glTexParameteri(GL_TEXTURE_2D, GL_TEXTURE_MIN_FILTER, GL_LINEAR_MIPMAP_LINEAR);
  glTexParameteri(GL_TEXTURE_2D, GL_TEXTURE_MAG_FILTER, GL_LINEAR);
  // Its rim shows nothing, and goes on so.
  glTexParameteri(GL_TEXTURE_2D, GL_TEXTURE_WRAP_S, GL_CLAMP_TO_EDGE);
  glTexParameteri(GL_TEXTURE_2D, GL_TEXTURE_WRAP_T, GL_CLAMP_TO_EDGE);
  glGenerateMipmap(GL_TEXTURE_2D);
  return texture;
}

}  // namespace

const WoodStore::Uploaded* WoodStore::uploaded(const std::shared_ptr<const WoodPhoto>& photo) const {
  const auto found = std::ranges::find(uploaded_, photo, &Uploaded::photo);
  return found == uploaded_.end() ? nullptr : &*found;
}

void WoodStore::set(std::vector<WoodPicture> pictures) {
  pictures_ = std::move(pictures);
  std::erase_if(uploaded_, [&](const Uploaded& have) {
    return std::ranges::find(pictures_, have.photo, &WoodPicture::photo) == pictures_.end();
  });
  for (const WoodPicture& picture : pictures_)
    if (!uploaded(picture.photo)) uploaded_.push_back({picture.photo, upload(picture.photo->picture)});
}

WoodStore::Shown WoodStore::find(const BodyId& body) const {
  const auto found = std::ranges::find(pictures_, body, &WoodPicture::body);
  if (found == pictures_.end()) return {};
  const GLuint texture = uploaded(found->photo)->texture.get();
  return texture == 0 ? Shown{} : Shown{&*found, texture};
}

}  // namespace haftwright::render
