// Open paths joined end to end.
#pragma once

#include "haftwright/intake/loops.hpp"

namespace haftwright::intake {

struct Chains {
  std::vector<Path> closed;
  std::vector<Path> open;
  std::size_t doubles = 0;
  double largest_gap_mm = 0;
  std::size_t gaps = 0;
};

/// Closed paths stay as they are.
Chains joined(const std::vector<Path>& paths, double close_mm);

double length_mm(const Path& path);

/// What differs by no more than this is drawn twice.
inline constexpr double kSame_mm = 1e-3;

}  // namespace haftwright::intake
