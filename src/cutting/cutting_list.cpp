#include "haftwright/cutting/cutting_list.hpp"

#include <glm/trigonometric.hpp>

#include <algorithm>
#include <cmath>

#include "boards.hpp"
#include "haftwright/checks/checks.hpp"
#include "haftwright/geometry/box.hpp"
#include "haftwright/offcuts/bin_words.hpp"
#include "haftwright/words/words.hpp"
#include "placed_edges.hpp"

namespace haftwright {
namespace cutting {
namespace {

/// What a fence is set to or a blank is marked by: where a fraction is not exact, its decimals beside it.
std::string saw_length(double mm, LengthUnit unit) {
  const std::string text = format_length(mm, unit);
  if (unit != LengthUnit::inch_fraction || text.front() != '~') return text;
  return text + " (" + format_number(mm / kMmPerInch, 3) + ")";
}

const char* face_words(bool lower_face) {
  return lower_face ? "lower face" : "upper face";
}

/// Makes the steps one after another.
class Steps {
 public:
  Steps(const Needs& needs, const Bin& bin, const ShopRules& rules, LengthUnit unit)
      : needs_(needs), bin_(bin), rules_(rules), unit_(unit) {}

  std::vector<WorkStep> take(const CuttingPlan& plan) {
    cautions();
    for (const BoardUse& use : plan.offcuts) offcut(use);
    for (const BoardUse& use : plan.sheets) sheet(use);
    for (const RodUse& use : plan.rods) rod(use);
    return std::move(steps_);
  }

 private:
  std::string length(double mm) const { return saw_length(mm, unit_); }
  void step(std::string words) { steps_.push_back({std::move(words), false}); }
  void caution(std::string words) { steps_.push_back({std::move(words), true}); }

  void cautions() {
    caution(
        "Small pieces are the dangerous ones at a saw: clamp or screw them to a carrier or saw them by hand, "
        "use "
        "push sticks and the guard, and never free a blank with fingers near the blade. The machine's manual "
        "and your local rules come before anything written here.");
    caution(
        "Draw the dust off and wear a mask and eye protection; 'haftwright check' says what is known of the "
        "dust of these materials.");
    caution(
        "Measure the wood again before the first cut: it may have moved, and its bin entry may be wrong. "
        "Look "
        "for metal, old holes and checks.");
  }

  void offcut(const BoardUse& use) {
    step("Take " + offcut_words(bin_, use.index) +
         (use.with_slice ? " and " + offcut_words(bin_, *use.with_slice) +
                               ", lay them on each other as they lay in the block, and tape them together"
                         : "") +
         ".");
    for (const PlacedBlank& blank : use.blanks) mark(use, blank);
    cuts(use, true);
    split(use);
    left(use);
  }

  void mark(const BoardUse& use, const PlacedBlank& blank) {
    const PieceNeed& need = needs_.pieces[blank.need];
    const std::string paired = pairing_words(needs_, use, blank);
    step("Mark the " + blank_words(need, unit_) + (blank.by_hand ? ", where you put it" : "") + "; its " +
         face_words(blank.lower_face) + " shows" +
         (blank.half == Half::whole ? "" : std::string(" once it is opened")) +
         (paired.empty() ? "" : ", " + paired) + ". Pencil its front end and its spine on it.");
  }

  void cuts(const BoardUse& use, bool wood) {
    if (use.cuts.cuts.empty()) {
      step("It is used as it is: no saw cut is needed.");
      return;
    }
    for (std::size_t i = 0; i < use.cuts.cuts.size(); ++i) {
      const nesting::Cut& cut = use.cuts.cuts[i];
      std::string words = "Cut " + std::to_string(i + 1) + ": right through, " + line_words(cut, use, wood) +
                          ", the kerf outside the line";
      if (cut.fence)
        words += "; fence " + length(cut.fence->distance_mm) + " from the straight edge beside it";
      else
        words += "; there is no edge to set a fence from: saw to the line, it runs at " +
                 format_number(cut.angle_deg, 1) + " deg to the offcut's length";
      step(words + ".");
    }
    if (!use.cuts.complete)
      step(
          "Not all of these can be parted by straight cuts: saw the rest along its lines with a fret or "
          "coping saw.");
  }

