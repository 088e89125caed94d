// The lens that makes straight what is straight, and marks agree with each other.
#pragma once

#include <optional>

#include "haftwright/pictures/squaring.hpp"

namespace haftwright::pictures {

struct LensFit {
  double k1 = 0;
  double error = 0;  ///< by how much k1 may be off
};
/// Nothing where edges and marks say less of the lens than `input.lens_bow_share` does. `centre` and `unit`
/// as in Lens.
std::optional<LensFit> fit_lens(const SquaringInput& input, Vec2 centre_px, double unit_px);

}  // namespace haftwright::pictures
