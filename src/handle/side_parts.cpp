#include "side_parts.hpp"

#include <array>

#include "haftwright/design/validate.hpp"
#include "volumes.hpp"

namespace haftwright::layout {
namespace {

/// A part of less than this is none.
constexpr double kLeastVolume_mm3 = 1e-3;

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

/// Height of a face: that of its highest place found, or of the surface where the parabola through that place
/// and its neighbours has its top.
double greatest_s(const ScaleBody& body, const CutPlane& plane, const PlaneSection& section) {
  const std::vector<Vec2>& line = section.line;
  const auto top = std::ranges::max_element(line, {}, &Vec2::y);
  if (top == line.begin() || top + 1 == line.end()) return top->y;
  const Vec2 before = *(top - 1) - *top;
  const Vec2 after = *(top + 1) - *top;
  const double bend = (after.y / after.x - before.y / before.x) / (after.x - before.x);
  const double slope = before.y / before.x - bend * before.x;
  if (!(bend < 0)) return top->y;
  return std::max(top->y, surface_s_mm(body, plane, top->x - slope / (2 * bend), top->y));
}

std::vector<Outline> section_of(const Outline& outline, const CutPlane& front, double s) {
  return clip(outline, behind(front, s));
}

}  // namespace

std::string piece_name(std::size_t index, std::size_t count) {
  if (count == 1) return "piece";
  if (index == 0) return "front piece";
  if (index + 1 == count) return "rear piece";
  return count == 3 ? "middle piece" : "piece " + std::to_string(index + 1);
}

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
    liner.name = on_side(input.which, "liner " + std::to_string(i + 1));
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
    for (const PinHoles& hole : input.holes)
      liner.drilled_mm3 +=
          sheet.thickness_mm * taken_by({{hole.at, hole.liner_mm / 2}}, liner.inner_face, {}).area_mm2;
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
    piece.name = piece_name(piece.index, side_.input.side.pieces.size());
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
    strip.name = "joint " + std::to_string(strip.joint + 1) + " spacer " + std::to_string(strip.index + 1);
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

  /// Greatest height along the crest: between knots the thickness runs one way, so that it is highest at a
  /// knot or at the part's ends.
  double crest_s(const Part& part) const {
    const SurfaceShape& shape = side_.body.surface.shape();
    const Slice slice{part.front, part.rear, part.to_butt};
    const Bounds& box = part.plan_bounds;
    double greatest = 0;
    const auto look = [&](double x) {
      if (x < box.low.x || x > box.high.x) return;
      const std::vector<Crossing> walls = crossings(side_.body.edge(), {x, 0}, {0, 1});
      if (walls.empty()) return;
      const double low = walls.front().point.y + shape.round_over_mm;
      const double high = walls.back().point.y - shape.round_over_mm;
      const double y = low < high ? std::clamp(shape.crest_y_mm, low, high) : (low + high) / 2;
      const double top = side_.body.s_at({x, y});
      if (slice.column_mm({x, y}, top) > 0) greatest = std::max(greatest, top);
    };
    for (const double x : MonotoneCubic(shape.thickness_mm).knots()) look(x);
    for (const double x : {box.low.x, box.low.x + shape.round_over_mm, (box.low.x + box.high.x) / 2,
                           box.high.x - shape.round_over_mm, box.high.x})
      look(x);
    return greatest;
  }

  void add_drilled() {
    std::vector<Slice> slices;
    for (const Part& part : parts_) slices.push_back({part.front, part.rear, part.to_butt});
    for (const PinHoles& hole : side_.input.holes) {
      const std::vector<double> drilled = drilled_mm3(side_.body, {hole.at, hole.scale_mm / 2}, slices);
      for (std::size_t i = 0; i < parts_.size(); ++i) parts_[i].drilled_mm3 += drilled[i];
    }
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
