#include "laid_shapes.hpp"

#include <algorithm>
#include <cmath>

#include "haftwright/geometry/box.hpp"

namespace haftwright::cutting {
namespace {

bool shows(const Offcut& offcut, bool lower) {
  return (offcut.show_faces & (lower ? ShowFace::lower_face : ShowFace::upper_face)) != 0;
}

/// How thick a board must be.
double thickness_for(const LaidShape& laid, const Needs& needs, const ShopRules& rules) {
  double most = 0;
  double all = rules.saw_kerf_mm;
  for (const LaidPiece& piece : laid.pieces) {
    most = std::max(most, needs.pieces[piece.need].thickness_mm);
    all += needs.pieces[piece.need].thickness_mm;
  }
  return laid.pairing == Pairing::book ? all : most;
}

/// Whether the faces that would be seen are such as may be.
bool faces_good(const LaidShape& laid, const Offcut& offcut, const Offcut* slice,
                const CuttingWishes& wishes) {
  switch (laid.pairing) {
    case Pairing::book:
      return !wishes.book_shows_outside || (shows(offcut, false) && shows(offcut, true));
    case Pairing::slices:
      // The faces that lay on each other in the block are the ones that mirror each other.
      return shows(offcut, true) && (!slice || shows(*slice, false));
    default:
      return shows(offcut, laid.pieces.front().lie.lower_face);
  }
}

/// In one order and range, so that turns that are alike are equal.
void settle(std::vector<nesting::Angles>& angles) {
  constexpr double kSame_deg = 1e-9;
  for (nesting::Angles& turn : angles) {
    turn.middle_deg = std::fmod(std::fmod(turn.middle_deg, 360.0) + 360.0, 360.0);
    turn.middle_deg = std::round(turn.middle_deg / kSame_deg) * kSame_deg;
    if (turn.middle_deg >= 360) turn.middle_deg = 0;
    turn.play_deg = std::round(turn.play_deg / kSame_deg) * kSame_deg;
  }
  std::ranges::sort(angles, {}, &nesting::Angles::middle_deg);
}

}  // namespace

LaidShape single_shape(const Needs& needs, std::size_t need, bool lower_face) {
  const PieceNeed& piece = needs.pieces[need];
  const Lie lie{piece.side, lower_face};
  return {Pairing::single,
          laid_shape(piece.outline, lie.mirrored()),
          {{need, lie, Half::whole, middle_of(box_round(piece.outline))}}};
}

LaidShape book_shape(const Needs& needs, const Mates& mates, bool mirrored, bool from_slices,
                     bool shows_outside) {
  // Opened, the halves of a book are mirror images, as left and right are: so one of them shows up and the
  // other down, and both lie there alike as seen from above. Unmirrored the left piece looks up.
  const Lie left{Which::left, mirrored};
  const Lie right{Which::right, !mirrored};
  std::vector<Vec2> both = needs.pieces[mates.left].outline;
  const std::vector<Vec2>& other = needs.pieces[mates.right].outline;
  both.insert(both.end(), other.begin(), other.end());
  const Vec2 centre = middle_of(box_round(both));
  // Sawn faces show where the half whose face looks up lies below.
  const bool sawn = from_slices || !shows_outside;
  const auto half = [&](bool lower_face) { return lower_face == sawn ? Half::upper : Half::lower; };
  return {from_slices ? Pairing::slices : Pairing::book,
          laid_shape(nesting::placed_outline(both, {0, 0}, 0), mirrored),
          {{mates.left, left, half(left.lower_face), centre},
           {mates.right, right, half(right.lower_face), centre}}};
}

LaidShape shape_of(const Needs& needs, const PlacedBlank& blank) {
  if (blank.pairing != Pairing::book && blank.pairing != Pairing::slices)
    return single_shape(needs, blank.need, blank.lower_face);
  return book_shape(needs, *mates_of(needs, blank.need), blank.mirrored, blank.pairing == Pairing::slices,
                    false);
}

std::optional<Mates> mates_of(const Needs& needs, std::size_t need) {
  for (const Mates& mates : needs.mates)
    if (mates.left == need || mates.right == need) return mates;
  return {};
}

std::string names_of(const LaidShape& laid, const Needs& needs) {
  std::string names;
  for (const LaidPiece& piece : laid.pieces)
    names += (names.empty() ? "" : " and ") + needs.pieces[piece.need].name;
  return names;
}

Fitness fitness_of(const LaidShape& laid, const Needs& needs, const Bin& bin, const Board& board,
                   const ShopRules& rules, const CuttingWishes& wishes) {
  const Offcut& offcut = bin.offcuts[board.index];
  const Offcut* slice = board.with_slice ? &bin.offcuts[*board.with_slice] : nullptr;
  const std::string& wood = needs.pieces[laid.pieces.front().need].material;
  if (offcut.material != wood || (slice && slice->material != wood)) return {Fitness::What::other_wood};
  const double wanted = thickness_for(laid, needs, rules);
  const double has = slice ? std::min(offcut.thickness_mm, slice->thickness_mm) : offcut.thickness_mm;
  if (has < wanted) return {Fitness::What::too_thin, wanted - has};
  if (!faces_good(laid, offcut, slice, wishes)) return {Fitness::What::hidden_face};
  return {Fitness::What::fits, 0, has - wanted};
}

nesting::Polygon laid_shape(const std::vector<Vec2>& outline, bool mirrored) {
  constexpr double kGrid_mm = 1e-3;
  const Vec2 middle = middle_of(box_round(outline));
  nesting::Polygon shape;
  for (const Vec2 p : outline) {
    const Vec2 from_middle = p - middle;
    shape.push_back(glm::round(Vec2{mirrored ? -from_middle.x : from_middle.x, from_middle.y} / kGrid_mm) *
                    kGrid_mm);
  }
  if (mirrored) std::ranges::reverse(shape);
  const auto first =
      std::ranges::min_element(shape, [](Vec2 a, Vec2 b) { return a.x != b.x ? a.x < b.x : a.y < b.y; });
  std::rotate(shape.begin(), first, shape.end());
  return shape;
}

std::vector<nesting::Angles> turns_of(const LaidShape& laid, const Needs& needs, const Offcut& offcut,
                                      const ShopRules& rules) {
  std::optional<std::vector<nesting::Angles>> all;
  for (const LaidPiece& piece : laid.pieces) {
    std::vector<nesting::Angles> its =
        turns(needs.pieces[piece.need].grain, offcut.grain, piece.lie, rules.grain_off_deg);
    all = all ? common_turns(*all, its) : std::move(its);
  }
  settle(*all);
  return *all;
}

std::vector<Vec2> outline_as_placed(const std::vector<Vec2>& outline, const PlacedBlank& placed) {
  std::vector<Vec2> points;
  for (const Vec2 p : outline) points.push_back(as_placed(p, placed));
  if (placed.mirrored) std::ranges::reverse(points);
  return points;
}

PlacedBlank placed_blank(const Needs& needs, const LaidPiece& laid, Vec2 at_mm, double turn_deg,
                         Pairing pairing) {
  PlacedBlank blank{.need = laid.need,
                    .centre_mm = laid.centre_mm,
                    .at_mm = at_mm,
                    .turn_deg = turn_deg,
                    .mirrored = laid.lie.mirrored(),
                    .lower_face = laid.lie.lower_face,
                    .half = laid.half,
                    .pairing = pairing,
                    .outline = {}};
  blank.outline = outline_as_placed(needs.pieces[laid.need].outline, blank);
  return blank;
}

}  // namespace haftwright::cutting
