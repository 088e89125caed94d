// Blanks large enough for the pieces cut from them. Each value is what the blank has over the finished piece.
#include "kinds.hpp"

namespace haftwright::checks {
namespace {

struct Need {
  const char* id;
  const char* what;  ///< "thick"
  double blank_mm;
  double piece_mm;
  double allowance_mm;
  double ShopRules::*rule;
  const char* why;
};

void add(const Report& report, const Part& piece, const Need& need) {
  const LengthUnit shown = report.design.shown_unit;
  report.add({.id = need.id,
              .where = {piece_spot(piece)},
              .place = on_side(report.handle, piece.side,
                               (piece.plan_bounds.low + piece.plan_bounds.high) * 0.5, piece.s_high_mm),
              .value = need.blank_mm - need.piece_mm,
              .limit = need.allowance_mm,
              .why = "The blank is " + length_in_both(need.blank_mm, shown) + " " + need.what +
                     " and the finished piece needs " + length_in_both(need.piece_mm, shown) + ". " +
                     need.why,
              .basis = basis_words(need.rule)});
}

template <class Visit>
void for_each_piece(const Report& report, const Visit& visit) {
  for (const Which which : kBothSides) {
    const Side side = which == Which::left ? report.design.left : report.design.right_side();
    for (const Part& part : report.handle.side(which).parts)
      if (part.kind == PartKind::piece) visit(part, side.pieces[part.index].blank);
  }
}

}  // namespace

void check_blank_thickness(const Report& report) {
  for_each_piece(report, [&](const Part& piece, const Blank& blank) {
    add(report, piece,
        {"blank.thickness", "thick", blank.thickness_mm, piece.s_high_mm,
         report.design.rules.blank_thickness_allowance_mm, &ShopRules::blank_thickness_allowance_mm,
         "Without wood to spare there is nothing to flatten and shape. Use a thicker blank, a thinner scale "
         "or a "
         "thicker liner."});
  });
}

void check_blank_width(const Report& report) {
  for_each_piece(report, [&](const Part& piece, const Blank& blank) {
    if (!blank.width_mm) return;
    add(report, piece,
        {"blank.width", "wide", *blank.width_mm, piece.plan_bounds.size().y,
         2 * report.design.rules.blank_outline_allowance_mm, &ShopRules::blank_outline_allowance_mm,
         "Both edges need some wood to trim away. Use a wider blank."});
  });
}

void check_blank_length(const Report& report) {
  for_each_piece(report, [&](const Part& piece, const Blank& blank) {
    if (!blank.length_mm) return;
    add(report, piece,
        {"blank.length", "long", *blank.length_mm, piece.plan_bounds.size().x,
         2 * report.design.rules.blank_outline_allowance_mm, &ShopRules::blank_outline_allowance_mm,
         "Both ends, their slant and rake with them, need some wood to trim away. Use a longer blank or move "
         "the "
         "joint."});
  });
}

}  // namespace haftwright::checks
