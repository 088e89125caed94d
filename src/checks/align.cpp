// The costly one: do the joint lines of the left and the right side meet across the spine and the belly?
#include <algorithm>
#include <array>
#include <cmath>
#include <numbers>

#include "haftwright/handle/shared_lines.hpp"
#include "kinds.hpp"

namespace haftwright::checks {
namespace {

constexpr const char* kStepWhy =
    "Lines that miss each other across the handle can't be put right after the glue. Give both sides the "
    "same joint, "
    "or make their thickness agree where the joint is raked.";

/// One place where a left and a right line are held against each other.
struct Meeting {
  std::string id;
  Where where;
  Vec3 left;
  Vec3 right;
};

void add_meeting(const Report& report, Meeting meeting) {
  report.add({.id = std::move(meeting.id),
              .where = meeting.where,
              .place = meeting.left,
              .to = meeting.right,
              .value = std::abs(meeting.left.x - meeting.right.x),
              .limit = report.design.rules.joint_step_mm,
              .sense = Sense::at_most,
              .why = kStepWhy,
              .basis = basis_words(&ShopRules::joint_step_mm)});
}

void add_ends(const Report& report, const std::string& id, const SharedLine& line, HandleEdge edge) {
  Spot at = line.spot;
  at.edge = edge;
  const LineEnd& left = line.left.at(edge);
  const LineEnd& right = line.right.at(edge);
  at.level = Level::inner_face;
  add_meeting(report, {id, {at}, left.inner, right.inner});
  at.level = Level::finished_surface;
  add_meeting(report, {id, {at}, left.outer, right.outer});
}

void add_count(const Report& report, const Spot& what, std::size_t left, std::size_t right) {
  const double difference = std::abs(static_cast<double>(left) - static_cast<double>(right));
  report.add({.id = "align.count",
              .where = {what},
              .value = difference,
              .limit = 0,
              .sense = Sense::at_most,
              .unit = FigureUnit::count,
              .why = "There are " + std::to_string(left) + " on the left and " + std::to_string(right) +
                     " on the right. A line on one side with no partner on the other can't meet anything "
                     "across the spine. Give both "
                     "sides the same joints and strips.",
              .basis = "common practice"});
}

void add_angle(const Report& report, Spot at, Aspect aspect, double left_tan, double right_tan, Vec3 place) {
  at.aspect = aspect;
  const double apart = std::abs(std::atan(left_tan) - std::atan(right_tan)) * 180 / std::numbers::pi;
  report.add(
      {.id = "align.angle",
       .where = {at},
       .place = place,
       .value = apart,
       .limit = report.design.rules.joint_angle_deg,
       .sense = Sense::at_most,
       .unit = FigureUnit::degree,
       .why =
           "Lines that meet at one end but run in different directions part toward the other. Set both sides "
           "to the same slant and rake.",
       .basis = basis_words(&ShopRules::joint_angle_deg)});
}

void add_angles(const Report& report, const Spot& what, const CutPlane& left, const CutPlane& right,
                Vec3 place) {
  add_angle(report, what, Aspect::slant, left.tan_slant, right.tan_slant, place);
  add_angle(report, what, Aspect::rake, left.tan_rake, right.tan_rake, place);
}

}  // namespace

void check_align_count(const Report& report) {
  const auto& left = report.handle.left.joints;
  const auto& right = report.handle.right.joints;
  add_count(report, {.thing = Thing::joint, .aspect = Aspect::count}, left.size(), right.size());
  for (std::size_t j = 0; j < std::min(left.size(), right.size()); ++j)
    add_count(report, {.thing = Thing::joint, .index = j, .aspect = Aspect::count}, left[j].lines.size(),
              right[j].lines.size());
}

void check_align_spine(const Report& report) {
  for (const SharedLine& line : shared_lines(report.handle))
    if (line.joint) add_ends(report, "align.spine", line, HandleEdge::spine);
}

void check_align_belly(const Report& report) {
  for (const SharedLine& line : shared_lines(report.handle))
    if (line.joint) add_ends(report, "align.belly", line, HandleEdge::belly);
}

void check_align_angle(const Report& report) {
  // The lines of one joint are parallel, so the first of them speaks for all.
  for (const SharedLine& line : shared_lines(report.handle))
    if (line.line == 0) {
      Spot at = line.spot;
      at.line.reset();
      add_angles(report, at, line.left.plane, line.right.plane, line.left.spine.inner);
    }
}

void check_align_front(const Report& report) {
  const SharedLine front = shared_lines(report.handle).front();
  add_ends(report, "align.front", front, HandleEdge::spine);
  add_ends(report, "align.front", front, HandleEdge::belly);
}

}  // namespace haftwright::checks
