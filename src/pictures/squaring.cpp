#include <algorithm>
#include <cmath>
#include <stdexcept>

#include "squaring_impl.hpp"

namespace haftwright {

using namespace pictures;

namespace {

// The middle of the lens may stand beside the middle of the picture by this share of the camera's height:
// shifted for sharp pictures by hand, cut to shape. From own judgement.
constexpr double kCentreShare = 0.02;

double farthest(const std::vector<Squaring::Impl::Map>& others, Vec2 px, Vec2 mm) {
  double most = 0;
  for (const auto& other : others) most = std::max(most, glm::distance(other.to_mm(px), mm));
  return most;
}

}  // namespace

Vec2 Lens::straightened(Vec2 px) const {
  const Vec2 r = (px - centre_px) / unit_px;
  return centre_px + (px - centre_px) / (1 + k1 * glm::dot(r, r));
}

Vec2 Lens::bowed(Vec2 straight_px) const {
  const Vec2 r = (straight_px - centre_px) / unit_px;
  // The root of k1 s r^2 - r + s = 0 that is s for k1 = 0.
  const double under = std::max(0.0, 1 - 4 * k1 * glm::dot(r, r));
  return centre_px + (straight_px - centre_px) * (2 / (1 + std::sqrt(under)));
}

Vec2 Squaring::to_mm(Vec2 px) const {
  return impl_->map.to_mm(px);
}
Vec2 Squaring::to_px(Vec2 mm) const {
  return impl_->map.to_px(mm);
}

PlaceBound Squaring::bound(Vec2 mm) const {
  const Impl& own = *impl_;
  const Vec2 px = to_px(mm);
  PlaceBound bound;
  bound.size_mm = own.size_error_share * glm::distance(mm, own.middle_mm);
  bound.lens_mm = farthest(own.other_lenses, px, mm);
  if (own.fit) {
    const Vec2 plane = own.map.on_plane(mm);
    const auto [dx, dy] = own.map.to_straight.derivatives(plane);
    // The least stretch from plane to picture is the largest from picture to plane.
    const double sum = glm::dot(dx, dx) + glm::dot(dy, dy);
    const double area = std::abs(cross(dx, dy));
    const double most = std::sqrt((sum + std::sqrt(std::max(0.0, sum * sum - 4 * area * area))) / 2);
    bound.marks_mm = own.fit->largest_shift(plane, own.mark_error_px) * most / area * own.map.shrink;
  }
  if (own.camera)
    bound.height_mm =
        farthest(own.other_cameras, px, mm) + kCentreShare * std::abs(own.face_above_mm) +
        own.height_error_mm * (glm::distance(mm, own.camera->foot_mm) / own.camera->height_mm + kCentreShare);
  return bound;
}

std::optional<double> Squaring::largest_residual_mm() const {
  if (impl_->residuals_mm.size() <= 4) return {};
  return *std::max_element(impl_->residuals_mm.begin(), impl_->residuals_mm.end());
}
const std::vector<double>& Squaring::residuals_mm() const {
  return impl_->residuals_mm;
}
const Lens& Squaring::lens() const {
  return impl_->map.lens;
}
bool Squaring::lens_is_found() const {
  return impl_->lens_is_found;
}
std::optional<Squaring::Camera> Squaring::camera() const {
  return impl_->camera;
}
const Bounds& Squaring::measured_mm() const {
  return impl_->measured_mm;
}
int Squaring::width_px() const {
  return impl_->width_px;
}
int Squaring::height_px() const {
  return impl_->height_px;
}

double Squaring::px_per_mm(Vec2 mm) const {
  constexpr double step_mm = 1e-3;
  const Vec2 at = to_px(mm);
  const Vec2 dx = (to_px(mm + Vec2{step_mm, 0}) - at) / step_mm;
  const Vec2 dy = (to_px(mm + Vec2{0, step_mm}) - at) / step_mm;
  const double sum = glm::dot(dx, dx) + glm::dot(dy, dy);
  const double area = cross(dx, dy);
  return std::sqrt(std::max(0.0, (sum - std::sqrt(std::max(0.0, sum * sum - 4 * area * area))) / 2));
}

Squaring from_dpi(double dpi, int width_px, int height_px, double size_error_share) {
  if (!(dpi >= 1 && dpi <= 100'000)) throw SquaringError("A scan's resolution must be 1 to 100000 dpi.");
  if (width_px < 1 || height_px < 1 || !(size_error_share >= 0))
    throw std::invalid_argument("a scan needs a size and an error share of 0 or more");
  auto impl = std::make_shared<Squaring::Impl>();
  const double mm_per_px = 25.4 / dpi;
  impl->map.lens.centre_px = Vec2{width_px, height_px} / 2.0;
  impl->map.lens.unit_px = glm::length(impl->map.lens.centre_px);
  impl->map.to_plane = {{mm_per_px, 0, 0, 0, -mm_per_px, mm_per_px * height_px, 0, 0, 1}};
  impl->map.to_straight = impl->map.to_plane.inverse();
  impl->size_error_share = size_error_share;
  impl->measured_mm = {{0, 0}, Vec2{width_px, height_px} * mm_per_px};
  impl->middle_mm = impl->measured_mm.high / 2.0;
  impl->width_px = width_px;
  impl->height_px = height_px;
  return Squaring(std::move(impl));
}

}  // namespace haftwright
