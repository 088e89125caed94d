#include "haftwright/preview/guide_mesh.hpp"

#include <algorithm>
#include <array>
#include <stdexcept>

#include "body_maker.hpp"
#include "haftwright/geometry/outline_ops.hpp"
#include "haftwright/preview/ear_clipping.hpp"

namespace haftwright {

using namespace preview;
namespace {

// Chosen by eye: a pale plate, dark marks, and the vermilion that stays apart for colour-blind eyes (Okabe
// and Ito, "Color Universal Design", 2008) for what has no room.
constexpr Colour kPlate{0.70F, 0.73F, 0.75F};
constexpr Colour kMark{0.20F, 0.23F, 0.27F};
constexpr Colour kNoRoom{0.84F, 0.37F, 0.0F};
constexpr double kMarkRelief_mm = 0.05;
constexpr double kPlugRelief_mm = 0.4;
/// Neighbouring chords that turn less than this belong to one round.
constexpr double kRoundTurnCosine = 0.80;

using Loop = std::vector<Vec2>;

/// As a polyline; corners so near each other that single precision could not tell their direction are one.
Loop chords(const Outline& outline, double deviation) {
  constexpr double kOnePlace_mm = 0.002;
  Loop loop;
  for (const Vec2 p : polyline(outline, deviation))
    if (loop.empty() || glm::distance(p, loop.back()) > kOnePlace_mm) loop.push_back(p);
  while (loop.size() > 3 && glm::distance(loop.front(), loop.back()) <= kOnePlace_mm) loop.pop_back();
  return loop;
}

Outline circle(Vec2 at, double diameter) {
  const Vec2 half{diameter / 2, 0};
  return Outline({{at - half, 1}, {at + half, 1}});
}

/// A height that may run up or down along x, as the faces of a wedge do.
struct Level {
  double at_zero_mm = 0;
  double slope = 0;
  double at(Vec2 p) const { return at_zero_mm + slope * p.x; }
  Level operator+(double mm) const { return {at_zero_mm + mm, slope}; }
  Level operator-() const { return {-at_zero_mm, -slope}; }
};

/// Adds flat faces and upright walls to a body.
class PrismMaker {
 public:
  explicit PrismMaker(Body& body) : body_(body) {}

  void face(const Level& level, bool upward, const Loop& outer, const std::vector<Loop>& openings = {}) {
    const auto first = static_cast<std::uint32_t>(body_.vertices.size());
    const Vec3 up = glm::normalize(Vec3(-level.slope, 0, 1));
    const auto put = [&](const Loop& loop) {
      for (const Vec2 p : loop) body_.vertices.push_back(vertex({p, level.at(p)}, upward ? up : -up));
    };
    put(outer);
    for (const Loop& opening : openings) put(opening);
    for (const auto& [a, b, c] : fill(outer, openings))
      body_.triangles.insert(body_.triangles.end(),
                             {first + a, first + (upward ? b : c), first + (upward ? c : b)});
  }

  /// The wall over a counter-clockwise loop; material lies inside it, or outside.
  void wall(const Loop& loop, const Level& low, const Level& high, bool material_inside) {
    const std::size_t count = loop.size();
    const auto along = [&](std::size_t i) { return glm::normalize(loop[(i + 1) % count] - loop[i]); };
    for (std::size_t i = 0; i < count; ++i) {
      const std::size_t next = (i + 1) % count;
      const Vec2 here = along(i);
      const Vec2 from = rounded(along((i + count - 1) % count), here);
      const Vec2 to = rounded(along(next), here);
      const Vec2 a = loop[i];
      const Vec2 b = loop[next];
      quad({Vec3(a, low.at(a)), Vec3(b, low.at(b)), Vec3(b, high.at(b)), Vec3(a, high.at(a))}, from, to,
           material_inside);
    }
  }

  void prism(const Loop& loop, const Level& low, const Level& high) {
    face(low, false, loop);
    face(high, true, loop);
    wall(loop, low, high, true);
  }

 private:
  /// Direction of the surface where two chords meet: shared on a round, the chord's own at a corner.
  static Vec2 rounded(Vec2 neighbour, Vec2 own) {
    return glm::dot(neighbour, own) > kRoundTurnCosine ? glm::normalize(neighbour + own) : own;
  }
  void quad(const std::array<Vec3, 4>& corners, Vec2 from_along, Vec2 to_along, bool material_inside) {
    const auto first = static_cast<std::uint32_t>(body_.vertices.size());
    for (std::size_t k = 0; k < corners.size(); ++k) {
      const Vec2 run = k == 0 || k == 3 ? from_along : to_along;
      const Vec2 outward = material_inside ? Vec2{run.y, -run.x} : Vec2{-run.y, run.x};
      body_.vertices.push_back(vertex(corners[k], {outward, 0}));
    }
    const std::uint32_t b = first + (material_inside ? 1 : 3);
    const std::uint32_t d = first + (material_inside ? 3 : 1);
    body_.triangles.insert(body_.triangles.end(), {first, b, first + 2, first, first + 2, d});
  }

