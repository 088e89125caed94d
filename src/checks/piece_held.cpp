// Every piece held by a pin.
#include <algorithm>

#include "kinds.hpp"

namespace haftwright::checks {
namespace {

/// The whole axis runs inside the piece, from its inner face to its finished surface.
bool holds(const SideLayout& side, const Part& piece, Vec2 at) {
  if (!side.edge.contains(at)) return false;
  const double height = side.scale_height_mm(at);
  const auto inside_at = [&](double s) {
    return piece.front.behind_mm(at.x, at.y, s) > 0 &&
           (piece.to_butt || piece.rear.behind_mm(at.x, at.y, s) < 0);
  };
  return inside_at(0) && inside_at(height);  // the faces are plane: inside at both ends is inside between
}

Vec3 middle_of(const Handle& handle, const Part& piece) {
  return on_side(handle, piece.side, (piece.plan_bounds.low + piece.plan_bounds.high) * 0.5, 0);
}

std::string why(double count, double wanted) {
  if (count > 0 && count < wanted)
    return "Fewer pins than the shop wants go through this piece from face to face. Add a pin or move one "
           "into it.";
  if (count > 0) return "A pin through the whole piece holds it should the glue let go.";
  return "No pin goes through this piece from face to face: glue alone holds it. Add a pin or move one into "
         "it. Where glue alone is meant, set the shop rule pins_per_piece to 0.";
}

}  // namespace

void check_piece_held(const Report& report) {
  for (const Which which : kBothSides) {
    const SideLayout& side = report.handle.side(which);
    for (const Part& piece : side.parts) {
      if (piece.kind != PartKind::piece) continue;
      const auto& pins = report.design.pins;
      const auto count = std::count_if(pins.begin(), pins.end(),
                                       [&](const Pin& pin) { return holds(side, piece, pin.at_mm); });
      const double wanted = report.design.rules.pins_per_piece;
      report.add({.id = "piece.held",
                  .where = {piece_spot(piece)},
                  .place = middle_of(report.handle, piece),
                  .value = static_cast<double>(count),
                  .limit = wanted,
                  .unit = FigureUnit::count,
                  .why = why(static_cast<double>(count), wanted),
                  .basis = basis_words(&ShopRules::pins_per_piece)});
    }
  }
}

}  // namespace haftwright::checks
