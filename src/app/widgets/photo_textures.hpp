// Photos as textures of the window: made when one is first shown, given back when it is no longer.
#pragma once

#include <imgui.h>

#include <map>
#include <memory>

#include "haftwright/photos/squared.hpp"

namespace haftwright::app {

/// A picture that stands in for the natural colour of a drawing's areas.
struct Ground {
  ImTextureID texture = nullptr;
  Bounds box_mm;  ///< of the drawing, that the picture shows
};

class PhotoTextures {
 public:
  PhotoTextures() = default;
  PhotoTextures(const PhotoTextures&) = delete;
  PhotoTextures& operator=(const PhotoTextures&) = delete;
  ~PhotoTextures();

  /// Needs the window's GL context. Stays good until forget_unused() has been called twice since.
  Ground ground(const std::shared_ptr<const SquaredFace>& face);
  /// Once a frame: gives back what was not asked for since the last time.
  void forget_unused();

 private:
  struct Shown {
    unsigned texture = 0;
    bool used = true;
  };
  std::map<std::shared_ptr<const SquaredFace>, Shown> shown_;
};

}  // namespace haftwright::app
