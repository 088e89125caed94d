#include "plan_places.hpp"

#include <algorithm>
#include <cmath>
#include <optional>

#include "bin_typed.hpp"
#include "haftwright/cutting/by_hand.hpp"
#include "haftwright/cutting/cutting_list.hpp"
#include "haftwright/design/quantities.hpp"
#include "haftwright/design/validate.hpp"
#include "haftwright/geometry/outline_ops.hpp"
#include "haftwright/handle/lay_out.hpp"

namespace haftwright::command {
namespace {

constexpr const char* kFix = "--fix";
constexpr const char* kFree = "--free";
constexpr const char* kForm =
    "must be PIECE, PIECE=OFFCUT or PIECE=OFFCUT@X,Y, then ,TURN ,lower or ,book where they apply, such as "
    "\"left front=old_thwart@60,25,90\", but is ";

/// What was typed behind the piece's name.
struct Typed {
  std::size_t need = 0;
  std::string offcut;
  int copy = 1;
  std::optional<Vec2> at_mm;
  std::optional<double> turn_deg;
  std::optional<Face> face;
  std::optional<HandCut> cut;
};

/// Puts one after another what was typed.
class Places {
 public:
  Places(const PlanOptions& options, const Design& design, const Bin& bin, const CuttingWishes& wishes)
      : options_(options),
        design_(design),
        handle_(lay_out(design)),
        needs_(needs_of(design, handle_)),
        bin_(bin),
        wishes_(wishes) {}

  Design all() {
    for (const std::string& text : options_.free) free(text);
    for (const std::string& text : options_.fix)
      if (text.find('=') != std::string::npos) fix(read(text));
    for (const std::string& text : options_.fix)
      if (text.find('=') == std::string::npos) fix_as_planned(text);
    return design_;
  }

 private:
  CuttingPlan planned() const {
    CuttingPlans plans = plan_cutting(design_, handle_, bin_, wishes_);
    return std::move(plans.plans[std::min(options_.take, plans.plans.size()) - 1]);
  }

  void take(const char* option, const Edited& edited) {
    if (!edited) throw InputError(option, edited.refusal());
    design_ = *edited;
  }

  /// "left front", "left front piece" or "left" and the piece's id.
  std::size_t need_called(const char* option, std::string_view name) const {
    std::string known;
    for (std::size_t i = 0; i < needs_.pieces.size(); ++i) {
      const PieceNeed& need = needs_.pieces[i];
      const std::string by_id =
          std::string(name_of(need.side)) + " " + design_.pieces(need.side)[need.piece].id;
      if (name == need.name || std::string(name) + " piece" == need.name || name == by_id) return i;
      known += (known.empty() ? "" : ", ") + need.name;
    }
    throw InputError(option,
                     "there is no piece " + schema::quoted(std::string(name)) + "; there are " + known);
  }

  void free(const std::string& text) {
    if (text == "all") return take(kFree, free_all_by_hand(design_));
    take(kFree, free_by_hand(design_, needs_, need_called(kFree, text)));
  }

  void fix_as_planned(const std::string& text) {
    const CuttingPlan plan = planned();
    if (text == "all") return take(kFix, put_all_by_hand(design_, needs_, bin_, plan));
    const std::size_t need = need_called(kFix, text);
    for (const BoardUse& use : plan.offcuts)
      for (const PlacedBlank& blank : use.blanks)
        if (blank.need == need)
          return take(kFix, put_by_hand(design_, needs_, hand_place_of(design_, needs_, bin_, use, blank)));
    throw InputError(kFix, "the plan has no place for the " + needs_.pieces[need].name);
  }

