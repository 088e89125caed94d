#include "haftwright/design/starters.hpp"

#include <cmath>
#include <numbers>
#include <stdexcept>
#include <string>

namespace haftwright {
namespace {

constexpr double kLeastEdgeMm = 1e-4;  // shorter edges are left out: an outline must not have them

void want(bool good, const std::string& sentence) {
  if (!good) throw std::invalid_argument(sentence);
}

void want_positive(double value, const std::string& name) {
  want(std::isfinite(value) && value > 0, name + " must be more than 0");
}

void want_not_negative(double value, const std::string& name) {
  want(std::isfinite(value) && value >= 0, name + " must be 0 or more");
}

/// The long edge along the spine or the belly: y over x, a straight line or an arc through its two ends.
class LongEdge {
 public:
  /// From (0, y_front) to (length, y_butt), standing `rise` above the chord (0: straight).
  LongEdge(double length, double y_front, double y_butt, double rise) : from_{0, y_front} {
    const Vec2 chord = Vec2{length, y_butt} - from_;
    along_ = glm::normalize(chord);
    if (rise == 0) return;
    const double half = glm::length(chord) / 2;
    radius_ = (half * half + rise * rise) / (2 * rise);
    centre_ = from_ + chord / 2.0 + turned_left(along_) * (rise - radius_);
  }

  bool is_arc() const { return radius_ != 0; }
  double radius() const { return radius_; }
  Vec2 centre() const { return centre_; }
  Vec2 along() const { return along_; }

  Vec2 at(double x) const {
    if (!is_arc()) return {x, from_.y + (x - from_.x) * along_.y / along_.x};
    const double dx = x - centre_.x;
    return {x, centre_.y + std::sqrt(radius_ * radius_ - dx * dx)};
  }

  /// Bulge of the part from `a` to `b`, both on this edge.
  double bulge(Vec2 a, Vec2 b) const {
    if (!is_arc()) return 0;
    const double sweep = 2 * std::asin(glm::length(b - a) / (2 * radius_));
    // The centre lies below: going rearward turns clockwise.
    return (b.x > a.x ? -1 : 1) * std::tan(sweep / 4);
  }

 private:
  Vec2 from_;
  Vec2 along_{1, 0};
  Vec2 centre_{0, 0};
  double radius_ = 0;
};

/// Where a corner's rounding touches the long edge and the butt line x = length.
struct Corner {
  Vec2 on_edge{0, 0};
  Vec2 on_butt{0, 0};
};

/// The chain, unless its measurements made spine and belly meet.
std::vector<Node> sound(std::vector<Node> chain) {
  want(!find_fault(chain),
       "spine and belly meet: make front_height_mm or butt_height_mm larger, or the bow flatter");
  return chain;
}

/// `side` is +1 at the spine, -1 at the belly: on which side of the edge the steel is not.
Corner round_corner(const LongEdge& edge, double length, double radius, double side) {
  const double x = length - radius;
  if (!edge.is_arc()) {
    const Vec2 outward = turned_left(edge.along()) * side;
    const double y = edge.at(x).y - side * radius / std::abs(edge.along().x);
    const Vec2 centre{x, y};
    return {centre + outward * radius, {length, y}};
  }
  const double reach = edge.radius() - side * radius;
  const double dx = x - edge.centre().x;
  want(reach > std::abs(dx), "butt_corner_mm is too large for the bow of the tang");
  const Vec2 centre{x, edge.centre().y + std::sqrt(reach * reach - dx * dx)};
  return {edge.centre() + (centre - edge.centre()) * (edge.radius() / reach), {length, centre.y}};
}

double quarter_bulge(Vec2 from, Vec2 to, double radius) {
  const double sweep = 2 * std::asin(std::min(1.0, glm::length(to - from) / (2 * radius)));
  return std::tan(sweep / 4);
}

std::vector<Node> between(const LongEdge& spine, const LongEdge& belly, double length, double ricasso,
                          double corner_mm) {
  const Vec2 spine_front = spine.at(-ricasso);
  const Vec2 belly_front = belly.at(-ricasso);
  want(spine_front.y > belly_front.y, "front_height_mm is too small: spine and belly meet");
  if (corner_mm == 0) {
    const Vec2 low = belly.at(length);
    const Vec2 high = spine.at(length);
    return {{belly_front, belly.bulge(belly_front, low)},
            {low, 0},
            {high, spine.bulge(high, spine_front)},
            {spine_front, 0}};
  }
  const Corner low = round_corner(belly, length, corner_mm, -1);
  const Corner high = round_corner(spine, length, corner_mm, 1);
  const double flat = high.on_butt.y - low.on_butt.y;
  want(flat > -kLeastEdgeMm, "butt_corner_mm is too large for butt_height_mm");
  want(low.on_edge.x > 0 && high.on_edge.x > 0, "butt_corner_mm is too large for length_mm");
  std::vector<Node> chain{{belly_front, belly.bulge(belly_front, low.on_edge)},
                          {low.on_edge, quarter_bulge(low.on_edge, low.on_butt, corner_mm)}};
  if (flat > kLeastEdgeMm) chain.push_back({low.on_butt, 0});
  chain.push_back({high.on_butt, quarter_bulge(high.on_butt, high.on_edge, corner_mm)});
  chain.push_back({high.on_edge, spine.bulge(high.on_edge, spine_front)});
  chain.push_back({spine_front, 0});
  return chain;
}

template <class Tang>
void want_good_common(const Tang& tang) {
  want_positive(tang.length_mm, "length_mm");
  want_positive(tang.front_height_mm, "front_height_mm");
  want_positive(tang.butt_height_mm, "butt_height_mm");
  want_not_negative(tang.butt_corner_mm, "butt_corner_mm");
  want_not_negative(tang.ricasso_mm, "ricasso_mm");
}

}  // namespace

std::vector<Node> starter_outline(const StraightTang& tang) {
  want_good_common(tang);
  const double top = tang.front_height_mm / 2;
  const LongEdge spine(tang.length_mm, top, top, 0);
  const LongEdge belly(tang.length_mm, -top, top - tang.butt_height_mm, 0);
  return sound(between(spine, belly, tang.length_mm, tang.ricasso_mm, tang.butt_corner_mm));
}

std::vector<Node> starter_outline(const BowedTang& tang) {
  want_good_common(tang);
  want_not_negative(tang.spine_rise_mm, "spine_rise_mm");
  want_not_negative(tang.belly_rise_mm, "belly_rise_mm");
  // Flat bows only: beyond this an arc stops being one y over x.
  const double most = tang.length_mm / 6;
  want(tang.spine_rise_mm <= most, "spine_rise_mm must not be more than a sixth of length_mm");
  want(tang.belly_rise_mm <= most, "belly_rise_mm must not be more than a sixth of length_mm");
  want(tang.ricasso_mm <= tang.length_mm / 6, "ricasso_mm must not be more than a sixth of length_mm");
  const double top = tang.front_height_mm / 2;
  const LongEdge spine(tang.length_mm, top, top, tang.spine_rise_mm);
  const LongEdge belly(tang.length_mm, -top, top - tang.butt_height_mm, tang.belly_rise_mm);
  return sound(between(spine, belly, tang.length_mm, tang.ricasso_mm, tang.butt_corner_mm));
}

}  // namespace haftwright
