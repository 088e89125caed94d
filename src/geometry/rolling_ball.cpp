#include "rolling_ball.hpp"

#include <algorithm>
#include <cmath>

namespace haftwright::geometry {
namespace {

/// What is left of error after a step this short counts by its square in heights (1e-10 mm measured), and in
/// the gradient by less than 1e-7 of its length.
constexpr double kSettled_mm = 1e-4;
/// For the reach, which is no stationary value.
constexpr double kSettledReach_mm = 1e-9;
constexpr int kQuickSteps = 10;
constexpr int kHalvings = 40;
constexpr int kReachSteps = 50;
/// Rails a ball may roll over between a point's foot and the place where it shapes the point.
constexpr int kMostRails = 32;
/// The envelope stands upright at the wall; its gradient is cut off at this length.
constexpr double kSteepest = 1e6;
/// A ball that hangs from the crown at least this share of its radius too deep inside to touch the wall: no
/// need to look closer.
constexpr double kClear = 0.02;

Vec2 along_of(Vec2 inward) {
  return {inward.y, -inward.x};
}

}  // namespace

/// A rail as seen from one point: what stays the same while the ball rolls. How far the ball stands ahead of
/// the point's foot is told by a length on a straight rail, and by the sine of half the angle on an arc.
class RollingBall::Lane {
 public:
  Lane(const Rail& rail, const RailFoot& foot, double r)
      : turn_(rail.blunt ? 0 : rail.turn),
        inward_(foot.inward),
        inset_(r - foot.depth_mm),
        room_(std::max(foot.depth_mm * (2 * r - foot.depth_mm), 0.0)),
        point_radius_(foot.from_centre_mm),
        path_radius_(rail.shape.radius - rail.turn * r) {}

  Vec2 inward(double ahead) const {
    if (turn_ == 0) return inward_;
    return inward_ * (1 - 2 * ahead * ahead) - along_of(inward_) * (turn_ * sine(ahead));
  }
  /// Plan vector from the point to the ball's centre.
  Vec2 to_centre(double ahead) const {
    if (turn_ == 0) return inward_ * inset_ + along_of(inward_) * ahead;
    return inward_ * (inset_ + turn_ * path_radius_ * 2 * ahead * ahead) +
           along_of(inward_) * (path_radius_ * sine(ahead));
  }
  /// Height of the ball over its centre at the point.
  double rise(double ahead) const {
    const double way = turn_ == 0 ? 1 : 4 * point_radius_ * path_radius_;
    return std::sqrt(std::max(room_ - way * ahead * ahead, 0.0));
  }

  struct Stand {
    double ahead = 0;
    double rate = 0;  ///< d(ahead) / d(climb)
  };
  /// Where a ball whose path climbs by `climb` has to stand to shape the point.
  Stand stand(double climb, double ahead) const {
    if (turn_ == 0) {
      const double slant = std::sqrt(room_ / (1 + climb * climb));
      return {climb * slant, slant / (1 + climb * climb)};
    }
    const double level = point_radius_ * (1 - ahead * ahead);
    const double square = point_radius_ * (level + path_radius_ * climb * climb);
    const double slant = std::sqrt(room_ / std::max(square, 1e-12)) / 2;
    return {std::clamp(climb * slant, -kWidest, kWidest),
            slant * point_radius_ * level / std::max(square, 1e-12)};
  }
  /// Change of the climb with `ahead` at 0, from that of the gradient along the path per length of path, and
  /// from the gradient inward.
  double climb_rate(double per_way, double inward_gradient) const {
    return turn_ == 0 ? per_way : 2 * (path_radius_ * per_way + turn_ * inward_gradient);
  }
  double widest() const { return turn_ == 0 ? std::sqrt(room_) : kWidest; }
  double bounded(double ahead) const { return turn_ == 0 ? ahead : std::clamp(ahead, -kWidest, kWidest); }
  double length_mm(double ahead) const {
    return std::abs(turn_ == 0 ? ahead : 2 * (point_radius_ + std::abs(path_radius_)) * ahead);
  }

