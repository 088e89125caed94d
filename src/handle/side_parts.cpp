#include "side_parts.hpp"

#include <array>

#include "haftwright/design/validate.hpp"
#include "haftwright/words/words.hpp"
#include "numeric.hpp"
#include "volumes.hpp"

namespace haftwright::layout {
namespace {

/// A part of less than this is none.
constexpr double kLeastVolume_mm3 = 1e-3;
/// Of golden section: enough to find a greatest height to a hundred-thousandth of a millimetre and better.
constexpr int kSteps = 20;

double area_mm2(const std::vector<Outline>& outlines) {
  double area = 0;
  for (const Outline& outline : outlines) area += outline.area_mm2();
  return area;
}

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
    const double middle = area_mm2(section_of(side.body.edge(), front, s + sheet.thickness_mm / 2));
    const std::vector<Outline> outer_face = section_of(side.body.edge(), front, liner.s_high_mm);
    // Exact where the front face meets straight walls: the plan's area is then quadratic in s.
    liner.volume_mm3 =
        sheet.thickness_mm * (liner.inner_face_area_mm2 + 4 * middle + area_mm2(outer_face)) / 6;
    liner.drilled_mm3 = integrate(kGauss3, s, liner.s_high_mm, [&](double at) {
      return taken_by(discs_of(input, &PinHoles::liner_mm), section_of(side.body.edge(), front, at), {})
          .area_mm2;
    });
    liner.plan_bounds = liner.inner_face.front().bounds();
    stretch(liner.plan_bounds, liner.inner_face);
    stretch(liner.plan_bounds, outer_face);
    s = liner.s_high_mm;
    liners.push_back(std::move(liner));
  }
  return liners;
}

namespace {

/// Builds the row of pieces and strips between the front face and the butt.
class Row {
 public:
  explicit Row(const SideGeometry& side) : side_(side), rest_{side.finished} {}

  std::vector<Part> build() {
    const std::vector<Face>& faces = side_.faces;
    for (std::size_t i = 0; i <= faces.size(); ++i) {
      const bool strip = i > 0 && i < faces.size() && faces[i].where.line > 0;
      parts_.push_back(strip ? strip_before(i) : next_piece());
      finish(parts_.back(), i);
    }
    add_drilled();
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
    const Face& rear = side_.faces[face];
    const Face& front = side_.faces[face - 1];
    Part strip;
    strip.kind = PartKind::spacer;
    strip.joint = rear.where.joint;
    strip.index = rear.where.line - 1;
    strip.name = numbered("joint", strip.joint) + " " + numbered("spacer", strip.index);
    strip.material = side_.input.side.joints[strip.joint].spacers[strip.index].material;
    strip.volume_mm3 =
        slab_volume_mm3(side_.body, front.where.plane, front.section.area_mm2, rear.section.area_mm2,
                        rear.where.plane.x0_mm - front.where.plane.x0_mm);
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
    if (part.kind == PartKind::piece)
      part.volume_mm3 = volume_between_mm3(side_.body, side_.round_over, part.inner_face, part.front,
                                           part.to_butt ? std::nullopt : std::optional(part.rear));
    refuse_nothing(part);
    part.plan_bounds = part.inner_face.front().bounds();
    stretch(part.plan_bounds, part.inner_face);
    const PlaneSection& front = face == 0 ? side_.front_section : side_.faces[face - 1].section;
    stretch(part.plan_bounds, part.front, front);
    part.s_high_mm = greatest_s(side_.body, part.front, front);
    if (!part.to_butt) {
      stretch(part.plan_bounds, part.rear, side_.faces[face].section);
      part.s_high_mm = std::max(part.s_high_mm, greatest_s(side_.body, part.rear, side_.faces[face].section));
    }
    part.s_high_mm = std::max(part.s_high_mm, crest_s(part));
  }

  void refuse_nothing(const Part& part) const {
    if (part.volume_mm3 > kLeastVolume_mm3 && !part.inner_face.empty()) return;
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
    // A strip is so thin that its faces tell its height but for a knot between them.
    const int places = part.kind == PartKind::spacer ? 1 : 12;
    const Bounds& box = part.plan_bounds;
    const double step = box.size().x / places;
    double greatest = 0;
    double at = box.low.x;
    const auto look = [&](double x) {
      const double top = x >= box.low.x && x <= box.high.x ? crest_at(part, x) : 0;
      if (top > greatest) greatest = top, at = x;
    };
    for (const double x : MonotoneCubic(side_.body.surface.shape().thickness_mm).knots()) look(x);
    for (int i = 0; i <= places; ++i) look(box.low.x + i * step);
    if (greatest > 0 && part.kind == PartKind::piece)
      look(least_between(
          std::max(box.low.x, at - step), std::min(box.high.x, at + step),
          [&](double x) { return -crest_at(part, x); }, kSteps));
    return greatest;
  }

  /// Greatest height over one x; 0 where no surface of the part lies.
  double crest_at(const Part& part, double x) const {
    const SurfaceShape& shape = side_.body.surface.shape();
    const auto top = [&](double y) {
      const double s = side_.body.s_at({x, y});
      const bool holds =
          part.front.behind_mm(x, y, s) >= 0 && (part.to_butt || part.rear.behind_mm(x, y, s) <= 0);
      return holds ? s : 0;
    };
    const double on_crest = top(shape.crest_y_mm);
    const double crown = side_.body.surface.crown_mm({x, shape.crest_y_mm}) - side_.body.liner_total_mm;
    if (on_crest > crown - 1e-9) return on_crest;
    const std::vector<Crossing> walls = crossings(side_.body.edge(), {x, 0}, {0, 1});
    if (walls.empty()) return on_crest;
    const double y = least_between(
        walls.front().point.y, walls.back().point.y, [&](double at) { return -top(at); }, kSteps);
    return std::max(on_crest, top(y));
  }

  void add_drilled() {
    std::vector<Slice> slices;
    for (const Part& part : parts_) slices.push_back({part.front, part.rear, part.to_butt});
    const std::vector<double> drilled =
        drilled_mm3(side_.body, discs_of(side_.input, &PinHoles::scale_mm), slices);
    for (std::size_t i = 0; i < parts_.size(); ++i) parts_[i].drilled_mm3 = drilled[i];
  }

  const SideGeometry& side_;
  std::vector<Outline> rest_;
  std::vector<Part> parts_;
  std::size_t pieces_ = 0;
};

}  // namespace

std::vector<Part> make_pieces(const SideGeometry& side) {
  return Row(side).build();
}

}  // namespace haftwright::layout
