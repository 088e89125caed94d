// How things of the bin are written, in lists, cards and steps alike.
#pragma once

#include <string>
#include <vector>

#include "haftwright/offcuts/bin.hpp"

namespace haftwright {

/// The material's plain name; its key where the bin does not know it.
std::string material_name(const Bin& bin, const std::string& material);
/// "127.0 x 40.0 x 22.0 mm", "5.00 x 1.57 in", "5 in x 1 9/16 in": sizes of stock, to tell pieces apart by.
std::string sizes_words(const std::vector<double>& sizes_mm, LengthUnit unit);
/// ", odd shape", behind sizes; empty for a rectangle.
std::string shape_words(const std::vector<Node>& outline);
/// "Shucking knife (left rear piece), Marking knife"; empty for none.
std::string holders_words(const std::vector<Reservation>& reserved);

}  // namespace haftwright
