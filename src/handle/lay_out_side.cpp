#include "lay_out_side.hpp"

#include <limits>

#include "haftwright/design/validate.hpp"
#include "haftwright/geometry/outline_ops.hpp"
#include "haftwright/words/words.hpp"
#include "refusals.hpp"
#include "side_parts.hpp"

namespace haftwright::layout {
namespace {

double thickest_mm(const Finish& finish) {
  return MonotoneCubic(finish.thickness_mm).greatest();
}

/// x of the front face where it reaches farthest forward over a plan of these bounds.
double foremost_mm(const CutPlane& front, const Bounds& bounds, double s_low, double s_high) {
  double foremost = std::numeric_limits<double>::infinity();
  for (const double y : {bounds.low.y, bounds.high.y})
    for (const double s : {s_low, s_high}) foremost = std::min(foremost, front.x_at(y, s));
  return foremost;
}

/// The tang's outline with the butt allowance.
Outline backed_outline(const SideInput& input) {
  try {
    return drawn_out(input.tang, End::butt, input.side.butt_proud_mm);
  } catch (const EndError& error) {
    throw InputError(input.field("butt_proud_mm"),
                     "the tang's butt has no face that could stand proud: " + std::string(error.what()) +
                         "; set it to 0, or draw the tang's outline with a butt");
  }
}

/// The outline drawn out past the front face so far that the round-over does not turn the corner there.
Outline edge_outline(const SideInput& input, const CutPlane& front, const Outline& backed) {
  const Bounds& bounds = backed.bounds();
  const double liners = input.liner_total_mm();
  // The round-over reaches in by less than twice its radius.
  const double clear = foremost_mm(front, bounds, -liners, thickest_mm(input.side.finish) - liners) -
                       2 * input.side.finish.round_over_mm - 1;
  // The front end may itself be slanted or round: its rearmost place too must come to lie ahead, which it
  // does after one height more.
  const double by_mm = std::max(0.0, bounds.low.x - clear + bounds.size().y);
  std::optional<Outline> drawn;
  std::string problem;
  try {
    drawn = drawn_out(backed, End::front, by_mm);
    if (over_air_mm2(*drawn, backed, front, liners) <= kOverAir_mm2) return *drawn;
  } catch (const EndError& error) {
    problem = error.what();
  }
  // Where the tang goes on far enough ahead of the front face, the rest of it may be left out instead.
  std::vector<Outline> kept = clip(backed, {{-1, 0}, -clear});
  if (kept.size() == 1 && bounds.low.x < clear) return std::move(kept.front());
  if (drawn) return *drawn;
  throw InputError(input.field("front.place_mm"),
                   "the tang's outline can't be carried on ahead of the front face: " + problem +
                       "; draw the tang's outline further toward the blade, or move the front face back");
}

/// Turns places of a side into places in the handle's frame.
class Framing {
 public:
  Framing(const SideInput& input, const ScaleBody& body) : input_(input), body_(body) {}

  Vec3 at(Vec2 p, double s) const {
    const double z =
        (input_.tang_thickness_front_mm + input_.tang_slope * p.x) / 2 + body_.liner_total_mm + s;
    return {p.x, p.y, input_.which == Which::left ? z : -z};
  }
  LineEnd end(const FaceEnd& face) const {
    return {at(face.inner, 0), at(face.outer, face.outer_s_mm), face.outer_s_mm};
  }
  JointLine line(const Face& face) const {
    const CutPlane& plane = face.where.plane;
    JointLine line;
    line.plane = plane;
    line.spine = end(face.section.spine);
    line.belly = end(face.section.belly);
    line.on_surface.reserve(face.section.line.size());
    for (const Vec2 ys : face.section.line)
      line.on_surface.push_back(at({plane.x_at(ys.x, ys.y), ys.x}, ys.y));
    const double factor = true_area_factor(body_, plane);
    line.face_area_mm2 = factor * face.section.area_mm2;
    line.drilled_area_mm2 = std::min(
        line.face_area_mm2, factor * drilled_face_mm2(body_, plane, discs_of(input_, &PinHoles::scale_mm)));
    return line;
  }

