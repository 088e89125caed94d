#include "drag_joint_parts.hpp"

#include "haftwright/design/ids.hpp"

namespace haftwright::edits {
namespace {

std::string named_step(const char* verb, const Design& design, const Selection& what) {
  return of_side(design, verb + numbered(" joint", joint_at(design, what)), what.side, SideField::joints);
}

}  // namespace

std::vector<std::string> joint_ids(const Design& design, Which side) {
  return ids_of(design.joints(side));
}

std::size_t joint_at(const Design& design, const Selection& what) {
  return index_of(design.joints(what.side), what.id);
}

bool joint_exists(const Design& design, const Selection& what) {
  return joint_at(design, what) < design.joints(what.side).size();
}

const Joint& joint_of(const Design& design, const Selection& what) {
  return design.joints(what.side)[joint_at(design, what)];
}

std::string joint_title(const Design& design, const Selection& what) {
  return of_side(design, numbered("Joint", joint_at(design, what)), what.side, SideField::joints);
}

Edited remove_joint(const Design& design, const Selection& what) {
  return remove_piece(design, what.side, joint_at(design, what) + 1);
}

Vec3 joint_end(const JointLayout& layout, HandleEdge edge) {
  const auto end = [&](const JointLine& line) { return edge == HandleEdge::spine ? line.spine : line.belly; };
  const LineEnd front = end(layout.lines.front()), rear = end(layout.lines.back());
  return {(front.outer.x + rear.outer.x) / 2, (front.outer.y + rear.outer.y) / 2,
          (front.outer_s_mm + rear.outer_s_mm) / 2};
}

std::string other_sides(const HeldThing& held, const Selection& what, double Joint::*figure, const char* same,
                        const std::function<std::string(double)>& off_by) {
  if (linked(held.design, SideField::joints)) return kTogether;
  Selection other = what;
  other.side = what.side == Which::left ? Which::right : Which::left;
  if (!joint_exists(held.design, other)) return {};
  const double off = joint_of(held.design, other).*figure - joint_of(held.design, what).*figure;
  const std::string whose = std::string(" the ") + name_of(other.side) + " side's";
  return off == 0 ? same + whose : off_by(std::abs(off)) + " off" + whose;
}

std::vector<std::string> tell_turn(const HeldThing& held, const Selection& what, const char* name,
                                   double Joint::*angle_deg) {
  if (!joint_exists(held.base, what)) return {};
  const auto degrees = [](double deg) { return format_number(deg, 1) + "°"; };
  std::vector<std::string> lines{std::string(name) + " " + degrees(joint_of(held.design, what).*angle_deg) +
                                 "  (was " + degrees(joint_of(held.base, what).*angle_deg) + ")"};
  const std::string others = other_sides(held, what, angle_deg, "same as", degrees);
  if (!others.empty()) lines.push_back(others);
  return lines;
}

std::string place_step(const Design& design, const Selection& what) {
  return named_step("Move", design, what);
}
std::string slant_step(const Design& design, const Selection& what) {
  return named_step("Slant", design, what);
}
std::string rake_step(const Design& design, const Selection& what) {
  return named_step("Rake", design, what);
}

}  // namespace haftwright::edits
