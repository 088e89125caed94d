#include "haftwright/words/words.hpp"
#include "side_parts.hpp"

namespace haftwright::layout {
namespace {

/// A flat face in plan before anything is taken out of it.
struct PlanFace {
  const Outline& outline;
  const std::vector<Outline>& openings;
  std::vector<HalfPlane> cuts;
  std::vector<Disc> holes;
};

std::vector<Outline> cut_by(std::vector<Outline> outlines, const std::vector<HalfPlane>& cuts) {
  for (const HalfPlane& keep : cuts) outlines = clip(outlines, keep);
  return outlines;
}

double glued_area_mm2(const PlanFace& face) {
  const std::vector<Outline> outlines = cut_by({face.outline}, face.cuts);
  const std::vector<Outline> openings = cut_by(face.openings, face.cuts);
  double area = -taken_by(face.holes, outlines, openings).area_mm2;
  for (const Outline& outline : outlines) area += outline.area_mm2();
  for (const Outline& opening : openings) area -= opening.area_mm2();
  return std::max(0.0, area);
}

class Bonds {
 public:
  explicit Bonds(const SideGeometry& side)
      : side_(side), level_factor_(std::hypot(1, side.input.tang_slope / 2)) {}

  std::vector<Bond> make(const std::vector<Part>& parts, const std::vector<JointLayout>& joints) {
    for (const Part& part : parts)
      if (part.kind == PartKind::liner)
        on_liner_face(part);
      else
        under_piece(part, parts);
    for (const JointLayout& joint : joints) in_joint(joint);
    return std::move(bonds_);
  }

 private:
  /// The part's name without its side.
  std::string short_name(const Part& part) const { return part.name.substr(part.name.find(' ') + 1); }
  std::string named(const std::string& from, const std::string& to) const {
    return std::string(name_of(side_.input.which)) + ' ' + from + " to " + to;
  }
  void add(Bond::Kind kind, std::string name, double area_mm2) {
    bonds_.push_back({kind, side_.input.which, std::move(name), area_mm2});
  }

  std::vector<Disc> pin_holes(double PinHoles::*one, double PinHoles::*other) const {
    std::vector<Disc> discs;
    for (const PinHoles& hole : side_.input.holes)
      discs.push_back({hole.at, std::max(hole.*one, hole.*other) / 2});
    return discs;
  }

  void on_tang(std::string name, std::vector<HalfPlane> cuts, double PinHoles::*layer) {
    const SideInput& input = side_.input;
    PlanFace face{input.tang, input.cutouts, std::move(cuts), pin_holes(&PinHoles::tang_mm, layer)};
    for (const TangHole& hole : input.design.tang.holes)
      face.holes.push_back({hole.at_mm, hole.diameter_mm / 2});
    add(Bond::Kind::tang, std::move(name), level_factor_ * glued_area_mm2(face));
  }

  /// The face of a liner toward the tang.
  void on_liner_face(const Part& liner) {
    const std::vector<HalfPlane> cuts{behind(liner.front, liner.s_low_mm)};
    if (liner.index == 0) {
      on_tang(named("tang", short_name(liner)), cuts, &PinHoles::liner_mm);
      return;
    }
    const PlanFace face{side_.body.edge(), none_, cuts, pin_holes(&PinHoles::liner_mm, &PinHoles::liner_mm)};
    add(Bond::Kind::liner, named("liner " + std::to_string(liner.index), short_name(liner)),
        level_factor_ * glued_area_mm2(face));
  }

  /// The inner face of a piece or strip.
  void under_piece(const Part& part, const std::vector<Part>& parts) {
    if (parts.front().kind != PartKind::liner) {
      std::vector<HalfPlane> cuts{behind(part.front, 0)};
      if (!part.to_butt) cuts.push_back(ahead_of(part.rear, 0));
      on_tang(named("tang", short_name(part)), std::move(cuts), &PinHoles::scale_mm);
      return;
    }
    const std::vector<Disc> holes = pin_holes(&PinHoles::liner_mm, &PinHoles::scale_mm);
    const double area =
        std::max(0.0, part.inner_face_area_mm2 - taken_by(holes, part.inner_face, {}).area_mm2);
    const std::string liner = "liner " + std::to_string(side_.input.side.liners.size());
    add(Bond::Kind::piece, named(liner, short_name(part)), level_factor_ * area);
  }

  void in_joint(const JointLayout& joint) {
    const std::size_t strips = joint.lines.size() - 1;
    const auto neighbour = [&](std::size_t line) {
      if (line == 0) return piece_words(joint.joint, side_.input.side.pieces.size());
      if (line > strips) return piece_words(joint.joint + 1, side_.input.side.pieces.size());
      return "spacer " + std::to_string(line);
    };
    for (std::size_t i = 0; i <= strips; ++i)
      add(Bond::Kind::joint, named(numbered("joint", joint.joint) + ": " + neighbour(i), neighbour(i + 1)),
          joint.lines[i].face_area_mm2 - joint.lines[i].drilled_area_mm2);
  }

  const SideGeometry& side_;
  double level_factor_;  // true area over plan area of the tang's face and every face parallel to it
  const std::vector<Outline> none_;
  std::vector<Bond> bonds_;
};

}  // namespace

std::vector<Bond> make_bonds(const SideGeometry& side, const std::vector<Part>& parts,
                             const std::vector<JointLayout>& joints) {
  return Bonds(side).make(parts, joints);
}

}  // namespace haftwright::layout