  Typed read(const std::string& text) const {
    const TypedReader reader(kFix, design_.shown_unit);
    const auto sides = parted(text, '=');
    if (sides.size() != 2 || sides[1].empty()) reader.refuse(kForm + schema::quoted(text));
    Typed typed;
    typed.need = need_called(kFix, sides[0]);
    const auto at = parted(sides[1], '@');
    if (at.empty() || at.size() > 2) reader.refuse(kForm + schema::quoted(text));
    const auto copy = parted(at[0], '#');
    if (copy.empty() || copy.size() > 2) reader.refuse(kForm + schema::quoted(text));
    typed.offcut = copy[0];
    if (copy.size() == 2) typed.copy = reader.whole(copy[1]);
    auto figures = at.size() == 2 ? parted(at[1], ',') : std::vector<std::string_view>();
    if (at.size() == 2 && figures.size() < 2) reader.refuse(kForm + schema::quoted(text));
    for (std::size_t i = 2; i < figures.size(); ++i) read_word(reader, figures[i], typed);
    if (figures.size() >= 2) typed.at_mm = Vec2{reader.length_mm(figures[0]), reader.length_mm(figures[1])};
    return typed;
  }

  static void read_word(const TypedReader& reader, std::string_view word, Typed& typed) {
    for (const auto& face : schema::kFaceNames)
      if (face.name == word) {
        typed.face = face.value;
        return;
      }
    for (const auto& cut : schema::kHandCutNames)
      if (cut.name == word) {
        typed.cut = cut.value;
        return;
      }
    typed.turn_deg = reader.number(word);
  }

  void fix(const Typed& typed) {
    const PieceNeed& need = needs_.pieces[typed.need];
    HandPlace place{need.side, design_.pieces(need.side)[need.piece].id, typed.offcut, typed.copy};
    place.face = typed.face.value_or(Face::upper);
    place.cut = typed.cut.value_or(HandCut::single);
    const BlankInHand hand(design_, needs_, bin_, wishes_, planned(), place);
    const std::string name = "the " + need.name + " can't lie there: ";
    if (!hand.unfit().empty()) throw InputError(kFix, name + hand.unfit());
    const double turn = typed.turn_deg.value_or(
        hand.turns().empty() ? 0 : std::remainder(hand.turns().front().middle_deg, 360.0));
    const BlankInHand::Held held =
        hand.at(typed.at_mm.value_or(middle_of(typed.offcut)), turn, Beside::by_hand);
    if (typed.at_mm && !held.why.empty())
      throw InputError(kFix, name + held.why +
                                 (held.legal ? "; the nearest place is " + words_of(held.place)
                                             : "; nor is there another place on this offcut"));
    if (!held.legal && !typed.at_mm) throw InputError(kFix, name + held.why);
    place = held.place;
    // What was typed is taken at its word: how far the grain runs off there is for the findings to say.
    if (typed.at_mm) place.at_mm = *typed.at_mm;
    if (typed.turn_deg) place.turn_deg = std::remainder(turn, 360.0);
    take(kFix, put_by_hand(design_, needs_, place));
  }

  Vec2 middle_of(const std::string& offcut) const {
    const auto found = std::ranges::find(bin_.offcuts, offcut, &Offcut::id);
    const Bounds box = Outline(found->outline).bounds();
    return (box.low + box.high) * 0.5;
  }

  std::string words_of(const HandPlace& place) const {
    return format_length(place.at_mm.x, design_.shown_unit) + ", " +
           format_length(place.at_mm.y, design_.shown_unit) + ", turned " + format_number(place.turn_deg, 1) +
           " deg";
  }

  const PlanOptions& options_;
  Design design_;
  Handle handle_;
  Needs needs_;
  const Bin& bin_;
  const CuttingWishes& wishes_;
};

}  // namespace

std::vector<nesting::Preference> typed_order(const std::string& text) {
  std::vector<nesting::Preference> order;
  std::string known;
  for (const PreferenceRow& row : preference_rows())
    known += (known.empty() ? "" : ", ") + std::string(row.key);
  for (const std::string_view word : parted(text, ',')) {
    const auto row = std::ranges::find(preference_rows(), word, &PreferenceRow::key);
    if (row == preference_rows().end() || std::ranges::find(order, row->what) != order.end())
      throw InputError("--order", "must name some of " + known +
                                      ", each once, the most important first, but is " +
                                      schema::quoted(text));
    order.push_back(row->what);
  }
  return order;
}

Design with_typed_places(const PlanOptions& options, const Design& design, const Bin& bin,
                         const CuttingWishes& wishes) {
  if (options.fix.empty() && options.free.empty()) return design;
  return Places(options, design, bin, wishes).all();
}

}  // namespace haftwright::command
