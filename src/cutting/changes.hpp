// Changes to a design that make a blank smaller or turn it.
#pragma once

#include <functional>
#include <string>
#include <vector>

#include "haftwright/cutting/needs.hpp"
#include "haftwright/edits/edited.hpp"

namespace haftwright::cutting {

/// One kind of change by an amount.
struct Change {
  std::function<Edited(double)> edit;
  std::function<std::string(double)> words;
  double most = 0;  ///< mm or degrees; more of it is another handle
};

/// Everything that is tried for a piece: its joints moved towards it, its grain turned either way, its side
/// thinner.
std::vector<Change> changes_for(const Design& design, const PieceNeed& need);

}  // namespace haftwright::cutting
