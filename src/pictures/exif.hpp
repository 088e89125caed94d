// The few tags that matter of the Exif block in a picture.
#pragma once

#include <optional>

#include "decode.hpp"

namespace haftwright::pictures {

/// Takes orientation, resolution and focal length from a TIFF structure (Exif 2.3, 4.5: what follows
/// "Exif\0\0" in a JPEG, a PNG's chunk eXIf). Reads at most two directories of 512 entries and nothing
/// outside the block; what is damaged is left out.
void take_exif(Bytes tiff, Stated& stated);

}  // namespace haftwright::pictures