  Body& body_;
};

class GuideMaker {
 public:
  GuideMaker(const DrillGuide& guide, double deviation)
      : guide_(guide), deviation_(deviation), half_{guide.face_z_mm(0), guide.thickness_slope / 2} {}

  Preview make() {
    sort_out();
    plate();
    for (const GuideMark& mark : guide_.marks) inlay(mark);
    for (std::size_t i = 0; i < loose_fences_.size(); ++i)
      upright("fence", kPlate, loose_fences_[i], Level{loose_fence_tops_[i]});
    for (const Outline& plug : plugs_) upright("no room here", kNoRoom, plug, half_ + kPlugRelief_mm);
    measure_bounds(preview_);
    return std::move(preview_);
  }

 private:
  /// Clear of the plate's edge and of everything taken so far, so that chords can't cross either.
  bool has_room(const Outline& outline) const {
    const double least = 4 * deviation_;
    if (!contains(guide_.plate, outline) || boundary_distance_mm(guide_.plate, outline) < least) return false;
    const auto clear = [&](const Outline& other) {
      return boundary_distance_mm(other, outline) >= least && !contains(other, outline) &&
             !contains(outline, other);
    };
    return std::all_of(fences_.begin(), fences_.end(), clear) &&
           std::all_of(openings_.begin(), openings_.end(), clear);
  }

  void sort_out() {
    const auto take = [&](const Outline& outline, std::vector<Outline>& good, std::vector<Outline>& bad) {
      (has_room(outline) ? good : bad).push_back(outline);
    };
    for (const GuideBore& bore : guide_.bores) take(circle(bore.at, bore.diameter_mm), openings_, plugs_);
    for (const GuideLocator& locator : guide_.locators)
      if (locator.loose) take(circle(locator.at, locator.diameter_mm), openings_, plugs_);
    for (const GuideLocator& locator : guide_.locators) {
      if (locator.loose) continue;
      const Outline fence = circle(locator.at, locator.diameter_mm);
      const bool fits = has_room(fence);
      (fits ? fences_ : loose_fences_).push_back(fence);
      (fits ? fence_tops_ : loose_fence_tops_).push_back(guide_.fence_top_mm(locator));
    }
    for (const SightWindow& window : guide_.windows) take(window.outline, openings_, plugs_);
  }

  Body& add_body(const char* name, const Colour& colour) {
    Body body;
    body.id = {.kind = BodyKind::guide, .index = preview_.bodies.size()};
    body.name = name;
    body.material_kind = MaterialKind::plastic;
    body.colour = colour;
    preview_.bodies.push_back(std::move(body));
    return preview_.bodies.back();
  }

  void plate() {
    PrismMaker maker(add_body("drill guide", kPlate));
    const Loop outer = chords(guide_.plate, deviation_);
    std::vector<Loop> through;
    for (const Outline& opening : openings_) through.push_back(chords(opening, deviation_));
    std::vector<Loop> on_face = through;
    for (const Outline& fence : fences_) on_face.push_back(chords(fence, deviation_));
    maker.face(half_, true, outer, on_face);
    maker.face(-half_, false, outer, on_face);
    maker.wall(outer, -half_, half_, true);
    for (const Loop& loop : through) maker.wall(loop, -half_, half_, false);
    for (std::size_t i = through.size(); i < on_face.size(); ++i) {
      const Level top{fence_tops_[i - through.size()]};
      maker.wall(on_face[i], half_, top, true);
      maker.face(top, true, on_face[i]);
      maker.wall(on_face[i], -top, -half_, true);
      maker.face(-top, false, on_face[i]);
    }
  }

  void inlay(const GuideMark& mark) {
    PrismMaker maker(add_body("mark", kMark));
    const Level out = half_ + kMarkRelief_mm;
    for (const Outline& stroke : mark.strokes)
      maker.prism(chords(stroke, deviation_), mark.on_left_face ? half_ : -out,
                  mark.on_left_face ? out : -half_);
  }

  /// From as far below the mid-plane as above.
  void upright(const char* name, const Colour& colour, const Outline& outline, const Level& top) {
    PrismMaker(add_body(name, colour)).prism(chords(outline, deviation_), -top, top);
  }

  const DrillGuide& guide_;
  double deviation_;
  Level half_;  ///< the left face; the right one is its mirror image
  std::vector<Outline> openings_;
  std::vector<Outline> fences_;
  std::vector<double> fence_tops_;
  std::vector<Outline> loose_fences_;
  std::vector<double> loose_fence_tops_;
  std::vector<Outline> plugs_;
  Preview preview_;
};

}  // namespace

Preview build_guide_preview(const DrillGuide& guide, double deviation_mm) {
  if (!(deviation_mm >= 0.001 && deviation_mm <= 1))
    throw std::invalid_argument("the deviation of a guide's mesh must be from 0.001 to 1 mm");
  return GuideMaker(guide, deviation_mm).make();
}

}  // namespace haftwright
