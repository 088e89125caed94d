#include "plan_reports.hpp"

#include <nlohmann/json.hpp>

#include "haftwright/design/quantities.hpp"

namespace haftwright::command {
namespace {

using Json = nlohmann::ordered_json;

Json points_json(const std::vector<Vec2>& points) {
  Json list = Json::array();
  for (const Vec2 p : points) list.push_back({p.x, p.y});
  return list;
}

const char* key_of(Pairing pairing) {
  switch (pairing) {
    case Pairing::book:
      return "book";
    case Pairing::slices:
      return "slices";
    case Pairing::one_offcut:
      return "one_offcut";
    case Pairing::apart:
      return "apart";
    case Pairing::single:
      return "single";
  }
  return "";
}

const char* key_of(Half half) {
  switch (half) {
    case Half::whole:
      return "whole";
    case Half::upper:
      return "upper";
    case Half::lower:
      return "lower";
  }
  return "";
}

template <class Names, class Value>
std::string name_in(const Names& names, Value value) {
  for (const auto& entry : names)
    if (entry.value == value) return std::string(entry.name);
  return {};
}

Json cuts_json(const nesting::StockCuts& cuts) {
  Json list = Json::array();
  for (const nesting::Cut& cut : cuts.cuts) {
    Json one = {{"from_mm", {cut.from_mm.x, cut.from_mm.y}},
                {"to_mm", {cut.to_mm.x, cut.to_mm.y}},
                {"piece", cut.piece},
                {"made", cut.made},
                {"angle_deg", cut.angle_deg}};
    if (cut.fence) one["fence_mm"] = cut.fence->distance_mm;
    list.push_back(std::move(one));
  }
  return list;
}

Json board_json(const Needs& needs, const BoardUse& use, const Bin& bin, bool sheet) {
  Json json;
  json[sheet ? "sheet" : "offcut"] = sheet ? bin.sheets[use.index].id : bin.offcuts[use.index].id;
  if (use.with_slice) json["with_slice"] = bin.offcuts[*use.with_slice].id;
  if (use.copy > 0) json["copy"] = use.copy + 1;
  json["blanks"] = Json::array();
  for (const PlacedBlank& blank : use.blanks) {
    Json one = {{"name", sheet ? needs.sheets[blank.need].name : needs.pieces[blank.need].name},
                {"outline_mm", points_json(blank.outline)},
                {"turn_deg", blank.turn_deg}};
    if (!sheet) {
      one["mirrored"] = blank.mirrored;
      one["shows"] = blank.lower_face ? "lower" : "upper";
      one["half"] = key_of(blank.half);
      one["pairing"] = key_of(blank.pairing);
      one["by_hand"] = blank.by_hand;
    }
    json["blanks"].push_back(std::move(one));
  }
  json["cuts"] = cuts_json(use.cuts);
  json["cuts_complete"] = use.cuts.complete;
  json["leftovers"] = Json::array();
  for (const nesting::Leftover& leftover : use.leftovers)
    json["leftovers"].push_back({{"outline_mm", points_json(leftover.outline)},
                                 {"clear_size_mm", {leftover.clear_size_mm.x, leftover.clear_size_mm.y}},
                                 {"worth", leftover.worth}});
  if (sheet) return json;
  json["slabs"] = Json::array();
  for (const Slab& slab : use.slabs)
    json["slabs"].push_back({{"outline_mm", points_json(slab.outline)}, {"thickness_mm", slab.thickness_mm}});
  return json;
}

std::string taken_words(const Needs& needs, const CuttingPlan& plan, const Bin& bin) {
  std::string words;
  for (const BoardUse& use : plan.offcuts) {
    words += "  " + offcut_words(bin, use.index) +
             (use.with_slice ? " and " + offcut_words(bin, *use.with_slice) : "") + ":";
    for (std::size_t i = 0; i < use.blanks.size(); ++i)
      words += (i ? ", " : " ") + needs.pieces[use.blanks[i].need].name +
               (use.blanks[i].by_hand ? " (put there by hand)" : "");
    words += "\n";
  }
  for (const std::size_t i : plan.pieces_without) words += "  no place: " + needs.pieces[i].name + "\n";
  for (const std::size_t i : plan.sheets_without) words += "  no sheet: " + needs.sheets[i].name + "\n";
  for (const std::size_t i : plan.pins_without)
    words += "  no rod: pin " + std::to_string(needs.pins[i].pin + 1) + "\n";
  return words;
}

}  // namespace

std::string plans_text(const CuttingPlans& plans, const Bin& bin, LengthUnit unit) {
  std::string text = "Blanks, all allowances included:\n";
  for (const PieceNeed& need : plans.needs.pieces)
    text += "  " + blank_words(need, unit) + (need.at_hand ? " (its blank is at hand)" : "") + "\n";
  for (std::size_t i = 0; i < plans.plans.size(); ++i) {
    const CuttingPlan& plan = plans.plans[i];
    text += "\nPlan " + std::to_string(i + 1);
    if (i == 0) text += plan.proven_best ? " (proven best of those searched)" : " (best found)";
    text += "\n" + taken_words(plans.needs, plan, bin);
    if (const std::string why = reason_words(plan.against_next); !why.empty() && i + 1 < plans.plans.size())
      text += "  before the next: " + why + "\n";
  }
  if (plans.out_of_time) text += "\nThe search was cut short; there may be better plans.\n";
  return text;
}

std::string why_not_text(const Needs& needs, const Bin& bin, const std::vector<WhyNot>& reasons) {
  std::string text;
  for (const WhyNot& reason : reasons) {
    text += "No place for the ";
    for (std::size_t i = 0; i < reason.pieces.size(); ++i)
      text += (i ? " and the " : "") + needs.pieces[reason.pieces[i]].name;
    text += reason.nearest.empty() ? ": the bin has no offcut of its wood that is free\n" : "; nearest\n";
    for (const NearOffcut& near : reason.nearest)
      text += "  " + offcut_words(bin, near.offcut) + ": " + near.words + "\n";
    for (const CuttingChange& change : reason.changes) text += "  It has one if you " + change.words + ".\n";
    if (reason.changes.empty() && !reason.nearest.empty())
      text += "  No single change to the design that was tried helps.\n";
    text += "\n";
  }
  return text;
}

Json why_not_json(const Needs& needs, const Bin& bin, const std::vector<WhyNot>& reasons) {
  Json list = Json::array();
  for (const WhyNot& reason : reasons) {
    Json one = {{"pieces", Json::array()}, {"nearest", Json::array()}, {"changes", Json::array()}};
    for (const std::size_t piece : reason.pieces) one["pieces"].push_back(needs.pieces[piece].name);
    for (const NearOffcut& near : reason.nearest)
      one["nearest"].push_back({{"offcut", bin.offcuts[near.offcut].id},
                                {"thickness_short_mm", near.thickness_short_mm},
                                {"words", near.words}});
    for (const CuttingChange& change : reason.changes)
      one["changes"].push_back({{"words", change.words}, {"amount", change.amount}});
    list.push_back(std::move(one));
  }
  return list;
}

Json needs_json(const Needs& needs) {
  Json json = {{"pieces", Json::array()}, {"sheets", Json::array()}, {"pins", Json::array()}};
  for (const PieceNeed& need : needs.pieces)
    json["pieces"].push_back({{"name", need.name},
                              {"material", need.material},
                              {"outline_mm", points_json(need.outline)},
                              {"thickness_mm", need.thickness_mm},
                              {"at_hand", need.at_hand}});
  for (const SheetNeed& need : needs.sheets)
    json["sheets"].push_back({{"name", need.name},
                              {"material", need.material},
                              {"thickness_mm", need.thickness_mm},
                              {"outline_mm", points_json(need.outline)}});
  for (const PinNeed& need : needs.pins)
    json["pins"].push_back({{"pin", need.pin}, {"length_mm", need.length_mm}});
  return json;
}

Json hand_places_json(const Design& design) {
  Json list = Json::array();
  for (const HandPlace& place : design.hand_places)
    list.push_back({{"side", name_of(place.side)},
                    {"piece", place.piece},
                    {"offcut", place.offcut},
                    {"copy", place.copy},
                    {"at_mm", {place.at_mm.x, place.at_mm.y}},
                    {"turn_deg", place.turn_deg},
                    {"face", name_in(schema::kFaceNames, place.face)},
                    {"cut", name_in(schema::kHandCutNames, place.cut)}});
  return list;
}

Json plan_json(const Needs& needs, const CuttingPlan& plan, const Bin& bin) {
  Json json = {{"complete", plan.complete()}, {"proven_best", plan.proven_best}};
  json["offcuts"] = Json::array();
  for (const BoardUse& use : plan.offcuts) json["offcuts"].push_back(board_json(needs, use, bin, false));
  json["sheets"] = Json::array();
  for (const BoardUse& use : plan.sheets) json["sheets"].push_back(board_json(needs, use, bin, true));
  json["rods"] = Json::array();
  for (const RodUse& use : plan.rods) {
    Json pins = Json::array();
    for (const std::size_t pin : use.pins) pins.push_back(needs.pins[pin].pin);
    json["rods"].push_back({{"rod", bin.rods[use.index].id}, {"pins", pins}, {"left_mm", use.left_mm}});
  }
  json["without"] = Json::array();
  for (const std::size_t i : plan.pieces_without) json["without"].push_back(needs.pieces[i].name);
  for (const std::size_t i : plan.sheets_without) json["without"].push_back(needs.sheets[i].name);
  for (const std::size_t i : plan.pins_without)
    json["without"].push_back("pin " + std::to_string(needs.pins[i].pin + 1));
  json["not_kept"] = Json::array();
  for (const PlaceNotKept& lost : plan.not_kept)
    json["not_kept"].push_back({{"place", lost.place}, {"why", lost.why}});
  json["before_the_next"] = reason_words(plan.against_next);
  return json;
}

}  // namespace haftwright::command
