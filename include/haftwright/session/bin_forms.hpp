// What the window needs to show the bin and to change it: the search, new things to begin with, words and
// small drawings.
#pragma once

#include <string>
#include <vector>

#include "haftwright/drawing/drawing.hpp"
#include "haftwright/offcuts/bin_words.hpp"
#include "haftwright/offcuts/find.hpp"

namespace haftwright {

/// As it is typed.
struct BinSearch {
  std::string wood;   ///< key or plain name of a material, or a part of its name; empty: any
  std::string least;  ///< "120 x 40 x 20 mm": along and across the grain and in thickness; of a rod length
                      ///< and diameter; what is left out may be anything
  LengthUnit unit = LengthUnit::millimetre;  ///< of bare numbers in it
  bool only_free = false;                    ///< leaves out what projects have reserved
  bool operator==(const BinSearch&) const = default;
};
struct BinFound {
  std::vector<std::size_t> offcuts, sheets, rods;  ///< indices of the bin's lists
  std::string problem;                             ///< why nothing is looked for; empty when all is well
};
BinFound search(const Bin& bin, const BinSearch& search);

/// The wood of the design's first piece where the bin knows it, else the first that is listed.
std::string material_to_begin_with(const Bin& bin, const Design& design);
/// To be typed over: of that material, a handle's scale in size (150 x 40 x 20 mm; common practice).
Offcut offcut_to_begin_with(const std::string& material);
SheetStock sheet_to_begin_with(const std::string& material);
RodStock rod_to_begin_with(const PinStock& stock);
/// Makes the outline a rectangle of that size, its lower left corner where that of the outline's box is now.
std::vector<Node> resized(const std::vector<Node>& outline, const FlatSize& size);
Defect round_defect(DefectKind kind, Vec2 middle_mm, double diameter_mm);

/// What stands on its card as its name: its name, else its id.
std::string shown_name(const std::string& name, const std::string& id);
/// "2 of 127.0 x 40.0 x 22.0 mm, odd shape"; of a rod its length and diameter.
std::string size_words(const Offcut& offcut, LengthUnit unit);
std::string size_words(const SheetStock& sheet, LengthUnit unit);
std::string size_words(const RodStock& rod, LengthUnit unit);
/// "reserved for Shucking knife (left rear piece)"; empty for none.
std::string reserved_words(const std::vector<Reservation>& reserved);
/// "knot, 6.00 mm across at 30.00 mm, 12.00 mm".
std::string defect_words(const Defect& defect, LengthUnit unit);

/// Outline and defects at true size, in the offcut's frame; with `fibre` lines along its grain. The tag of a
/// defect is its index.
Drawing offcut_drawing(const Bin& bin, const Offcut& offcut, bool fibre);
Drawing sheet_drawing(const Bin& bin, const SheetStock& sheet);

}  // namespace haftwright