  /// What the saw follows: an edge of a blank, or of the rectangle that is to be left.
  std::string line_words(const nesting::Cut& cut, const BoardUse& use, bool wood) const {
    if (cut.along >= use.cuts.shapes.size()) return "along what is to be left in one piece";
    const PlacedBlank& blank = along(cut, use);
    if (!wood) return "along the edge of the " + needs_.sheets[blank.need].name;
    return "along the " + words_of_edge(cut.edge_from_mm, cut.edge_to_mm, blank) + " of the " +
           needs_.pieces[blank.need].name;
  }

  /// The first blank of the shape that the cut goes along.
  static const PlacedBlank& along(const nesting::Cut& cut, const BoardUse& use) {
    return *std::ranges::find(use.blanks, cut.along, &PlacedBlank::shape);
  }

  void split(const BoardUse& use) {
    for (const PlacedBlank& blank : use.blanks)
      if (blank.pairing == Pairing::book && blank.half == Half::upper) {
        const double upper = needs_.pieces[blank.need].thickness_mm;
        step("Saw this blank through its thickness, " + length(upper) + " below its upper face (kerf " +
             length(rules_.saw_kerf_mm) + "), and open it like a book." + slab_words(use, blank.shape));
      }
  }

  std::string slab_words(const BoardUse& use, std::size_t shape) const {
    const auto slab = std::ranges::find(use.slabs, shape, &Slab::shape);
    if (slab == use.slabs.end()) return {};
    for (const PlacedBlank& lower : use.blanks)
      if (lower.shape == shape && lower.half == Half::lower)
        return " Saw the " + needs_.pieces[lower.need].name + "'s half to " +
               length(needs_.pieces[lower.need].thickness_mm) +
               (slab->faces == no_face ? " from its lower face" : " from the sawn face") + ": a slab of " +
               length(slab->thickness_mm) + " is left.";
    return {};
  }

  void left(const BoardUse& use) {
    std::string words;
    for (const nesting::Leftover& leftover : use.leftovers) {
      if (leftover.worth <= 0) continue;
      words += (words.empty() ? "" : "; ") + length(leftover.clear_size_mm.x) + " x " +
               length(leftover.clear_size_mm.y);
    }
    for (const Slab& slab : use.slabs) {
      const Vec2 size = box_round(slab.outline).size();
      words += (words.empty() ? "a slab " : "; a slab ") + length(size.x) + " x " + length(size.y) + " x " +
               length(slab.thickness_mm);
    }
    if (!words.empty())
      step("Put back what is left and large enough to keep: clear of defects " + words + ".");
  }

  void sheet(const BoardUse& use) {
    const SheetStock& sheet = bin_.sheets[use.index];
    step("Take the sheet \"" + (sheet.name.empty() ? sheet.id : sheet.name) + "\", " +
         length(sheet.thickness_mm) + (sheet.kept_at.empty() ? "" : ", kept " + sheet.kept_at) + ".");
    for (const PlacedBlank& blank : use.blanks) {
      const Vec2 size = box_round(needs_.sheets[blank.need].outline).size();
      step("Mark the " + needs_.sheets[blank.need].name + ", " + length(size.x) + " x " + length(size.y) +
           ".");
    }
    cuts(use, false);
  }

  void rod(const RodUse& use) {
    const RodStock& rod = bin_.rods[use.index];
    std::string words = "From the rod \"" + (rod.name.empty() ? rod.id : rod.name) + "\" saw off";
    for (std::size_t i = 0; i < use.pins.size(); ++i)
      words += (i ? ", " : " ") + length(needs_.pins[use.pins[i]].length_mm);
    step(words + "; " + length(use.left_mm) + " is left. Take the burr off the ends.");
  }

