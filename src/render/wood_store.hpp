// Photos of wood in the graphics memory, and which body each belongs to.
#pragma once

#include <memory>
#include <vector>

#include "gl_objects.hpp"
#include "haftwright/preview/wood_pictures.hpp"

namespace haftwright::render {

class WoodStore {
 public:
  /// Uploads what is not there yet; two bodies out of one photo share it.
  void set(std::vector<WoodPicture> pictures);

  struct Shown {
    const WoodPicture* picture = nullptr;  ///< null: none
    GLuint texture = 0;
  };
  Shown find(const BodyId& body) const;

 private:
  struct Uploaded {
    std::shared_ptr<const WoodPhoto> photo;
    GlTexture texture;
  };
  const Uploaded* uploaded(const std::shared_ptr<const WoodPhoto>& photo) const;

  std::vector<WoodPicture> pictures_;
  std::vector<Uploaded> uploaded_;
};

}  // namespace haftwright::render