 private:
  static constexpr double kWidest = 0.7;  // a quarter turn

  static double sine(double ahead) { return 2 * ahead * std::sqrt(1 - ahead * ahead); }

  double turn_;
  Vec2 inward_;
  double inset_;
  double room_;
  double point_radius_;
  double path_radius_;
};

struct RollingBall::Pose {
  double ahead = 0;  // see Lane
  double rise = 0;
  Vec2 to_centre{0, 0};   // from the point to the ball's centre
  Vec2 to_contact{0, 0};  // from the ball's centre to the place it touches the crown
  Vec2 inward{0, 0};
  Contact contact;
};

/// One Newton step of the contact under a ball that stands `ahead`, and where that ball should stand instead.
RollingBall::Advance RollingBall::advance(const UnderCrown& point, const Lane& lane, double ahead,
                                          Contact& contact) const {
  const double moved = crown_.settle(radius_mm_, point.p + lane.to_centre(ahead), contact);
  const double climb = glm::dot(contact.gradient(), along_of(lane.inward(ahead)));
  return {moved, lane.stand(climb, ahead).ahead};
}

/// Newton steps from a guess at the point itself, at the rate found there. False when they do not settle.
bool RollingBall::find_quickly(const UnderCrown& point, const Lane& lane, Pose& pose) const {
  const Vec2 inward = lane.inward(0);
  const Vec2 along = along_of(inward);
  const Vec2 bend = crown_.bend(point.crown);
  const Vec2 stretch = crown_.stretch(radius_mm_, point.crown);
  const Vec2 gradient = point.crown.gradient();
  const Vec2 normal = point.crown.normal() * radius_mm_;
  const Vec2 below_level = (lane.to_centre(0) + normal) / stretch;
  const Lane::Stand guess = lane.stand(glm::dot(gradient + bend * below_level, along), 0);
  pose.ahead = guess.ahead;
  const Vec2 to_contact = (lane.to_centre(pose.ahead) + normal) / stretch;
  pose.contact = point.crown;
  pose.contact.x += to_contact.x;
  pose.contact.v += to_contact.y;
  const double rate =
      guess.rate * lane.climb_rate(glm::dot(along * along, bend / stretch), glm::dot(gradient, inward));
  const double gain = 1 / (1 - std::min(rate, 0.5));
  for (int step = 0; step < kQuickSteps; ++step) {
    const Advance found = advance(point, lane, pose.ahead, pose.contact);
    const double next = lane.bounded(pose.ahead + gain * (found.stand - pose.ahead));
    const double moved = found.contact_moved_mm + lane.length_mm(next - pose.ahead);
    pose.ahead = next;
    if (moved < kSettled_mm) return true;
  }
  return false;
}

/// Halving, for the few places where the climb changes too fast along the path: round reflex corners.
void RollingBall::find_carefully(const UnderCrown& point, const Lane& lane, Pose& pose) const {
  double low = -lane.widest();
  double high = lane.widest();
  for (int halving = 0; halving < kHalvings; ++halving) {
    pose.ahead = (low + high) / 2;
    Advance found;
    for (int step = 0; step < kQuickSteps; ++step) {
      found = advance(point, lane, pose.ahead, pose.contact);
      if (found.contact_moved_mm < kSettled_mm) break;
    }
    (found.stand > pose.ahead ? low : high) = pose.ahead;
  }
}

RollingBall::Pose RollingBall::roll(const UnderCrown& point, const Rail& rail, const RailFoot& foot) const {
  const Lane lane(rail, foot, radius_mm_);
  Pose pose;
  if (!find_quickly(point, lane, pose)) find_carefully(point, lane, pose);
  pose.inward = lane.inward(pose.ahead);
  pose.rise = lane.rise(pose.ahead);
  pose.to_centre = lane.to_centre(pose.ahead);
  pose.to_contact = crown_.offset(pose.contact, point.p + pose.to_centre);
  return pose;
}

/// The rail next to `rail` onto which the ball has rolled, forward or backward; kNone when it stands on this
/// one.
std::uint32_t RollingBall::rolled_onto(const Rail& rail, bool forward, Vec2 centre, Vec2 inward) const {
  const Vec2 from = rail.straight() ? centre - rail.shape.from : inward * -rail.turn;
  const Vec2 to = rail.straight() ? centre - rail.shape.to : from;
  const bool behind = glm::dot(rail.along_from, from) < 0;
  const bool past = glm::dot(rail.along_to, to) > 0;
  if (std::abs(rail.shape.bulge) > 1 && !(behind && past)) return Rail::kNone;
  if (forward ? past : behind) return forward ? rail.after : rail.before;
  return Rail::kNone;
}

RollingBall::Pose RollingBall::roll_on(const UnderCrown& point, const Rail& rail,
                                       const RailFoot& foot) const {
  Pose pose = roll(point, rail, foot);
  const bool forward = pose.ahead > 0;
  const Rail* on = &rail;
  for (int i = 0; i < kMostRails && (pose.ahead > 0) == forward; ++i) {
    const std::uint32_t next = rolled_onto(*on, forward, point.p + pose.to_centre, pose.inward);
    if (next == Rail::kNone) break;
    on = &rails_[next];
    pose = roll(point, *on, foot_of(*on, point.p));
  }
  return pose;
}

std::optional<SurfacePoint> RollingBall::envelope(const UnderCrown& point, const Rail& rail,
                                                  const RailFoot& foot) const {
  const Vec2 hanging = point.p - point.crown.normal() * radius_mm_;
  if (foot_of(rail, hanging).depth_mm > radius_mm_ * (1 + kClear)) return std::nullopt;
  const Pose pose = roll_on(point, rail, foot);
  if (glm::dot(pose.to_centre + pose.to_contact, pose.inward) < 0) return std::nullopt;
  // Both heights are stationary: that of the ball at the place of contact, that of the envelope where the
  // ball stands. What the Newton steps leave of error in the places counts by its square.
  const double hang = std::sqrt(std::max(radius_mm_ * radius_mm_ - length_squared(pose.to_contact), 0.0));
  SurfacePoint surface{pose.contact.z - hang + pose.rise, steepness(pose)};
  if (rail.blunt && foot.from_centre_mm > 0) {
    // The wall turns with the point's foot, and the ball that stands ahead moves in or out with it.
    const double outward = glm::dot(pose.contact.gradient() - surface.gradient, pose.inward);
    surface.gradient += along_of(pose.inward) * (pose.ahead * outward / foot.from_centre_mm);
  }
  return surface;
}

/// The ball's own slope over the point.
Vec2 RollingBall::steepness(const Pose& pose) {
  return pose.to_centre / std::max(pose.rise, glm::length(pose.to_centre) / kSteepest);
}

bool RollingBall::is_hidden(const UnderCrown& point, const RailFoot& other, const RailFoot& nearest) const {
  // The crown steepens between the point and the place the ball touches; hence more than its slope here.
  const double slope = 1.5 * glm::length(point.crown.gradient()) + 0.05;
  return other.depth_mm - nearest.depth_mm > radius_mm_ * slope * glm::length(other.inward - nearest.inward);
}

double RollingBall::reach_mm(const Rail& rail, Vec2 on_rail) const {
  const Vec2 inward = foot_of(rail, on_rail).inward;
  double reach = radius_mm_;
  // On an arc hardly wider than the ball the line may come to lie beyond the arc's own stretch: then, as on
  // an arc tighter than the ball, the wall is taken as flat.
  for (const bool flat : {rail.blunt, true}) {
    reach = radius_mm_;
    for (int step = 0; step < kReachSteps; ++step) {
      const Vec2 p = on_rail + inward * reach;
      const Vec2 hanging = p - crown_.at(p).normal() * radius_mm_;
      const double depth = flat ? glm::dot(inward, hanging - on_rail) : foot_of(rail, hanging).depth_mm;
      reach = std::clamp(reach + radius_mm_ - depth, 0.0, 2 * radius_mm_);
      if (std::abs(radius_mm_ - depth) < kSettledReach_mm) return reach;
    }
  }
  return reach;
}

}  // namespace haftwright::geometry
