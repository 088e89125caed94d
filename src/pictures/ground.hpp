// How unlike the ground each pixel is.
#pragma once

#include "haftwright/pictures/photo.hpp"
#include "plane.hpp"

namespace haftwright::pictures {

/// CIE 1976 L*a*b* (CIE 15:2004) of linear sRGB light, white D65.
Vec3 lab_of(Vec3 light);

struct Unlike {
  /// Steps of CIELAB from the ground as it is lit there; its own shadow counts little.
  Plane distance;
  double ground_noise = 0;  ///< what the ground itself reaches, 98 of 100 pixels
};
/// The ground is what most of the picture's rim shows. Its light may change slowly over the picture.
Unlike unlike_ground(const Photo& photo);

}  // namespace haftwright::pictures
