#include "haftwright/render/camera.hpp"

#include <algorithm>
#include <cmath>
#include <limits>
#include <numbers>

namespace haftwright {
namespace {

constexpr double kRadian = std::numbers::pi / 180;

struct NamedView {
  StandardView view;
  std::string_view name;
  Vec3 back;
  Vec3 up;
};
const NamedView kViews[] = {
    {StandardView::left, "left", {0, 0, 1}, {0, 1, 0}},
    {StandardView::right, "right", {0, 0, -1}, {0, 1, 0}},
    {StandardView::spine, "spine", {0, 1, 0}, {0, 0, -1}},
    {StandardView::belly, "belly", {0, -1, 0}, {0, 0, 1}},
    {StandardView::front, "front", {-1, 0, 0}, {0, 1, 0}},
    {StandardView::butt, "butt", {1, 0, 0}, {0, 1, 0}},
    {StandardView::three_quarter, "three-quarter", {0.42, 0.52, 0.86}, {0, 1, 0}},
};

/// `v` turned about the unit `axis` (Rodrigues' rotation formula).
Vec3 turned(Vec3 v, Vec3 axis, double angle) {
  const double c = std::cos(angle);
  const double s = std::sin(angle);
  return v * c + glm::cross(axis, v) * s + axis * (glm::dot(axis, v) * (1 - c));
}

/// Keeps back and up square and of unit length.
void square_up(Camera& camera, Vec3 up) {
  camera.back = glm::normalize(camera.back);
  camera.up = glm::normalize(up - camera.back * glm::dot(up, camera.back));
}

/// The extents of points along the camera's axes.
struct Extent {
  Vec3 low{std::numeric_limits<double>::infinity()};
  Vec3 high{-std::numeric_limits<double>::infinity()};
  void add(Vec3 p) {
    low = glm::min(low, p);
    high = glm::max(high, p);
  }
};

template <class Visit>
void visit_points(const Preview& preview, double exploded, Visit&& visit) {
  for (const Body& body : preview.bodies) {
    const Vec3 shift = body.apart * exploded;
    for (const Vertex& vertex : body.vertices)
      visit(Vec3(vertex.position[0], vertex.position[1], vertex.position[2]) + shift);
  }
}

/// How high a picture must be at the target for every point to lie inside the middle `share` of it.
double height_to_show(const Camera& camera, const Preview& preview, double exploded, double aspect,
                      double share) {
  const Vec3 right = camera.right();
  const double tangent = std::tan(camera.field_of_view_deg * kRadian / 2);
  double height = 0;
  visit_points(preview, exploded, [&](Vec3 p) {
    const Vec3 from_target = p - camera.target;
    const double across = std::abs(glm::dot(from_target, right)) / aspect;
    const double upward = std::abs(glm::dot(from_target, camera.up));
    double half = std::max(across, upward) / share;
    // Seen in perspective a point nearer the eye needs that much more room.
    if (camera.perspective) half += glm::dot(from_target, camera.back) * tangent;
    height = std::max(height, 2 * half);
  });
  return height;
}

}  // namespace

std::string_view name_of(StandardView view) {
  for (const NamedView& named : kViews)
    if (named.view == view) return named.name;
  return "";
}

std::optional<StandardView> find_view(std::string_view name) {
  for (const NamedView& named : kViews)
    if (named.name == name) return named.view;
  return std::nullopt;
}

Vec3 Camera::right() const {
  return glm::cross(up, back);
}

double Camera::distance_mm() const {
  return height_mm / (2 * std::tan(field_of_view_deg * kRadian / 2));
}

Camera standard_camera(StandardView view, bool perspective) {
  Camera camera;
  for (const NamedView& named : kViews) {
    if (named.view != view) continue;
    camera.back = named.back;
    square_up(camera, named.up);
  }
  camera.perspective = perspective;
  return camera;
}

void fit(Camera& camera, const Preview& preview, double exploded, PictureSize size, double margin) {
  const Vec3 right = camera.right();
  Extent extent;
  visit_points(preview, exploded, [&](Vec3 p) {
    extent.add({glm::dot(p, right), glm::dot(p, camera.up), glm::dot(p, camera.back)});
  });
  if (extent.low.x > extent.high.x) return;
  const Vec3 middle = (extent.low + extent.high) / 2.0;
  camera.target = right * middle.x + camera.up * middle.y + camera.back * middle.z;
  const double share = 1 - 2 * std::clamp(margin, 0.0, 0.45);
  camera.height_mm = std::max(height_to_show(camera, preview, exploded, size.aspect(), share), 1.0);
}

void orbit(Camera& camera, double right_deg, double up_deg) {
  // Upside down the handle's upright points down the picture, and a drag must still move what is in front.
  const Vec3 upright{0, camera.up.y < -1e-9 ? -1.0 : 1.0, 0};
  const Vec3 back = turned(camera.back, upright, -right_deg * kRadian);
  const Vec3 up = turned(camera.up, upright, -right_deg * kRadian);
  const Vec3 axis = glm::normalize(glm::cross(up, back));
  camera.back = turned(back, axis, up_deg * kRadian);
  square_up(camera, turned(up, axis, up_deg * kRadian));
}

void pan(Camera& camera, double right_share, double up_share) {
  camera.target -= (camera.right() * right_share + camera.up * up_share) * camera.height_mm;
}

void zoom(Camera& camera, double factor, Vec2 at, PictureSize size) {
  const double mm_per_pixel = camera.height_mm / size.height;
  const Vec2 from_middle{at.x - size.width / 2.0, size.height / 2.0 - at.y};
  const Vec2 held = from_middle * mm_per_pixel * (1 - 1 / factor);
  camera.target += camera.right() * held.x + camera.up * held.y;
  camera.height_mm /= factor;
}

std::optional<Vec2> project(const Camera& camera, Vec3 point, PictureSize size) {
  const Vec3 from_target = point - camera.target;
  double pixels_per_mm = size.height / camera.height_mm;
  if (camera.perspective) {
    const double distance = camera.distance_mm();
    const double depth = distance - glm::dot(from_target, camera.back);
    if (depth <= 1e-6 * distance) return std::nullopt;
    pixels_per_mm *= distance / depth;
  }
  return Vec2{size.width / 2.0 + glm::dot(from_target, camera.right()) * pixels_per_mm,
              size.height / 2.0 - glm::dot(from_target, camera.up) * pixels_per_mm};
}

}  // namespace haftwright
