#include "side_parts.hpp"

#include <array>

#include "haftwright/design/validate.hpp"
#include "haftwright/words/words.hpp"
#include "numeric.hpp"
#include "part_volume.hpp"
#include "refusals.hpp"

namespace haftwright::layout {
namespace {

/// A part of less than this is none.
constexpr double kLeastVolume_mm3 = 1e-3;
/// Of golden section: enough to find a greatest height to a hundred-thousandth of a millimetre and better.
constexpr int kSteps = 20;

void stretch(Bounds& bounds, Vec2 p) {
  bounds.low = glm::min(bounds.low, p);
  bounds.high = glm::max(bounds.high, p);
}

void stretch(Bounds& bounds, const std::vector<Outline>& outlines) {
  for (const Outline& outline : outlines) {
    stretch(bounds, outline.bounds().low);
    stretch(bounds, outline.bounds().high);
  }
}

std::string on_side(Which which, const std::string& what) {
  return std::string(name_of(which)) + ' ' + what;
}

/// Plan places of a face on the surface: what a leaning face adds to the plan of its part.
void stretch(Bounds& bounds, const CutPlane& plane, const PlaneSection& section) {
  stretch(bounds, section.belly.outer);
  stretch(bounds, section.spine.outer);
  for (const Vec2 ys : section.line) stretch(bounds, {plane.x_at(ys.x, ys.y), ys.x});
}

/// Height of a face: the greatest found, or that between the places beside it.
double greatest_s(const ScaleBody& body, const CutPlane& plane, const PlaneSection& section) {
  const std::vector<Vec2>& line = section.line;
  const auto top = std::ranges::max_element(line, {}, &Vec2::y);
  if (top == line.begin() || top + 1 == line.end()) return top->y;
  const auto s_at = [&](double y) { return surface_s_mm(body, plane, y, top->y); };
  const double y = least_between((top - 1)->x, (top + 1)->x, [&](double at) { return -s_at(at); }, kSteps);
  return std::max(top->y, s_at(y));
}

std::vector<Outline> section_of(const Outline& outline, const CutPlane& front, double s) {
  return clip(outline, behind(front, s));
}

}  // namespace

std::vector<Part> make_liners(const SideGeometry& side) {
  const SideInput& input = side.input;
  const CutPlane& front = side.body.front;
  std::vector<Part> liners;
  double s = -side.body.liner_total_mm;
  for (std::size_t i = 0; i < input.side.liners.size(); ++i) {
    const Sheet& sheet = input.side.liners[i];
    Part liner;
    liner.kind = PartKind::liner;
    liner.side = input.which;
    liner.index = i;
    liner.name = on_side(input.which, numbered("liner", i));
    liner.material = sheet.material;
    liner.front = front;
    liner.to_butt = true;
    liner.s_low_mm = s;
    liner.s_high_mm = s + sheet.thickness_mm;
    liner.inner_face = section_of(side.body.edge(), front, s);
    liner.inner_face_area_mm2 = area_mm2(liner.inner_face);
    liner.plan_bounds = liner.inner_face.front().bounds();
    stretch(liner.plan_bounds, liner.inner_face);
    stretch(liner.plan_bounds, section_of(side.body.edge(), front, liner.s_high_mm));
    s = liner.s_high_mm;
    liners.push_back(std::move(liner));
  }
  return liners;
}

namespace {

/// Builds the row of pieces and strips between the front face and the butt.
class Row {
 public:
  explicit Row(const SideGeometry& side)
      : side_(side),
        rest_{side.finished},
        knots_(MonotoneCubic(side.body.surface.shape().thickness_mm).knots()) {
    heights_.push_back(greatest_s(side.body, side.body.front, side.front_section));
    for (const Face& face : side.faces)
      heights_.push_back(greatest_s(side.body, face.where.plane, face.section));
  }

  std::vector<Part> build() {
    const std::vector<Face>& faces = side_.faces;
    for (std::size_t i = 0; i <= faces.size(); ++i) {
      const bool strip = i > 0 && i < faces.size() && faces[i].where.line > 0;
      parts_.push_back(strip ? strip_before(i) : next_piece());
      finish(parts_.back(), i);
    }
    return std::move(parts_);
  }

 private:
  Part next_piece() {
    Part piece;
    piece.kind = PartKind::piece;
    piece.index = pieces_++;
    piece.name = piece_words(piece.index, side_.input.side.pieces.size());
    piece.material = side_.input.side.pieces[piece.index].material;
    return piece;
  }

  Part strip_before(std::size_t face) {
    const Interface& rear = side_.faces[face].where;
    Part strip;
    strip.kind = PartKind::spacer;
    strip.joint = rear.joint;
    strip.index = rear.line - 1;
    strip.name = numbered("joint", strip.joint) + " " + numbered("spacer", strip.index);
    strip.material = side_.input.side.joints[strip.joint].spacers[strip.index].material;
    return strip;
  }

