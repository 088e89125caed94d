// A cutting plan at the bench: what to pencil on each offcut, the saw cuts in order, and what goes back into
// the bin.
#pragma once

#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "haftwright/cutting/by_hand.hpp"
#include "haftwright/cutting/plan.hpp"
#include "haftwright/design/units.hpp"
#include "haftwright/drawing/drawing.hpp"
#include "haftwright/guide/order_of_work.hpp"

namespace haftwright {

/// "left front piece, 51.20 mm x 27.00 mm x 8.50 mm": length, width and thickness of the rough blank.
std::string blank_words(const PieceNeed& need, LengthUnit unit);
/// "opened like a book with the right front piece, the sawn faces show"; empty for a piece by itself.
std::string pairing_words(const Needs& needs, const BoardUse& use, const PlacedBlank& blank);
/// "black walnut offcut "..."" with where it is kept.
std::string offcut_words(const Bin& bin, std::size_t offcut);
/// What counts among plans that place as much, as a person chooses it.
struct PreferenceRow {
  nesting::Preference what = nesting::Preference::small_stocks;
  std::string_view key;    ///< for the command line and files: "small"
  std::string_view words;  ///< "smaller offcuts first"
};
std::span<const PreferenceRow> preference_rows();

/// Why one plan stands before the next: "its offcuts are smaller"; empty where nothing tells them apart.
std::string reason_words(const nesting::Difference& difference);

/// Cautions first, then each offcut: fetch it, mark it, saw it, and what to do with the blanks. Lengths are
/// in `unit`.
std::vector<WorkStep> cutting_steps(const Needs& needs, const CuttingPlan& plan, const Bin& bin,
                                    const ShopRules& rules, LengthUnit unit);

/// One offcut or sheet of the plan, in its own frame, at true size: outline, defects, blanks with their names
/// and which way is front, a tack on those that were put there by hand, cuts numbered in order; `titled`:
/// with board_title() above it. The tag of a blank is its index in `use.blanks`.
Drawing board_drawing(const Needs& needs, const BoardUse& use, const Bin& bin, bool sheet, LengthUnit unit,
                      bool titled = true);
/// Blanks in the hand, over a board's drawing: where they would lie, and by their look whether they may.
Drawing in_hand_drawing(const Needs& needs, const BlankInHand::Held& held);
/// What the board is, how thick, and what the arrows in its drawing mean.
std::string board_title(const BoardUse& use, const Bin& bin, bool sheet, LengthUnit unit);
/// All of them below each other.
Drawing cutting_drawing(const Needs& needs, const CuttingPlan& plan, const Bin& bin, LengthUnit unit);

}  // namespace haftwright
