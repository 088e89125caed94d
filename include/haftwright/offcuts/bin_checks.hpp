// The door of a bin: what keeps it from being used, each with the path of the field; and ids for what has
// none.
#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "haftwright/design/validate.hpp"
#include "haftwright/offcuts/bin.hpp"

namespace haftwright {

/// Nothing narrower than this is an offcut: a saw takes 1 to 3 mm away (common practice), so that no cut
/// would leave anything of it.
inline constexpr double kLeastOffcutMm = 3;
/// Slices of one block are as thick as each other within this: a saw is set once for all of them (common
/// practice), and planing them takes tenths.
inline constexpr double kSliceThicknessMm = 1;
/// Fewer marks do not square a picture up: a plane seen by a camera has eight unknowns, a mark gives two.
inline constexpr std::size_t kLeastPhotoMarks = 4;

/// Everything that can be wrong with a bin: ranges, unknown materials, ids there twice, outlines that are
/// none or narrower than a saw cut, defects beside their offcut, slices that make no set, photos with paths
/// or too few marks, more projects than there are offcuts alike. Empty when the bin is good. Pictures are not
/// looked for: a missing one spoils nothing but the look.
std::vector<Problem> validate(const Bin& bin);

/// What is wrong with the name of a picture; empty when nothing is. It is a plain file name: no separators,
/// no
/// "..", nothing that begins with a dot.
std::string photo_name_problem(std::string_view file);

/// Every id of the bin: those of its offcuts, then of its sheets, then of its rods.
std::vector<std::string> bin_ids(const Bin& bin);

/// An id for every offcut, sheet and rod without one, by its name; "offcut_3", "sheet_1", "rod_2" where it
/// has none. Ids that are given stay.
Bin with_ids(Bin bin);

}  // namespace haftwright
