#include <cmath>
#include <numbers>
#include <stdexcept>

#include "drilling_method.hpp"

namespace haftwright {
namespace {

using namespace alignment;

constexpr double kDegrees = 180 / std::numbers::pi;

Sensitivities moved_by(const Settings& settings, const PoseEffect& effect) {
  Sensitivities sensitivities;
  for (const Setting& setting : settings)
    sensitivities.push_back({setting.variable, effect.of(setting.pose)});
  return sensitivities;
}

class LineUpBuild {
 public:
  LineUpBuild(const Design& design, const Handle& handle, DrillWay way, const DrillGuide* guide)
      : design_(design), variables_(design, made_) {
    made_.places = meeting_places(design, handle);
    const bool one_block = design.drilling.one_block;
    const Sharing joints = one_block ? Sharing::both : Sharing::each_side;
    const Sharing fronts = fronts_together() ? joints : Sharing::each_side;
    left_ = blank_errors(variables_, handle.left, joints, fronts);
    right_ = one_block ? other_half(variables_, left_, fronts_together())
                       : blank_errors(variables_, handle.right, joints, fronts);
    if (fronts_together()) {
      // One cut through both: it parts them only where it is not square to the tang.
      dressed_left_ = dressed_right_ = front_errors(variables_, Sharing::both);
      dressed_right_.rake = times(dressed_left_.rake, -1);
    }
    const DrillingMethod& method = drilling_method(way);
    settings_ = method.set(variables_, {design, made_.places, left_, right_, guide});
    for (ClearanceOf& clearance : clearances_of(variables_, design, handle, method, guide)) {
      made_.stack.clearances.push_back(std::move(clearance.clearance));
      moving_.push_back(clearance.moving);
    }
    made_.stack.crept = design.drilling.glue_up == GlueUp::crept;
    add_steps();
    add_angles();
  }

  LineUp take() { return std::move(made_); }

 private:
  bool fronts_together() const { return design_.drilling.fronts_together; }

  Sensitivities side_sensitivities(std::size_t i, Which which) {
    const MeetingPlace& place = made_.places[i];
    const bool left = which == Which::left;
    const EndEffects& end = left ? place.left : place.right;
    SensitivitySum sum;
    if (!place.joint && fronts_together()) {
      sum.add(blank_sensitivities(left ? dressed_left_ : dressed_right_, end), 1);
      return sum.sensitivities();
    }
    sum.add(blank_sensitivities((left ? left_ : right_).of(place), end), 1);
    sum.add(moved_by(left ? settings_.left : settings_.right, end.pose), 1);
    return sum.sensitivities();
  }

  /// What is taken off a side too little, at the spine or the belly: one for all lines that end there.
  Sensitivity thickness(Which which, HandleEdge edge) {
    const auto key = std::pair{which, edge};
    const auto found = thickness_.find(key);
    if (found != thickness_.end()) return found->second;
    return thickness_[key] = variables_.of(&ShopErrors::thickness_mm, Sharing::each_side);
  }

  void add(Measure measure, std::size_t place, const PoseEffect& left, const PoseEffect& right) {
    made_.measures.push_back({measure.kind, place});
    made_.stack.measures.push_back(std::move(measure));
    const bool front = !made_.places[place].joint;
    for (std::size_t p = 0; p < moving_.size(); ++p) {
      const bool counts = front || moving_[p] != Moving::either_at_fronts;
      made_.stack.clearances[p].effects.push_back(counts ? effect_of(moving_[p], left, right) : PoseEffect{});
    }
  }

  static PoseEffect effect_of(Moving moving, const PoseEffect& left, const PoseEffect& right) {
    switch (moving) {
      case Moving::left:
        return left;
      case Moving::right:
        return {-right.along, -right.turn_mm};
      case Moving::either:
        // Which of the two scales moves is of no matter: the clearance is that of one against the other.
        return {(left.along + right.along) / 2.0, (left.turn_mm + right.turn_mm) / 2};
      case Moving::either_at_fronts:
        // Flush in one pose, the faces part by as much as the pose at glue-up differs from it.
        return {-(left.along + right.along) / 2.0, -(left.turn_mm + right.turn_mm) / 2};
      case Moving::tang:
        return {};
    }
    return {};
  }