  const Needs& needs_;
  const Bin& bin_;
  const ShopRules& rules_;
  LengthUnit unit_;
  std::vector<WorkStep> steps_;
};

}  // namespace
}  // namespace cutting

std::string blank_words(const PieceNeed& need, LengthUnit unit) {
  const Vec2 size = box_round(need.outline).size();
  return need.name + ", " + cutting::saw_length(size.x, unit) + " x " + cutting::saw_length(size.y, unit) +
         " x " + cutting::saw_length(need.thickness_mm, unit);
}

std::string pairing_words(const Needs& needs, const BoardUse& use, const PlacedBlank& blank) {
  std::string mate;
  for (const Mates& mates : needs.mates) {
    if (mates.left == blank.need) mate = needs.pieces[mates.right].name;
    if (mates.right == blank.need) mate = needs.pieces[mates.left].name;
  }
  if (mate.empty()) return {};
  switch (blank.pairing) {
    case Pairing::book: {
      const bool sawn = blank.lower_face == (blank.half == Half::upper);
      return std::string("one half of a book with the ") + mate +
             (sawn ? ", the sawn faces outward" : ", the sawn faces toward the tang");
    }
    case Pairing::slices:
      return "one of two neighbouring slices, the other gives the " + mate;
    case Pairing::one_offcut: {
      for (const PlacedBlank& other : use.blanks)
        if (other.need != blank.need && needs.pieces[other.need].name == mate) {
          const double turn = std::abs(std::remainder(other.turn_deg - blank.turn_deg, 360.0));
          return turn > 90 ? "end for end with the " + mate : "beside the " + mate;
        }
      return "from one offcut with the " + mate;
    }
    case Pairing::apart:
      return "apart from its mate, the " + mate + ": compare their colour and figure before you saw";
    case Pairing::single:
      return {};
  }
  return {};
}

std::string offcut_words(const Bin& bin, std::size_t offcut) {
  const Offcut& wood = bin.offcuts[offcut];
  return "the offcut " + wood.id + (wood.name.empty() ? "" : " \"" + wood.name + "\"") + " (" +
         material_name(bin, wood.material) + (wood.kept_at.empty() ? ")" : "), kept " + wood.kept_at);
}

std::span<const PreferenceRow> preference_rows() {
  static constexpr PreferenceRow kRows[] = {
      {nesting::Preference::small_stocks, "small", "small offcuts first, large ones kept whole"},
      {nesting::Preference::useful_leftover, "leftover", "what is left is worth as much as can be"},
      {nesting::Preference::fewest_cuts, "cuts", "few saw cuts"},
      {nesting::Preference::least_penalty, "grain", "fibre along the pieces, little thickness wasted"}};
  return kRows;
}

std::string reason_words(const nesting::Difference& difference) {
  switch (difference.what) {
    case nesting::Decision::none:
      return {};
    case nesting::Decision::unplaced:
      return "more pieces have a place";
    case nesting::Decision::rank:
      return "left and right keep more closely together";
    case nesting::Decision::preference:
      break;
  }
  switch (difference.preference) {
    case nesting::Preference::small_stocks:
      return "its offcuts are smaller";
    case nesting::Preference::useful_leftover:
      return "what is left is worth more";
    case nesting::Preference::fewest_cuts:
      return "it takes fewer saw cuts";
    case nesting::Preference::least_penalty:
      return "its fibre runs closer along the pieces, or less thickness is wasted";
  }
  return {};
}

std::vector<WorkStep> cutting_steps(const Needs& needs, const CuttingPlan& plan, const Bin& bin,
                                    const ShopRules& rules, LengthUnit unit) {
  return cutting::Steps(needs, bin, rules, unit).take(plan);
}

}  // namespace haftwright