  /// Place, faces, bounds: what pieces and strips have alike.
  void finish(Part& part, std::size_t face) {
    part.side = side_.input.which;
    part.name = on_side(part.side, part.name);
    part.front = face == 0 ? side_.body.front : side_.faces[face - 1].where.plane;
    part.to_butt = face == side_.faces.size();
    part.inner_face = rest_;
    if (!part.to_butt) {
      part.rear = side_.faces[face].where.plane;
      part.inner_face = clip(rest_, ahead_of(part.rear, 0));
      rest_ = clip(rest_, behind(part.rear, 0));
    }
    part.inner_face_area_mm2 = area_mm2(part.inner_face);
    refuse_nothing(part);
    part.plan_bounds = part.inner_face.front().bounds();
    stretch(part.plan_bounds, part.inner_face);
    const PlaneSection& front = face == 0 ? side_.front_section : side_.faces[face - 1].section;
    stretch(part.plan_bounds, part.front, front);
    part.s_high_mm = heights_[face];
    if (!part.to_butt) {
      stretch(part.plan_bounds, part.rear, side_.faces[face].section);
      part.s_high_mm = std::max(part.s_high_mm, heights_[face + 1]);
    }
    part.s_high_mm = std::max(part.s_high_mm, crest_s(part));
  }

  /// Whether there is anything of a part. The walls all round stand at least kLeastWall_mm high, so that a
  /// plan of some size settles it: what leaning faces may take off the plan up to that height is left out.
  bool holds_something(const Part& part) const {
    if (part.inner_face.empty()) return false;
    const double lean = std::abs(part.front.tan_rake) + (part.to_butt ? 0 : std::abs(part.rear.tan_rake));
    const double sure_mm2 =
        part.inner_face_area_mm2 - kLeastWall_mm * lean * side_.body.edge().bounds().size().y;
    if (kLeastWall_mm * sure_mm2 > 100 * kLeastVolume_mm3) return true;
    return part_volume_mm3(side_.body, RoundOverVolume(side_.body), part) > kLeastVolume_mm3;
  }

  void refuse_nothing(const Part& part) const {
    if (holds_something(part)) return;
    const SideInput& input = side_.input;
    const std::size_t joint = part.kind == PartKind::spacer ? part.joint
                              : part.index > 0              ? part.index - 1
                                                            : part.index;
    throw InputError(input.side.joints.empty() ? input.field("front.place_mm") : input.joint_field(joint),
                     "nothing is left of the " + part.name + "; move the joints beside it apart");
  }

  /// Greatest height of the surface that belongs to the part, its cut faces aside: the thickness runs one way
  /// between its knots and stops, so that it is greatest at or between a few places along the part.
  double crest_s(const Part& part) const {
    // A strip is so thin that its faces, looked at before, give its height but for a knot between them.
    const int places = part.kind == PartKind::spacer ? 1 : 12;
    const Bounds& box = part.plan_bounds;
    const double step = box.size().x / places;
    std::vector<double> xs = knots_;
    for (int i = 0; i <= places; ++i) xs.push_back(box.low.x + i * step);
    std::erase_if(xs, [&](double x) { return !(x >= box.low.x && x <= box.high.x); });
    // Where the crest itself belongs to the part it shows how high the part is at least: no need to look
    // beside it where it is lower.
    constexpr double kHair_mm = 1e-9;
    double sure = part.kind == PartKind::spacer ? part.s_high_mm : 0;
    for (const double x : xs) sure = std::max(sure, surface_s(part, {x, crest_y()}));
    double greatest = 0;
    double at = box.low.x;
    const auto look = [&](double x) {
      if (const double top = crest_at(part, x); top > greatest) greatest = top, at = x;
    };
    for (const double x : xs)
      if (crown_s(x) >= sure - kHair_mm) look(x);
    if (greatest > 0 && part.kind == PartKind::piece)
      look(least_between(
          std::max(box.low.x, at - step), std::min(box.high.x, at + step),
          [&](double x) { return -crest_at(part, x); }, kSteps));
    return greatest;
  }

  double crest_y() const { return side_.body.surface.shape().crest_y_mm; }
  /// Height of the crown on its crest, which no place over the same x is higher than.
  double crown_s(double x) const {
    return side_.body.surface.crown_mm({x, crest_y()}) - side_.body.liner_total_mm;
  }
  /// Height of the surface at a place; 0 where it does not belong to the part.
  double surface_s(const Part& part, Vec2 p) const {
    const auto holds = [&](double s) {
      return part.front.behind_mm(p.x, p.y, s) >= 0 &&
             (part.to_butt || part.rear.behind_mm(p.x, p.y, s) <= 0);
    };
    // Between upright faces the height need not be known.
    if (part.front.tan_rake == 0 && part.rear.tan_rake == 0 && !holds(0)) return 0;
    const double s = side_.body.s_at(p);
    return holds(s) ? s : 0;
  }

  /// Greatest height over one x; 0 where no surface of the part lies.
  double crest_at(const Part& part, double x) const {
    const double on_crest = surface_s(part, {x, crest_y()});
    if (on_crest > crown_s(x) - 1e-9) return on_crest;
    const std::vector<Crossing> walls = crossings(side_.body.edge(), {x, 0}, {0, 1});
    if (walls.empty()) return on_crest;
    const double y = least_between(
        walls.front().point.y, walls.back().point.y,
        [&](double at) {
          return -surface_s(part, {x, at});
        },
        kSteps);
    return std::max(on_crest, surface_s(part, {x, y}));
  }

  const SideGeometry& side_;
  std::vector<Outline> rest_;
  std::vector<double> knots_;    // of the thickness
  std::vector<double> heights_;  // of the front face and every joint's faces
  std::vector<Part> parts_;
  std::size_t pieces_ = 0;
};

}  // namespace

std::vector<Part> make_pieces(const SideGeometry& side) {
  return Row(side).build();
}

}  // namespace haftwright::layout
