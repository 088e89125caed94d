// Places and amounts in a maker's words: the one way that reports, the window and files write them.
#pragma once

#include <cstddef>
#include <string>
#include <string_view>

#include "haftwright/design/shop_rules.hpp"
#include "haftwright/design/units.hpp"
#include "haftwright/words/where.hpp"

namespace haftwright {

// --- Places
// -------------------------------------------------------------------------------------------------

/// "pin 2 (front), left side, to joint 1, at the inner face". Names, counts of pieces and the unit are the
/// design's; an index that it does not have is written all the same.
std::string where_words(const Design& design, const Where& where);
/// "joint 1, line 2".
std::string spot_words(const Design& design, const Spot& spot);
/// "left side", "both sides"; empty for none.
std::string sides_words(Sides sides);
/// "pin 2 (front)"; the name is left out where it says no more than the number.
std::string pin_words(const Design& design, std::size_t pin);
/// The name alone; the words with its number where it has none or shares it with another.
std::string pin_name(const Design& design, std::size_t pin);
/// "tang hole "rear""; with its number where it shares the name with another, the number alone where it has
/// none.
std::string tang_hole_words(const Design& design, std::size_t hole);
/// The id of the pin, hole, piece or joint that a place is on; empty for all others.
std::string id_of(const Design& design, const Spot& spot);
/// "front piece", "middle piece", "piece 3", of `count`.
std::string piece_words(std::size_t piece, std::size_t count);
/// "joint 3", from index 2.
std::string numbered(std::string_view what, std::size_t index);
/// How the holes are drilled, in a few words: "through the drill guide".
std::string_view drilling_words(DrillWay way);

// Keys for files that other programs read.
std::string_view key_of(Thing thing);
std::string_view key_of(Sides sides);
std::string_view key_of(Layer layer);
std::string_view key_of(Level level);
std::string_view key_of(Toward toward);
std::string_view key_of(Aspect aspect);

// --- Amounts
// ------------------------------------------------------------------------------------------------

enum class FigureUnit { millimetre, degree, count, share };

/// Margins and steps are small: a fraction of an inch would round them away, so they show in decimals.
std::string fine_length(double mm, LengthUnit shown, int mm_decimals = 3);
/// "0.050 mm (0.0020 in)", the shown unit first.
std::string length_in_both(double mm, LengthUnit shown);
/// "1.7 %", "17 %".
std::string percent_words(double share);
/// "0.050 mm", "0.25 deg", "2", "24 %".
std::string amount_words(double value, FigureUnit unit, LengthUnit shown, int mm_decimals = 3);
/// The rule's basis and its key, by which the maker finds it among the shop rules.
std::string basis_words(double ShopRules::*rule);

}  // namespace haftwright