  void add_steps() {
    for (std::size_t i = 0; i < made_.places.size(); ++i) {
      sensitivities_.push_back({side_sensitivities(i, Which::left), side_sensitivities(i, Which::right)});
      SensitivitySum sum;
      sum.add(sensitivities_[i].left, 1);
      sum.add(sensitivities_[i].right, -1);
      const MeetingPlace& place = made_.places[i];
      // Sanded too little, a line ends farther on; it runs in the same direction.
      if (place.surface) {
        sum.add({times(thickness(Which::left, place.edge), place.left.thickness)}, 1);
        sum.add({times(thickness(Which::right, place.edge), place.right.thickness)}, -1);
      }
      add({Measure::Kind::step_mm, place.nominal_mm, place.visible_mm, sum.sensitivities()}, i,
          place.left.pose, place.right.pose);
    }
  }

  /// Where a line runs from the tang face to the finished surface, the angle between left and right.
  void add_angles() {
    for (std::size_t i = 0; i + 1 < made_.places.size(); i += 2) {
      const MeetingPlace& inner = made_.places[i];
      const MeetingPlace& outer = made_.places[i + 1];
      if (outer.left.height_mm <= kLeastHeightMm || outer.right.height_mm <= kLeastHeightMm) continue;
      const Slope left = slope(inner.left, outer.left);
      const Slope right = slope(inner.right, outer.right);
      SensitivitySum sum;
      sum.add(sensitivities_[i + 1].left, left.degrees_for_mm);
      sum.add(sensitivities_[i].left, -left.degrees_for_mm);
      sum.add(sensitivities_[i + 1].right, -right.degrees_for_mm);
      sum.add(sensitivities_[i].right, right.degrees_for_mm);
      add({Measure::Kind::angle_deg, left.degrees - right.degrees, design_.rules.joint_angle_deg,
           sum.sensitivities()},
          i, left.effect, right.effect);
    }
  }

  struct Slope {
    double degrees = 0;
    double degrees_for_mm = 0;  ///< of x between the two ends
    PoseEffect effect;          ///< in degrees
  };
  static Slope slope(const EndEffects& inner, const EndEffects& outer) {
    const double tangent = (outer.at.x - inner.at.x) / outer.height_mm;
    Slope made;
    made.degrees = std::atan(tangent) * kDegrees;
    made.degrees_for_mm = kDegrees / (1 + tangent * tangent) / outer.height_mm;
    made.effect = {(outer.pose.along - inner.pose.along) * made.degrees_for_mm,
                   (outer.pose.turn_mm - inner.pose.turn_mm) * made.degrees_for_mm};
    return made;
  }

  static constexpr double kLeastHeightMm = 0.5;  // a line shorter than this has no direction to see

  struct SideTerms {
    Sensitivities left;
    Sensitivities right;
  };

  const Design& design_;
  LineUp made_;
  Variables variables_;
  BuiltBlank left_;
  BuiltBlank right_;
  BlankErrors dressed_left_;  ///< front faces shaped together
  BlankErrors dressed_right_;
  BothSettings settings_;
  std::vector<Moving> moving_;  ///< one a clearance
  std::map<std::pair<Which, HandleEdge>, Sensitivity> thickness_;
  std::vector<SideTerms> sensitivities_;
};

}  // namespace

LineUp line_up(const Design& design, const Handle& handle, DrillWay way, const DrillGuide* guide) {
  if (!guide && way_row(way).through_guide)
    throw std::invalid_argument("this way of drilling needs a drill guide");
  return LineUpBuild(design, handle, way, guide).take();
}

}  // namespace haftwright
