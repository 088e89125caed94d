#include "board_body.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <cstdint>
#include <numbers>

#include "grain_frame.hpp"
#include "haftwright/geometry/outline_ops.hpp"
#include "haftwright/preview/ear_clipping.hpp"

namespace haftwright::test {
namespace {

constexpr double kChord_mm = 0.02;
/// What sawing slices of one block took between them.
constexpr double kSliceKerf_mm = 1.6;

Vec2 turned(Vec2 v, double degrees) {
  const double turn = degrees * std::numbers::pi / 180;
  return {v.x * std::cos(turn) - v.y * std::sin(turn), v.x * std::sin(turn) + v.y * std::cos(turn)};
}

/// The same on every machine (FNV-1a).
std::uint32_t number_of(const std::string& text) {
  std::uint32_t number = 2166136261u;
  for (const char c : text) number = (number ^ static_cast<unsigned char>(c)) * 16777619u;
  return number;
}

/// Round holes that go through the face without meeting its rim.
std::vector<Outline> openings_of(const Offcut& offcut) {
  std::vector<Outline> openings;
  const Outline rim(offcut.outline);
  for (const Defect& defect : offcut.defects) {
    if (defect.kind != DefectKind::hole || defect.outline.size() != 2) continue;
    const Outline hole(defect.outline);
    if (contains(rim, hole)) openings.push_back(hole);
  }
  return openings;
}

class BoardMaker {
 public:
  BoardMaker(const Offcut& offcut, const Laid& laid, Body& body)
      : laid_(laid), thickness_(offcut.thickness_mm), body_(body) {
    loops_.push_back(polyline(Outline(offcut.outline), kChord_mm));
    for (const Outline& opening : openings_of(offcut)) {
      loops_.push_back(polyline(opening, kChord_mm));
      std::reverse(loops_.back().begin(), loops_.back().end());
    }
  }

  void make() {
    const std::vector<std::vector<Vec2>> openings(loops_.begin() + 1, loops_.end());
    const auto triangles = fill(loops_.front(), openings);
    for (const bool upper : {false, true}) {
      const auto first = static_cast<std::uint32_t>(body_.vertices.size());
      for (const std::vector<Vec2>& loop : loops_)
        for (const Vec2 p : loop) add({p, upper ? thickness_ : 0}, {0, 0, upper ? 1 : -1});
      for (const auto& t : triangles)
        for (const std::size_t corner : upper ? std::array{0u, 1u, 2u} : std::array{0u, 2u, 1u})
          body_.triangles.push_back(first + t[corner]);
    }
    for (const std::vector<Vec2>& loop : loops_)
      for (std::size_t i = 0; i < loop.size(); ++i) wall(loop[i], loop[(i + 1) % loop.size()]);
  }

 private:
  /// The body lies left of the way from a to b.
  void wall(Vec2 a, Vec2 b) {
    const auto first = static_cast<std::uint32_t>(body_.vertices.size());
    const Vec2 out = glm::normalize(Vec2{b.y - a.y, a.x - b.x});
    for (const Vec3 p : {Vec3{a, 0}, Vec3{b, 0}, Vec3{b, thickness_}, Vec3{a, thickness_}}) add(p, {out, 0});
    for (const std::uint32_t corner : {0u, 1u, 2u, 0u, 2u, 3u}) body_.triangles.push_back(first + corner);
  }

  void add(Vec3 in_offcut, Vec3 facing) {
    const auto floats = [](Vec3 v) {
      return std::array{static_cast<float>(v.x), static_cast<float>(v.y), static_cast<float>(v.z)};
    };
    body_.vertices.push_back({floats(laid_.place(in_offcut)), floats(laid_.direction(facing))});
  }

  const Laid& laid_;
  double thickness_;
  Body& body_;
  std::vector<std::vector<Vec2>> loops_;
};

}  // namespace

Vec3 Laid::direction(Vec3 in_offcut) const {
  // Turning it over about y keeps it the same piece of wood.
  if (up == Face::lower) in_offcut = {-in_offcut.x, in_offcut.y, -in_offcut.z};
  return {turned({in_offcut.x, in_offcut.y}, turn_deg), in_offcut.z};
}

Vec3 Laid::place(Vec3 in_offcut) const {
  return direction(in_offcut) + Vec3{at_mm, up == Face::lower ? thickness_mm : 0};
}

Vec2 Laid::in_offcut(Vec2 on_card) const {
  const Vec2 p = turned(on_card - at_mm, -turn_deg);
  return {up == Face::lower ? -p.x : p.x, p.y};
}

Body board_body(const Bin& bin, const Offcut& offcut, const Laid& laid) {
  Body body{.id = {.kind = BodyKind::piece}, .name = offcut.name, .material = offcut.material};
  if (const Material* material = bin.material(offcut.material)) {
    body.material_kind = material->kind;
    body.colour = material->colour;
  }
  const bool slice = !offcut.matched_set.empty();
  const std::uint32_t block = number_of(slice ? offcut.matched_set : offcut.id);
  const Vec3 somewhere(static_cast<double>(block % 977), static_cast<double>(block % 53),
                       static_cast<double>(block % 29));
  // The first slice lay uppermost in its block.
  const double above = slice ? (offcut.slice - 1) * (offcut.thickness_mm + kSliceKerf_mm) : 0;
  const GrainFrame grain = preview::piece_grain(offcut.grain, Part{});
  body.grain = {laid.place(somewhere + Vec3{0, 0, above}), laid.direction(grain.fibre),
                laid.direction(grain.radial)};
  BoardMaker(offcut, laid, body).make();
  return body;
}

}  // namespace haftwright::test
