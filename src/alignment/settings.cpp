// How each scale is set when it is drilled, as small motions for each error at its limit.
#include <array>
#include <cmath>
#include <glm/mat3x3.hpp>
#include <glm/matrix.hpp>

#include "chain_parts.hpp"

namespace haftwright::alignment {
namespace {

Pose along_x(double mm) {
  return {{mm, 0}, 0};
}

/// Turned about `p`.
Pose turned_about(Vec2 p, double radians) {
  return {Vec2{p.y, -p.x} * radians, radians};
}

Vec2 plan(Vec3 p) {
  return {p.x, p.y};
}

/// Whatever is off at the line that the eye lines up is taken up by shifting the scale along.
void take_up(Settings& settings, const Terms& errors, const EndEffects& reference) {
  for (const Term& error : errors)
    settings.push_back({error.variable, along_x(-error.mm_at_limit / reference.pose.along.x)});
}

struct ByEye {
  double ShopErrors::*along;
  double ShopErrors::*turn;
};

/// One scale against what it is set to: along, across and turned about the reference end.
void set_by_eye(Settings& settings, Variables& variables, const EndEffects& reference, const ByEye& sizes) {
  const PoseEffect& effect = reference.pose;
  const Term along = variables.of(sizes.along);
  settings.push_back({along.variable, along_x(along.mm_at_limit)});
  const Term across = variables.of(&ShopErrors::set_across_mm);
  // Set too high, a slanted line is lined up again by shifting along it.
  settings.push_back({across.variable, {Vec2{-effect.along.y / effect.along.x, 1} * across.mm_at_limit, 0}});
  const Term turn = variables.of(sizes.turn);
  settings.push_back({turn.variable, turned_about(plan(reference.at), turn.mm_at_limit)});
}

bool serves(const GuideLocator& locator, Which side) {
  switch (locator.serves) {
    case Serves::both_scales:
    case Serves::scales_and_tang:
      return true;
    case Serves::left_scale:
      return side == Which::left;
    case Serves::right_scale:
      return side == Which::right;
    case Serves::tang:
      return false;
  }
  return false;
}

/// An equation for a pose: effect . pose = sum of terms.
struct Contact {
  PoseEffect effect;
  Terms terms;
};

Contact fence_contact(Variables& variables, const GuideLocator& fence) {
  const Vec2 toward = glm::normalize(fence.at - fence.contact);
  const Vec2 at = fence.contact;
  return {{toward, toward.y * at.x - toward.x * at.y}, {variables.of(&ShopErrors::fence_seat_mm)}};
}

/// The mean over the windows of a side: each shows its joint line to within the sighting error. Without
/// windows the front face against its stop.
Contact sighted(Variables& variables, const SettingInput& input, Which which, const BuiltBlank& blank) {
  Contact mean;
  std::vector<const MeetingPlace*> seen;
  for (const SightWindow& window : input.guide->windows) {
    if (!(which == Which::left ? window.for_left : window.for_right)) continue;
    for (const MeetingPlace& place : input.places)
      if (place.joint == window.joint && place.line == 0 && !place.surface &&
          (place.edge == HandleEdge::spine) == window.at_spine)
        seen.push_back(&place);
  }
  const bool by_stop = seen.empty();
  if (by_stop) seen.push_back(&input.places.front());
  const double share = 1 / static_cast<double>(seen.size());
  for (const MeetingPlace* place : seen) {
    const EndEffects& end = which == Which::left ? place->left : place->right;
    mean.effect.along += end.pose.along * share;
    mean.effect.turn_mm += end.pose.turn_mm * share;
    const Term own = variables.of(by_stop ? &ShopErrors::fence_seat_mm : &ShopErrors::sight_mm);
    mean.terms.push_back({own.variable, own.mm_at_limit * share});
    for (const Term& error : blank_terms(blank.of(*place), end))
      mean.terms.push_back({error.variable, -error.mm_at_limit * share});
  }
  return mean;
}

Settings on_guide(Variables& variables, const SettingInput& input, Which which, const BuiltBlank& blank) {
  std::vector<Contact> contacts;
  for (const GuideLocator& locator : input.guide->locators)
    if (locator.role == LocatorRole::spine_fence && serves(locator, which) && contacts.size() < 2)
      contacts.push_back(fence_contact(variables, locator));
  contacts.push_back(sighted(variables, input, which, blank));
  glm::dmat3 rows(0);
  for (std::size_t i = 0; i < contacts.size() && i < 3; ++i) {
    const int row = static_cast<int>(i);
    rows[0][row] = contacts[i].effect.along.x;
    rows[1][row] = contacts[i].effect.along.y;
    rows[2][row] = contacts[i].effect.turn_mm;
  }
  const glm::dmat3 solve = glm::inverse(rows);
  Settings settings;
  for (std::size_t i = 0; i < contacts.size(); ++i)
    for (const Term& term : contacts[i].terms) {
      const glm::dvec3 pose = solve[static_cast<int>(i)] * term.mm_at_limit;
      settings.push_back({term.variable, {{pose.x, pose.y}, pose.z}});
    }
  return settings;
}

}  // namespace

const MeetingPlace& reference_place(const Design& design, const std::vector<MeetingPlace>& places) {
  // The front face's places come first; a joint's first place is at the spine, at the tang face.
  if (design.drilling.set_by == SetBy::joint_line)
    for (const MeetingPlace& place : places)
      if (place.joint) return place;
  return places.front();
}

BothSettings settings_of(Variables& variables, const SettingInput& input, DrillWay way) {
  BothSettings both;
  if (way == DrillWay::guide || way == DrillWay::guide_pinned) {
    both.left = on_guide(variables, input, Which::left, input.left);
    both.right = on_guide(variables, input, Which::right, input.right);
    return both;
  }
  const MeetingPlace& reference = reference_place(input.design, input.places);
  take_up(both.left, blank_terms(input.left.of(reference), reference.left), reference.left);
  take_up(both.right, blank_terms(input.right.of(reference), reference.right), reference.right);
  const ByEye on_tang{&ShopErrors::set_along_mm, &ShopErrors::set_turn_deg};
  const ByEye on_first{&ShopErrors::match_along_mm, &ShopErrors::match_turn_deg};
  const ByEye taped{&ShopErrors::tape_along_mm, &ShopErrors::tape_turn_deg};
  // Set against each other, only one of the two is off.
  if (way == DrillWay::by_eye) set_by_eye(both.left, variables, reference.left, on_tang);
  set_by_eye(both.right, variables, reference.right,
             way == DrillWay::by_eye     ? on_tang
             : way == DrillWay::to_first ? on_first
                                         : taped);
  return both;
}

}  // namespace haftwright::alignment
