// Searching the bin by material and size, for lists and panels alike.
#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "haftwright/offcuts/bin.hpp"

namespace haftwright {

/// Materials that a word stands for in this bin: its own of that key, else listed ones by key or plain name
/// ("walnut", as materials_meant()). Empty when it stands for none.
std::vector<std::string> materials_of_word(const Bin& bin, std::string_view word);

/// What is looked for.
struct Wanted {
  std::vector<std::string> materials;  ///< keys; none: any
  FlatSize least;                      ///< along and across the grain; of a rod: its length
  double least_thickness_mm = 0;       ///< of a rod: its diameter
  bool reserved_too = false;           ///< also what projects have reserved, every one that there is of it
};

/// How many of those alike are left for a project when each other one that has reserved some takes one.
std::size_t left_for(const std::string& project, int alike, const std::vector<Reservation>& reserved);

/// An offcut that is reserved by as many projects as there are of it has nothing left to give. Sheets and
/// rods last for several projects.
bool is_free(const Offcut& offcut);

/// Whether it matches. Sizes are outer dimensions, as extent_along_grain() measures them: what does not match
/// is too small for certain, while an odd shape that matches may still be too small. A sheet has no grain and
/// may lie either way.
bool matches(const Offcut& offcut, const Wanted& wanted);
bool matches(const SheetStock& sheet, const Wanted& wanted);
bool matches(const RodStock& rod, const Wanted& wanted);

/// The bin with only what matches left in it.
Bin found_in(Bin bin, const Wanted& wanted);

}  // namespace haftwright
