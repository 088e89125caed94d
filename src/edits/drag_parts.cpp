#include "drag_parts.hpp"

namespace haftwright::edits {

std::string of_side(const Design& design, const std::string& text, Which side, SideField field) {
  return linked(design, field) ? text : text + ", " + name_of(side) + " side";
}

FoldRegion face_of(Which side) {
  return side == Which::left ? FoldRegion::left_face : FoldRegion::right_face;
}

Side side_of(const Design& design, Which side) {
  return side == Which::left ? design.left : design.right_side();
}

void add_on_faces(const Grip& grip, Vec2 at, std::vector<Grip>& grips) {
  for (const Which side : {Which::left, Which::right}) {
    grips.push_back(grip);
    grips.back().place = {face_of(side), at.x, at.y};
  }
}

const std::vector<Node>* chain_of(const Design& design, const Selection& what) {
  if (!what.cutout) return &design.tang.outline;
  return *what.cutout < design.tang.cutouts.size() ? &design.tang.cutouts[*what.cutout] : nullptr;
}

bool node_exists(const Design& design, const Selection& what) {
  const std::vector<Node>* chain = chain_of(design, what);
  return chain && what.index < chain->size();
}

std::string whose_outline(const Selection& what) {
  return what.cutout ? numbered("cutout", *what.cutout) : "tang";
}

std::string length_text(double mm, LengthUnit unit) {
  return format_length(mm, unit == LengthUnit::inch_fraction ? LengthUnit::inch : unit);
}

std::string place_text(Vec2 at, LengthUnit unit) {
  return length_text(at.x, unit) + " along,  " + length_text(at.y, unit) + " across";
}

std::string moved_text(double mm, LengthUnit unit) {
  return (mm < 0 ? "-" : "+") + length_text(std::abs(mm), unit);
}

std::string moved_text(Vec2 by, LengthUnit unit) {
  return "moved " + moved_text(by.x, unit) + ",  " + moved_text(by.y, unit);
}

}  // namespace haftwright::edits
