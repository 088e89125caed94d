#include "crown.hpp"

#include <algorithm>

namespace haftwright::geometry {
namespace {

// Nearer to upright than this the crown is taken as at its rim, so that its gradient stays a number.
constexpr double kLeastCosine = 1e-6;

/// How far the crown lies below its crest: R (1 - mu), without a difference and for a flat side too.
double drop(const Contact& contact) {
  return contact.v * contact.nu / (1 + contact.mu);
}

}  // namespace

Crown::Crown(const SurfaceShape& shape)
    : curve_(shape.thickness_mm), base_slope_(shape.base_slope), crest_y_(shape.crest_y_mm) {
  if (shape.crown_radius_mm) inverse_radius_ = 1 / *shape.crown_radius_mm;
}

void Crown::across(double v, Contact& contact) const {
  constexpr double rim = 1 - kLeastCosine * kLeastCosine / 2;
  contact.nu = std::clamp(v * inverse_radius_, -rim, rim);
  contact.mu = std::sqrt(1 - contact.nu * contact.nu);
}

double Crown::stretch_x(double r, const Contact& contact) {
  // A surface bent tighter than the ball folds its offset surface; the bound keeps the steps on one sheet of
  // it.
  return std::max(1 + r * contact.curvature_x * contact.mu / (contact.e * contact.e * contact.e), 0.25);
}

Contact Crown::at(Vec2 p) const {
  Contact at;
  at.x = p.x;
  at.v = p.y - crest_y_;
  across(at.v, at);
  const MonotoneCubic::Local along = curve_.at(p.x);
  at.gx = base_slope_ + along.slope;
  at.curvature_x = along.curvature;
  at.e = std::sqrt(1 + at.gx * at.gx * at.mu * at.mu);
  at.z = base_slope_ * p.x + along.value - drop(at);
  return at;
}

double Crown::settle(double r, Vec2 c, Contact& contact) const {
  const double v = (c.y - crest_y_) / (1 - r * inverse_radius_ / contact.e);
  const double moved_v = v - contact.v;
  contact.v = v;
  across(v, contact);
  const MonotoneCubic::Local along = curve_.at(contact.x);
  contact.gx = base_slope_ + along.slope;
  contact.curvature_x = along.curvature;
  contact.e = std::sqrt(1 + contact.gx * contact.gx * contact.mu * contact.mu);
  const double miss = contact.x + r * contact.gx * contact.mu / contact.e - c.x;
  const double moved_x = -miss / stretch_x(r, contact);
  contact.z = base_slope_ * (contact.x + moved_x) + along.value +
              moved_x * (along.slope + moved_x * along.curvature / 2) - drop(contact);
  contact.x += moved_x;
  contact.gx += along.curvature * moved_x;
  return std::abs(moved_v) + std::abs(moved_x);
}

double Crown::steepest_normal(double y_low, double y_high) const {
  Contact rim;
  across(std::max(std::abs(y_low - crest_y_), std::abs(y_high - crest_y_)), rim);
  const double gx = std::abs(base_slope_) + curve_.steepest();
  return std::sqrt(1 - 1 / (1 / (rim.mu * rim.mu) + gx * gx));
}

}  // namespace haftwright::geometry
