// When something has no place: on which offcut it comes nearest and by how much, and the smallest change to
// the design that would give it one.
#pragma once

#include <string>
#include <vector>

#include "haftwright/cutting/plan.hpp"
#include "haftwright/nesting/shortfalls.hpp"

namespace haftwright {

/// An offcut that nearly does, and everything that keeps the piece from it.
struct NearOffcut {
  std::size_t offcut = 0;         ///< of Bin::offcuts
  double thickness_short_mm = 0;  ///< what its thickness lacks; 0: thick enough
  /// What each single relaxation would have to be (nesting/shortfalls.hpp), in the piece's own frame; empty
  /// where the blank has a place there by itself.
  std::vector<nesting::Shortfall> shortfalls;
  std::string words;  ///< "2.30 mm too short along the grain"
};

/// A change that was tried: with it, everything that had a place keeps one, what was put somewhere by hand
/// stays there, and these pieces get one.
struct CuttingChange {
  std::string words;  ///< "move joint 1 3.20 mm toward the front"
  double amount =
      0;  ///< mm or degrees, least within kChangeStep; of a piece that is parted, the joint's place
  Design design;
};
/// Amounts are found to this, in millimetres and degrees.
inline constexpr double kChangeStep = 0.01;

struct WhyNot {
  std::vector<std::size_t> pieces;     ///< of Needs::pieces: one, or one and its mate
  std::vector<NearOffcut> nearest;     ///< at most three, the nearest first
  std::vector<CuttingChange> changes;  ///< the least first; a piece parted by a new joint comes last
};

/// For every piece of `plans`' best plan without a place. Changes to a side that is linked to the other are
/// made to both.
std::vector<WhyNot> why_not(const Design& design, const Bin& bin, const CuttingWishes& wishes,
                            const CuttingPlans& plans, const nesting::Running& running = {});

}  // namespace haftwright
