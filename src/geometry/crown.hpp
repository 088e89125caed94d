// The crown of one side as a surface in space: G(x, y) = base_slope x + thickness(x) - drop(y).
//
// Everything is written with nu = (y - crest) / R and mu = sqrt(1 - nu^2), the sine and cosine of the crown's
// own slope, so that the flat side (1 / R = 0) and the place where a crown stands upright (mu = 0) need no
// case of their own: the upward unit normal is (-gx mu, nu, mu) / E with E = sqrt(1 + (gx mu)^2).
#pragma once

#include <cmath>

#include "haftwright/geometry/height_field.hpp"

namespace haftwright::geometry {

/// Where a ball that lies below the surface touches it, while it is being found.
struct Contact {
  double x = 0;
  double v = 0;  ///< y - crest
  double z = 0;
  double gx = 0;
  double curvature_x = 0;
  double nu = 0;
  double mu = 1;
  double e = 1;

  Vec2 gradient() const { return {gx, -nu / mu}; }
  /// Plan part of the unit normal.
  Vec2 normal() const { return {-gx * mu / e, nu / e}; }
};

class Crown {
 public:
  explicit Crown(const SurfaceShape& shape);

  double base_slope() const { return base_slope_; }

  /// The surface at a plan point, in space.
  Contact at(Vec2 p) const;
  /// One Newton step toward the place q where a ball of radius r with its centre at plan place c touches the
  /// surface from below: q + r (plan part of -normal(q)) = c. Returns the length of the step.
  double settle(double r, Vec2 c, Contact& contact) const;
  /// Second derivatives along x and y (there is no mixed one).
  Vec2 bend(const Contact& contact) const {
    return {contact.curvature_x, -inverse_radius_ / (contact.mu * contact.mu * contact.mu)};
  }
  /// Plan vector from c to the place of contact.
  Vec2 offset(const Contact& contact, Vec2 c) const { return {contact.x - c.x, contact.v + crest_y_ - c.y}; }
  /// How much faster a ball of radius r below moves than its place of contact, along x and along y.
  Vec2 stretch(double r, const Contact& contact) const {
    return {stretch_x(r, contact), 1 - r * inverse_radius_ / contact.e};
  }
  /// Upper bound of |normal()| over y_low to y_high.
  double steepest_normal(double y_low, double y_high) const;

 private:
  static double stretch_x(double r, const Contact& contact);
  void across(double v, Contact& contact) const;

  MonotoneCubic curve_;
  double base_slope_ = 0;
  double crest_y_ = 0;
  double inverse_radius_ = 0;  // 0: flat across
};

}  // namespace haftwright::geometry
