#include "pin_body.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <numbers>

#include "body_maker.hpp"

namespace haftwright::preview {
namespace {

/// The finished surface where a pin ends; beside the handle it is dressed off at the height of the wall.
struct End {
  Vec3 at{0, 0, 0};
  Vec3 normal{0, 0, 1};
};

class PinMaker {
 public:
  PinMaker(const Handle& handle, const PinLayout& pin, double bore_mm, const MeshSettings& settings,
           Body& body)
      : handle_(handle), pin_(pin), body_(body) {
    const double outer = pin.diameter_mm / 2;
    const double step = 2 * std::acos(std::max(0.5, 1 - settings.deviation_mm / outer));
    count_ = static_cast<std::size_t>(std::clamp(std::ceil(2 * std::numbers::pi / step), 16.0, 128.0));
    const double inner = std::clamp(bore_mm / 2, 0.0, 0.98 * outer);
    tube_ = inner > 0;
    const auto rings =
        static_cast<std::size_t>(std::clamp(std::ceil((outer - inner) / settings.cell_mm), 1.0, 12.0));
    for (std::size_t i = 0; i <= rings; ++i)
      radii_.push_back(inner + (outer - inner) * static_cast<double>(i) / static_cast<double>(rings));
  }

  void make() {
    const Cap left = ends(Which::left);
    const Cap right = handle_.mirrored ? mirrored(left) : ends(Which::right);
    cap(left, false);
    cap(right, true);
    wall(left.back(), right.back(), true);
    if (tube_) wall(left.front(), right.front(), false);
  }

 private:
  Vec2 direction(std::size_t k) const {
    const double angle = 2 * std::numbers::pi * static_cast<double>(k % count_) / static_cast<double>(count_);
    return {std::cos(angle), std::sin(angle)};
  }
  End end(Which which, Vec2 p) const {
    const SideLayout& side = handle_.side(which);
    const HeightField::Sample sample = side.surface.sample(p);
    double height = sample.height_mm;
    Vec2 gradient = sample.gradient;
    if (!side.edge.contains(p)) {
      height = side.surface.wall_height_mm(side.surface.edge().nearest(p));
      gradient = {0, 0};
    }
    const double sign = which == Which::left ? 1 : -1;
    const double slope = handle_.tang_slope / 2 + gradient.x;
    return {{p.x, p.y, sign * (handle_.tang_thickness_mm(p.x) / 2 + height)},
            glm::normalize(Vec3{-slope, -gradient.y, 1} * Vec3{1, 1, sign})};
  }
  /// A pin's end, ring by ring outward; a ring of no radius is one place.
  using Ring = std::vector<End>;
  using Cap = std::vector<Ring>;
  Cap ends(Which which) const {
    Cap cap;
    for (const double radius : radii_) {
      Ring& ring = cap.emplace_back();
      if (radius == 0)
        ring.push_back(end(which, pin_.at));
      else
        for (std::size_t k = 0; k < count_; ++k) ring.push_back(end(which, pin_.at + direction(k) * radius));
    }
    return cap;
  }
  static Cap mirrored(Cap cap) {
    for (Ring& ring : cap)
      for (End& end : ring) {
        end.at.z = -end.at.z;
        end.normal.z = -end.normal.z;
      }
    return cap;
  }

  std::uint32_t put(const End& end) {
    body_.vertices.push_back(vertex(end.at, end.normal));
    return static_cast<std::uint32_t>(body_.vertices.size() - 1);
  }
  void triangle(std::uint32_t a, std::uint32_t b, std::uint32_t c, bool turned) {
    body_.triangles.insert(body_.triangles.end(), {a, turned ? c : b, turned ? b : c});
  }

  void cap(const Cap& rings, bool turned) {
    std::vector<std::uint32_t> before;
    for (const Ring& places : rings) {
      std::vector<std::uint32_t> ring;
      for (const End& place : places) ring.push_back(put(place));
      ring.resize(count_, ring.front());
      for (std::size_t k = 0; !before.empty() && k < count_; ++k) {
        const std::size_t next = (k + 1) % count_;
        triangle(before[k], ring[k], ring[next], turned);
        if (before[k] != before[next]) triangle(before[k], ring[next], before[next], turned);
      }
      before = std::move(ring);
    }
  }
  void wall(const Ring& left, const Ring& right, bool outward) {
    std::vector<std::array<std::uint32_t, 2>> rows;  // low, high
    for (std::size_t k = 0; k < count_; ++k) {
      const Vec3 normal = Vec3{direction(k), 0} * (outward ? 1.0 : -1.0);
      rows.push_back({put({right[k].at, normal}), put({left[k].at, normal})});
    }
    for (std::size_t k = 0; k < count_; ++k) {
      const auto& [low, high] = rows[k];
      const auto& [next_low, next_high] = rows[(k + 1) % count_];
      triangle(low, next_low, next_high, !outward);
      triangle(low, next_high, high, !outward);
    }
  }

  const Handle& handle_;
  const PinLayout& pin_;
  Body& body_;
  std::size_t count_ = 0;
  bool tube_ = false;
  std::vector<double> radii_;
};

}  // namespace

void build_pin(const Handle& handle, const PinLayout& pin, double bore_mm, const MeshSettings& settings,
               Body& body) {
  PinMaker(handle, pin, bore_mm, settings, body).make();
}

}  // namespace haftwright::preview
