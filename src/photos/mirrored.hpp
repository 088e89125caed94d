// Pictures seen as in a mirror.
#pragma once

#include "haftwright/pictures/photo.hpp"

namespace haftwright::photos {

/// Left and right changed about.
Photo mirrored(Photo photo);

}  // namespace haftwright::photos
