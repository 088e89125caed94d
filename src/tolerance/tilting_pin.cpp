#include "haftwright/tolerance/tilting_pin.hpp"

#include <algorithm>
#include <cmath>

namespace haftwright {
namespace {

/// Two rims no farther apart than this are at one height.
constexpr double kOneHeightMm = 1e-9;

/// What variables at their limit add at most.
double most_of(const Sensitivities& sensitivities) {
  double sum = 0;
  for (const Sensitivity& sensitivity : SensitivitySum(sensitivities).sensitivities())
    sum += std::abs(sensitivity.mm_at_limit);
  return sum;
}

/// A bound put together from rims.
class Bound {
 public:
  explicit Bound(Vec2 at_mm) : made_{.at_mm = at_mm, .radius_for_room = 0} {}

  /// `share` of where the rim is.
  Bound& place(const Rim& rim, double share) {
    x_.add(rim.x, share);
    y_.add(rim.y, share);
    return *this;
  }
  /// `share` of the rim's room.
  Bound& room(const Rim& rim, double share) {
    const double size = std::abs(share);
    made_.radius_mm += size * rim.room_mm;
    made_.radius_for_room += size;
    made_.opened_mm += size * std::max(0.0, -rim.room_mm - most_of(rim.room));
    room_.add(rim.room, size);
    return *this;
  }
  Bound& rim(const Rim& rim, double share) { return place(rim, share).room(rim, share); }

  PinBound pin() {
    made_.offset_x = x_.sensitivities();
    made_.offset_y = y_.sensitivities();
    made_.radius = room_.sensitivities();
    return std::move(made_);
  }

 private:
  PinBound made_;
  SensitivitySum x_;
  SensitivitySum y_;
  SensitivitySum room_;
};

/// Where `hole` points at the height of `rim`, which must pass: `sign` is +1 where `hole` is the body that
/// moves.
PinBound pointed_at(Vec2 at_mm, const RimmedHole& hole, const Rim& rim, double sign) {
  const double beyond = std::abs(hole.inner.z_mm - rim.z_mm) / hole.length_mm();
  return Bound(at_mm)
      .rim(hole.inner, sign * (1 + beyond))
      .rim(hole.outer, -sign * beyond)
      .rim(rim, -sign)
      .pin();
}

}  // namespace

double RimmedHole::length_mm() const {
  return std::abs(outer.z_mm - inner.z_mm);
}

std::vector<PinBound> tilting_pin(Vec2 at_mm, const RimmedHole& hole, const RimmedHole& other,
                                  const RimmedHole* between) {
  std::vector<PinBound> bounds;
  const bool meet = std::abs(hole.inner.z_mm - other.inner.z_mm) <= kOneHeightMm;
  bounds.push_back(pointed_at(at_mm, hole, other.inner, 1));
  if (!meet) bounds.push_back(pointed_at(at_mm, other, hole.inner, -1));
  bounds.push_back(pointed_at(at_mm, hole, other.outer, 1));
  bounds.push_back(pointed_at(at_mm, other, hole.outer, -1));
  if (between == nullptr || meet) return bounds;
  // The pin's slope is that of the hole between, give or take both its rooms over its length.
  const double share = std::abs(hole.inner.z_mm - other.inner.z_mm) / between->length_mm();
  const bool inner_first =
      std::abs(between->inner.z_mm - hole.inner.z_mm) < std::abs(between->outer.z_mm - hole.inner.z_mm);
  const Rim& near = inner_first ? between->inner : between->outer;
  const Rim& far = inner_first ? between->outer : between->inner;
  bounds.push_back(
      Bound(at_mm).rim(hole.inner, 1).rim(other.inner, -1).rim(near, -share).rim(far, share).pin());
  return bounds;
}

std::vector<PinBound> fixed_pin(Vec2 at_mm, const RimmedHole& hole, const RimmedHole& other) {
  const double length = hole.length_mm();
  const double other_length = other.length_mm();
  const double apart = std::abs(hole.inner.z_mm - other.inner.z_mm) + (length + other_length) / 2;
  std::vector<PinBound> bounds;
  for (const double side : {-1.0, 1.0}) {
    // Off the pin: half of what the holes' middles are apart, less what the pin's slope takes up between
    // them, and half of what the holes' slopes differ by over half the length.
    const double slope = -apart / 4 + side * length / 4;       // of this hole's own slope, outward
    const double other_slope = apart / 4 + side * length / 4;  // of the other's, outward from the tang
    const Rim& rim = side < 0 ? hole.inner : hole.outer;
    bounds.push_back(Bound(at_mm)
                         .place(hole.inner, 0.25 - slope / length)
                         .place(hole.outer, 0.25 + slope / length)
                         .place(other.inner, -0.25 - other_slope / other_length)
                         .place(other.outer, -0.25 + other_slope / other_length)
                         .room(rim, 1)
                         .pin());
  }
  return bounds;
}

std::vector<PinRoom> rooms_of(const RimmedHole& hole) {
  std::vector<PinRoom> rooms{{hole.inner.room_mm, hole.inner.room}};
  if (hole.outer.room_mm != hole.inner.room_mm || hole.outer.room != hole.inner.room)
    rooms.push_back({hole.outer.room_mm, hole.outer.room});
  return rooms;
}

}  // namespace haftwright
