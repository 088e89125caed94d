// The cutting plan: which blank comes from which offcut, where it lies on it, how it is sawn out, and what is
// left.
//
// A piece and its mate on the other side are taken together where that can be: as a book (one thick offcut
// sawn through its thickness and opened), as a book of two neighbouring slices of one block, from one offcut,
// or, when nothing else serves, apart. Wood, sheets and rods are planned each by themselves.
//
// What the maker has put somewhere by hand (Design::hand_places) stays there, and everything else is planned
// round it: the mate of such a piece takes the nearest kinship that is left to it.
#pragma once

#include <cstddef>
#include <optional>
#include <string>
#include <vector>

#include "haftwright/cutting/needs.hpp"
#include "haftwright/nesting/plan.hpp"
#include "haftwright/offcuts/bin.hpp"

namespace haftwright {

/// How a piece is taken in relation to its mate, the better first.
enum class Pairing {
  book,        ///< both halves of one blank, opened like a book
  slices,      ///< the same place of two slices that lay on each other in the block
  one_offcut,  ///< beside each other on one offcut, the same face of both showing
  apart,       ///< each from wherever it fits
  single       ///< it has no mate
};

/// What part of the thickness a blank takes.
enum class Half { whole, upper, lower };

struct CuttingWishes {
  /// Of a book, the outer faces show instead of the sawn ones; then both faces of the offcut must be good.
  bool book_shows_outside = false;
  /// What a plan is judged by after places and pairing, the most important first. least_penalty is here:
  /// millimetres of thickness that a piece has too much, and degrees that the fibre runs off its grain where
  /// it lies (as far as that turn decides it, dips aside), one counting as much as the other.
  std::vector<nesting::Preference> order = {
      nesting::Preference::small_stocks, nesting::Preference::useful_leftover,
      nesting::Preference::fewest_cuts, nesting::Preference::least_penalty};
  std::size_t plans = 3;  ///< at most so many, 1 and up
  std::string project;    ///< what others have reserved is left to them: offcuts, sheets and rods
  /// Pieces whose blank is typed with its length and width are planned as well; those with a place by hand
  /// are in any case.
  bool blanks_too = false;
  bool operator==(const CuttingWishes&) const = default;
};

/// A blank on an offcut or a sheet.
struct PlacedBlank {
  std::size_t need = 0;     ///< index of Needs::pieces, of Needs::sheets on a sheet
  Vec2 centre_mm{0, 0};     ///< of the box round the need's outline, in the need's frame
  Vec2 at_mm{0, 0};         ///< where that centre comes to lie, in the board's frame
  double turn_deg = 0;      ///< counter-clockwise, after mirroring
  bool mirrored = false;    ///< as seen from above it lies mirrored: x of the need's frame runs backward
  bool lower_face = false;  ///< the face that shows on the handle looks down
  Half half = Half::whole;
  Pairing pairing = Pairing::single;
  bool by_hand = false;       ///< the maker put it there
  std::size_t shape = 0;      ///< of StockCuts::shapes: both halves of a book are sawn out as one
  std::vector<Vec2> outline;  ///< as it lies, in the board's frame, counter-clockwise
};

/// What is left of a book's blank when the offcut is thicker than both halves and the saw cut between them:
/// sawn off by one cut more, with the outline of the blank. It is kept where it is at least as thick as the
/// thinner half (what is thinner makes no scale like these) and holds a leftover's least length and width
/// (rules.leftover_length_mm along the offcut, leftover_width_mm across).
struct Slab {
  std::size_t shape = 0;  ///< of StockCuts::shapes: the book's
  double thickness_mm = 0;
  std::vector<Vec2> outline;  ///< in the board's frame, counter-clockwise
  unsigned faces = no_face;   ///< those of the offcut's that it keeps: its lower one, or none where it lay
                              ///< between the halves, whose outer faces show
};

/// An offcut, or a sheet, that is sawn.
struct BoardUse {
  std::size_t index = 0;                  ///< of Bin::offcuts, or Bin::sheets
  std::size_t copy = 0;                   ///< which of those alike, from 0
  std::optional<std::size_t> with_slice;  ///< the offcut that is sawn just alike, in a book of slices
  std::vector<PlacedBlank> blanks;        ///< on the other slice lies the mate of each
  nesting::StockCuts cuts;
  std::vector<nesting::Leftover> leftovers;
  std::vector<Slab> slabs;  ///< worth keeping
};

struct RodUse {
  std::size_t index = 0;  ///< of Bin::rods
  std::size_t copy = 0;
  std::vector<std::size_t> pins;  ///< indices of Needs::pins
  double left_mm = 0;             ///< over, saw cuts taken off
};

/// A place that the maker chose by hand and that the blank can't have: it is planned as if it had none.
struct PlaceNotKept {
  std::size_t place = 0;            ///< index of Design::hand_places
  std::optional<std::size_t> need;  ///< of Needs::pieces; none: the piece is gone
  std::string why;                  ///< "a knot (defect 2 of thwart) is too near"
};

struct CuttingPlan {
  std::vector<BoardUse> offcuts;
  std::vector<BoardUse> sheets;
  std::vector<RodUse> rods;
  std::vector<std::size_t> pieces_without;  ///< needs that no place was found for
  std::vector<std::size_t> sheets_without;
  std::vector<std::size_t> pins_without;
  std::vector<PlaceNotKept> not_kept;
  nesting::Value value;      ///< of the offcuts' part
  bool proven_best = false;  ///< of the offcuts' part, within the family that nesting::plan() searches
  nesting::Difference against_next;  ///< why it stands before the next plan
  bool complete() const { return pieces_without.empty() && sheets_without.empty() && pins_without.empty(); }
};

struct CuttingPlans {
  Needs needs;
  std::vector<CuttingPlan> plans;  ///< the best first; at least one
  bool stopped = false;            ///< by its stop token
  bool out_of_time = false;        ///< the search was cut short; what was found stands
};

/// Rules are the design's. The plans differ in how the offcuts are used; sheets and rods are the same in all.
CuttingPlans plan_cutting(const Design& design, const Handle& handle, const Bin& bin,
                          const CuttingWishes& wishes, const nesting::Running& running = {});

/// Where a point of the need's frame comes to lie, in the board's.
Vec2 as_placed(Vec2 point, const PlacedBlank& placed);

}  // namespace haftwright
