#include "haftwright/cutting/findings.hpp"

#include <algorithm>

#include "fibres.hpp"
#include "haftwright/words/words.hpp"

namespace haftwright {
namespace {

constexpr CuttingKind kKinds[] = {
    {"cut.place", "everything has a place on what is at hand"},
    {"cut.by_hand", "what was placed by hand stays there"},
    {"cut.saw", "straight cuts free every blank"},
    {"cut.grain", "the fibre runs as the piece's grain is meant to"},
    {"cut.mates", "left and right come out of one block"},
    {"cut.thickness", "the offcut is thick enough to flatten and shape"},
};

constexpr std::string_view kPractice = "common practice";

class CuttingFindings {
 public:
  CuttingFindings(const Design& design, const Needs& needs, const CuttingPlan& plan, const Bin& bin)
      : design_(design), needs_(needs), plan_(plan), bin_(bin) {}

  std::vector<Finding> all() {
    for (const std::size_t i : plan_.pieces_without)
      without(at(needs_.pieces[i]),
              "No offcut has a place for the " + needs_.pieces[i].name +
                  ". See what comes nearest and what change would make it fit, or add wood to the bin.");
    for (const std::size_t i : plan_.sheets_without)
      without(at(needs_.sheets[i]), "No sheet has a place for the " + needs_.sheets[i].name + ".");
    for (const std::size_t i : plan_.pins_without)
      without({{.thing = Thing::pin, .index = needs_.pins[i].pin}}, "No rod is long enough for this pin.");
    for (const PlaceNotKept& lost : plan_.not_kept) not_kept(lost);
    for (const BoardUse& use : plan_.offcuts) {
      if (!use.cuts.complete) not_parted(use);
      for (const PlacedBlank& blank : use.blanks) placed(use, blank);
    }
    return std::move(findings_);
  }

 private:
  static Where at(const PieceNeed& need) {
    return {{.thing = Thing::piece, .index = need.piece, .sides = sides_of(need.side)}};
  }

  static Where at(const SheetNeed& need) {
    if (need.kind == PartKind::liner)
      return {{.thing = Thing::liners, .index = need.index, .sides = sides_of(need.side)}};
    return {{.thing = Thing::joint, .index = need.joint, .line = need.index, .sides = sides_of(need.side)}};
  }

  void add(Finding finding) {
    const double near_share = finding.unit == FigureUnit::count ? 0 : design_.rules.near_share;
    finding.status = judge(finding.value, finding.limit, finding.sense, near_share);
    findings_.push_back(std::move(finding));
  }

  void without(Where where, std::string why) {
    add({.id = "cut.place",
         .where = where,
         .value = 0,
         .limit = 1,
         .unit = FigureUnit::count,
         .why = std::move(why),
         .basis = "what the bin holds, less what other projects have reserved"});
  }

  void not_kept(const PlaceNotKept& lost) {
    const HandPlace& place = design_.hand_places[lost.place];
    const std::string name = lost.need ? needs_.pieces[*lost.need].name
                                       : std::string(name_of(place.side)) + " piece " + place.piece;
    add({.id = "cut.by_hand",
         .where = lost.need ? at(needs_.pieces[*lost.need])
                            : Where{{.thing = Thing::side, .sides = sides_of(place.side)}},
         .value = 0,
         .limit = 1,
         .unit = FigureUnit::count,
         .why = "The " + name + " can't stay where it was put on the offcut " + place.offcut + ": " +
                lost.why + ". It is planned as if it were free; put it elsewhere, or free it.",
         .basis = "where the project puts it, the bin, and the rules of the saw"});
  }

  /// Each blank of a piece that holds another one in the end.
  void not_parted(const BoardUse& use) {
    for (const PlacedBlank& blank : use.blanks) {
      const std::size_t piece = use.cuts.freed[blank.shape];
      std::string others;
      for (const PlacedBlank& other : use.blanks)
        if (other.shape != blank.shape && use.cuts.freed[other.shape] == piece)
          others += (others.empty() ? "" : " and ") + needs_.pieces[other.need].name;
      if (others.empty()) continue;
      add({.id = "cut.saw",
           .where = at(needs_.pieces[blank.need]),
           .value = 0,
           .limit = 1,
           .unit = FigureUnit::count,
           .why = "No cut right through parts the " + needs_.pieces[blank.need].name + " from the " + others +
                  ". Put one of them elsewhere, or saw along its lines with a fret or coping saw.",
           .basis = std::string(kPractice)});
    }
  }

  void placed(const BoardUse& use, const PlacedBlank& blank) {
    const PieceNeed& need = needs_.pieces[blank.need];
    const bool other_slice = use.with_slice && blank.half == Half::lower;
    const Offcut& offcut = bin_.offcuts[other_slice ? *use.with_slice : use.index];
    add({.id = "cut.grain",
         .where = at(need),
         .value =
             cutting::fibre_off_deg(need.grain, offcut.grain, {need.side, blank.lower_face}, blank.turn_deg),
         .limit = design_.rules.grain_off_deg,
         .sense = Sense::at_most,
         .unit = FigureUnit::degree,
         .why =
             "Wood is weak where its fibre runs out of the piece, and two mates look different where their "
             "grain does.",
         .basis = basis_words(&ShopRules::grain_off_deg)});
    if (blank.pairing == Pairing::apart)
      add({.id = "cut.mates",
           .where = at(need),
           .value = 0,
           .limit = 1,
           .unit = FigureUnit::count,
           .why = "This piece and its mate come from different offcuts: colour and figure may not match. "
                  "Hold them "
                  "beside each other before you saw.",
           .basis = std::string(kPractice)});
    if (blank.half != Half::whole && blank.pairing == Pairing::book) return;
    add({.id = "cut.thickness",
         .where = at(need),
         .value = offcut.thickness_mm - (need.thickness_mm - design_.rules.blank_thickness_allowance_mm),
         .limit = design_.rules.blank_thickness_allowance_mm,
         .why = "Without wood to spare there is nothing to flatten and shape.",
         .basis = basis_words(&ShopRules::blank_thickness_allowance_mm)});
  }

  const Design& design_;
  const Needs& needs_;
  const CuttingPlan& plan_;
  const Bin& bin_;
  std::vector<Finding> findings_;
};

}  // namespace

std::span<const CuttingKind> cutting_kinds() {
  return kKinds;
}

std::vector<Finding> cutting_findings(const Design& design, const Needs& needs, const CuttingPlan& plan,
                                      const Bin& bin) {
  return CuttingFindings(design, needs, plan, bin).all();
}

}  // namespace haftwright
