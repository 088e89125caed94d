// Laying blanks on offcuts by hand: where one may lie while it is moved about, and the edits that come of it.
#pragma once

#include <memory>
#include <optional>
#include <string>
#include <vector>

#include "haftwright/cutting/plan.hpp"
#include "haftwright/edits/edited.hpp"

namespace haftwright {

/// Where a blank of a plan lies, as a place by hand: of a book or of slices the place of both.
HandPlace hand_place_of(const Design& design, const Needs& needs, const Bin& bin, const BoardUse& use,
                        const PlacedBlank& blank);
/// The index in Design::hand_places of the place that a need has, its own or that of the book or slices that
/// it and its mate are cut as.
std::optional<std::size_t> hand_place_index(const Design& design, const Needs& needs, std::size_t need);

/// The piece, and its mate in a book or slices, has that place and no other. Refused where the piece is not
/// there. `needs` are the design's.
Edited put_by_hand(const Design& design, const Needs& needs, const HandPlace& place);
/// Takes the place of that need away. Refused where it has none.
Edited free_by_hand(const Design& design, const Needs& needs, std::size_t need);
/// Takes all of them away. Refused where there are none.
Edited free_all_by_hand(const Design& design);
/// All that the plan has on offcuts stays where it is.
Edited put_all_by_hand(const Design& design, const Needs& needs, const Bin& bin, const CuttingPlan& plan);

/// What a blank in the hand has to keep clear of.
enum class Beside {
  all,     ///< every other blank of the plan, as it lies
  by_hand  ///< those that lie where they were put; the others make way
};

/// A blank, or a book of two, taken in the hand over one offcut of a plan. Made once for a drag; asking it is
/// cheap.
class BlankInHand {
 public:
  /// What `start` says but for its place: which piece, which offcut and copy, which face, how it is cut.
  /// Everything that `plan` has there, but for the blank itself, lies in its way.
  BlankInHand(const Design& design, const Needs& needs, const Bin& bin, const CuttingWishes& wishes,
              const CuttingPlan& plan, const HandPlace& start);
  BlankInHand(BlankInHand&&) noexcept;
  BlankInHand& operator=(BlankInHand&&) noexcept;
  ~BlankInHand();

  struct Held {
    HandPlace place;  ///< the nearest that is legal, else what was asked for
    bool legal = false;
    std::string why;  ///< where nothing is legal: why; else what keeps it from where it was asked for
    std::vector<PlacedBlank>
        blanks;  ///< it, or both halves, as they lie there; empty where the piece is gone
  };
  /// Near `at_mm`, turned as near to `turn_deg` as the rule on grain allows.
  Held at(Vec2 at_mm, double turn_deg, Beside beside = Beside::all) const;
  /// Why it can't lie on this offcut at all: its wood, its thickness, its faces; empty where it may.
  const std::string& unfit() const;
  /// Turns that the grain allows; empty where there is none.
  const std::vector<nesting::Angles>& turns() const;

 private:
  struct Inside;
  std::unique_ptr<const Inside> inside_;
};

}  // namespace haftwright
