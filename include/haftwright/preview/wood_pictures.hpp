// Photos of the very wood that pieces are to be sawn from, laid onto the finished handle.
#pragma once

#include <glm/vec4.hpp>

#include <memory>
#include <optional>
#include <vector>

#include "haftwright/cutting/wood_places.hpp"
#include "haftwright/photos/wood_photo.hpp"
#include "haftwright/preview/meshes.hpp"

namespace haftwright {

/// The picture of one body's wood. Places are those of the handle, not exploded.
struct WoodPicture {
  BodyId body;
  std::shared_ptr<const WoodPhoto> photo;
  /// Where a place (x, y) shows on the picture, as shares of its width from the left and of its height from
  /// the top: dot(across, (x, y, 1)) and dot(down, (x, y, 1)).
  Vec3 across{0, 0, 0};
  Vec3 down{0, 0, 0};
  /// dot(depth, (place, 1)): mm under the face that shows.
  glm::dvec4 depth{0};
  Vec3 mean_light{0, 0, 0};  ///< of what the picture shows of the blank, linear
  GrainFrame grain;          ///< as the wood lies in the offcut
  bool operator==(const WoodPicture& other) const;
};

/// `photo` is of place.shown, `offcut` the one that the place is in. None where the photo shows next to
/// nothing of the blank.
std::optional<WoodPicture> wood_picture(const WoodPlace& place, std::shared_ptr<const WoodPhoto> photo,
                                        const Offcut& offcut);

}  // namespace haftwright
