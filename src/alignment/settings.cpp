// How each scale is set when it is drilled, as small motions for each error at its limit.
#include <array>
#include <cmath>
#include <glm/mat3x3.hpp>
#include <glm/matrix.hpp>

#include "stack_parts.hpp"

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

/// A line's end as it is seen while the scale is set: the line goes by along x, the end not yet along an
/// edge. At the tang face.
EndEffects seen(const EndEffects& end) {
  EndEffects line = end;
  const Vec2 across{1, -end.tan_slant};
  line.pose = {across, across.y * end.at.x - across.x * end.at.y};
  line.place = 1;
  line.square_mm = end.at.y * (1 + end.tan_slant * end.tan_slant);
  line.rake_mm = 0;
  return line;
}

/// Whatever is off at the line that the eye lines up is taken up by shifting the scale along.
void take_up(Settings& settings, const BlankErrors& errors, const EndEffects& reference) {
  for (const Sensitivity& error : blank_sensitivities(errors, seen(reference)))
    settings.push_back({error.variable, along_x(-error.mm_at_limit)});
}

/// One scale against what it is set to: along, across and turned about the reference end.
void line_up_by_eye(Settings& settings, Variables& variables, const EndEffects& reference,
                    const ByEye& sizes) {
  const Sensitivity along = variables.of(sizes.along, sizes.sharing);
  settings.push_back({along.variable, along_x(along.mm_at_limit)});
  const Sensitivity across = variables.of(&ShopErrors::set_across_mm, sizes.sharing);
  // Set too high, a slanted line is lined up again by shifting along it.
  settings.push_back({across.variable, {Vec2{reference.tan_slant, 1} * across.mm_at_limit, 0}});
  const Sensitivity turn = variables.of(sizes.turn, sizes.sharing);
  settings.push_back({turn.variable, turned_about(plan(reference.at), turn.mm_at_limit)});
}

/// An equation for a pose: effect . pose = sum of sensitivities.
struct Contact {
  PoseEffect effect;
  Sensitivities sensitivities;
};

Contact fence_contact(Variables& variables, const GuideLocator& fence) {
  const Vec2 toward = glm::normalize(fence.at - fence.contact);
  const Vec2 at = fence.contact;
  return {{toward, toward.y * at.x - toward.x * at.y},
          {variables.of(&ShopErrors::fence_seat_mm, Sharing::each_side)}};
}

/// What a side is set by along the handle: a line end, and whose errors its blank has there.
struct Mark {
  EndEffects end;
  const BlankErrors* errors = nullptr;
};

std::vector<Mark> sighted_lines(const SettingInput& input, Which which, const BuiltBlank& blank) {
  std::vector<Mark> marks;
  for (const SightWindow& window : input.guide->windows) {
    if (!(which == Which::left ? window.for_left : window.for_right)) continue;
    for (const MeetingPlace& place : input.places)
      if (place.joint == window.joint && place.line == 0 && !place.surface &&
          (place.edge == HandleEdge::spine) == window.at_spine)
        marks.push_back({which == Which::left ? place.left : place.right, &blank.of(place)});
  }
  return marks;
}

/// The front face where its stop touches it.
Mark front_stop(const SettingInput& input, Which which, const BuiltBlank& blank) {
  const MeetingPlace& front = input.places.front();
  Mark mark{which == Which::left ? front.left : front.right, &blank.front};
  for (const GuideLocator& locator : input.guide->locators)
    if (locator.role == LocatorRole::front_stop && serves(locator, which)) mark.end.at = {locator.contact, 0};
  return mark;
}

/// The mean over the windows of a side: each shows its joint line to within the sighting error. Without
/// windows the front face against its stop.
Contact set_along(Variables& variables, const SettingInput& input, Which which, const BuiltBlank& blank) {
  std::vector<Mark> marks = sighted_lines(input, which, blank);
  const bool by_stop = marks.empty();
  if (by_stop) marks.push_back(front_stop(input, which, blank));
  const double share = 1 / static_cast<double>(marks.size());
  Contact mean;
  for (const Mark& mark : marks) {
    const EndEffects line = seen(mark.end);
    mean.effect.along += line.pose.along * share;
    mean.effect.turn_mm += line.pose.turn_mm * share;
    const Sensitivity own =
        variables.of(by_stop ? &ShopErrors::fence_seat_mm : &ShopErrors::sight_mm, Sharing::each_side);
    mean.sensitivities.push_back(times(own, share));
    for (const Sensitivity& error : blank_sensitivities(*mark.errors, line))
      mean.sensitivities.push_back(times(error, -share));
  }
  return mean;
}

Settings on_guide(Variables& variables, const SettingInput& input, Which which, const BuiltBlank& blank) {
  std::vector<Contact> contacts;
  for (const GuideLocator& locator : input.guide->locators)
    if (locator.role == LocatorRole::edge_fence && serves(locator, which) && contacts.size() < 2)
      contacts.push_back(fence_contact(variables, locator));
  contacts.push_back(set_along(variables, input, which, blank));
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
    for (const Sensitivity& sensitivity : contacts[i].sensitivities) {
      const glm::dvec3 pose = solve[static_cast<int>(i)] * sensitivity.mm_at_limit;
      settings.push_back({sensitivity.variable, {{pose.x, pose.y}, pose.z}});
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

BothSettings set_by_eye(Variables& variables, const SettingInput& input, const std::optional<ByEye>& left,
                        const ByEye& right) {
  BothSettings both;
  const MeetingPlace& reference = reference_place(input.design, input.places);
  take_up(both.left, input.left.of(reference), reference.left);
  take_up(both.right, input.right.of(reference), reference.right);
  if (left) line_up_by_eye(both.left, variables, reference.left, *left);
  line_up_by_eye(both.right, variables, reference.right, right);
  return both;
}

BothSettings set_on_guide(Variables& variables, const SettingInput& input) {
  BothSettings both;
  both.left = on_guide(variables, input, Which::left, input.left);
  both.right = on_guide(variables, input, Which::right, input.right);
  return both;
}

}  // namespace haftwright::alignment