 private:
  const SideInput& input_;
  const ScaleBody& body_;
};

std::string joint_name(const Interface& face) {
  return numbered("joint", face.joint);
}

/// Every joint's faces, none crossing its neighbour.
std::vector<Face> cut_faces(const SideInput& input, const ScaleBody& body, const PlaneSection& front) {
  std::vector<Face> faces;
  for (const Interface& where : interfaces_of(input.side, input.tang_slope / 2)) {
    const std::string field = input.joint_field(where.joint);
    faces.push_back({where, face_through(input, body, where.plane, joint_name(where), field)});
    const NamedFace here{faces.back().where.plane, faces.back().section, joint_name(where)};
    if (where.line > 0) continue;  // faces of one joint are parallel
    if (faces.size() == 1) {
      refuse_crossing(input, {body.front, front, "the front face"}, here, field);
    } else {
      const Face& before = faces[faces.size() - 2];
      refuse_crossing(input, {before.where.plane, before.section, joint_name(before.where)}, here, field);
    }
  }
  return faces;
}

std::vector<JointLayout> joints_of(const Framing& framing, const std::vector<Face>& faces) {
  std::vector<JointLayout> joints;
  for (const Face& face : faces) {
    if (face.where.line == 0) joints.push_back({face.where.joint, {}});
    joints.back().lines.push_back(framing.line(face));
  }
  return joints;
}

}  // namespace

SideLayout lay_out_side(const SideInput& input) {
  const CutPlane front = front_plane(input.side.front);
  const Outline backed = backed_outline(input);
  const Outline edge = edge_outline(input, front, backed);
  HeightField surface = finished_surface(input, edge);
  const double liners = input.liner_total_mm();
  const ScaleBody body{surface, liners, front, thickest_mm(input.side.finish) - liners};
  Outline finished = finished_outline(input, body, backed);
  const LowWall lowest_wall = sound_lowest_wall(input, body);
  const PlaneSection front_section =
      face_through(input, body, front, "the front face", input.field("front.place_mm"));
  const std::vector<Face> faces = cut_faces(input, body, front_section);

  const SideGeometry geometry{input, body, finished, front_section, faces};
  std::vector<Part> parts = make_liners(geometry);
  std::ranges::move(make_pieces(geometry), std::back_inserter(parts));
  const Framing framing(input, body);
  std::vector<JointLayout> joints = joints_of(framing, faces);
  std::vector<Bond> bonds = make_bonds(geometry, parts, joints);
  return {.which = input.which,
          .finished = std::move(finished),
          .edge = edge,
          .surface = surface,
          .liner_total_mm = liners,
          .front = front,
          .parts = std::move(parts),
          .joints = std::move(joints),
          .bonds = std::move(bonds),
          .front_spine = framing.end(front_section.spine),
          .front_belly = framing.end(front_section.belly),
          .lowest_wall = lowest_wall};
}

SideLayout mirrored_side(const SideLayout& side) {
  SideLayout other = side;
  other.which = side.which == Which::left ? Which::right : Which::left;
  const std::string from = name_of(side.which);
  const auto rename = [&](std::string& name) { name.replace(0, from.size(), name_of(other.which)); };
  const auto flip = [](Vec3& p) { p.z = -p.z; };
  const auto flip_end = [&](LineEnd& end) {
    flip(end.inner);
    flip(end.outer);
  };
  for (Part& part : other.parts) {
    part.side = other.which;
    rename(part.name);
  }
  for (Bond& bond : other.bonds) {
    bond.side = other.which;
    rename(bond.name);
  }
  for (JointLayout& joint : other.joints)
    for (JointLine& line : joint.lines) {
      flip_end(line.spine);
      flip_end(line.belly);
      std::ranges::for_each(line.on_surface, flip);
    }
  flip_end(other.front_spine);
  flip_end(other.front_belly);
  return other;
}

}  // namespace haftwright::layout
