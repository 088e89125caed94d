// The bin: a search, and every offcut, sheet and rod that it finds as a card.
#include <imgui.h>

#include <algorithm>

#include "panel_offcuts.hpp"
#include "places.hpp"
#include "struct_fields.hpp"
#include "theme.hpp"

namespace haftwright::app {
namespace {

/// More than this nobody looks through: the search narrows it.
constexpr std::size_t kMostCards = 120;
constexpr float kSmallWidth = 92;  // pixels at scale 1
constexpr float kSmallHeight = 56;

/// One scale for all small drawings, so that sizes can be compared.
double small_scale(const Bin& bin, const BinFound& found) {
  double scale = 2;
  const auto fit = [&](const std::vector<Node>& outline) {
    const Vec2 size = Outline::trusted(outline).bounds().size();
    scale = std::min({scale, (kSmallWidth - 2) / size.x, (kSmallHeight - 2) / size.y});
  };
  for (const std::size_t i : found.offcuts) fit(bin.offcuts[i].outline);
  for (const std::size_t i : found.sheets) fit(bin.sheets[i].outline);
  return scale;
}

/// Looks through the bin when it, or what is searched for, has changed.
void look_through(OffcutsPane& pane, const std::shared_ptr<const Bin>& bin) {
  if (pane.searched == bin && pane.searched_for == pane.search) return;
  pane.searched = bin;
  pane.searched_for = pane.search;
  pane.found = search(*bin, pane.search);
  pane.small_scale = small_scale(*bin, pane.found);
}

void small_drawing(
    ShownDrawing& sheet, const std::vector<Node>& outline, double pixels_per_mm,
    const std::function<Ground()>& ground = [] { return Ground{}; }) {
  const ImVec2 low = ImGui::GetCursorScreenPos();
  const ImVec2 size{scaled(kSmallWidth), scaled(kSmallHeight)};
  const Bounds box = Outline::trusted(outline).bounds();
  ImGui::Dummy(size);
  if (!ImGui::IsItemVisible()) return;
  sheet.paint(*ImGui::GetWindowDrawList(),
              {.origin = {low.x + size.x / 2, low.y + size.y / 2},
               .centre = (box.low + box.high) * 0.5,
               .pixels_per_mm = pixels_per_mm},
              ground());
}

void card_words(const std::string& name, const std::string& material, const std::string& size,
                const std::string& kept_at, const std::vector<Reservation>& reserved) {
  ImGui::PushFont(bold_font());
  wrapped(name);
  ImGui::PopFont();
  wrapped(material);
  wrapped(size);
  if (!kept_at.empty()) wrapped("kept: " + kept_at, true);
  if (!reserved.empty()) wrapped(reserved_words(reserved), true);
}

/// Opens or closes the fields of the thing with that id.
void choose(OffcutsPane& pane, const std::string& id) {
  pane.chosen = pane.chosen == id ? "" : id;
  pane.defect = {};
}

constexpr const char* kCardTip = "Click to see and change what is known of it.";

void offcut_card(const Ui& ui, OffcutsPane& pane, const Bin& bin, const Offcut& offcut, double scale) {
  const bool chosen = pane.chosen == offcut.id;
  ShownDrawing& drawing = pane.small.try_emplace(offcut.id, offcut_drawing(bin, offcut, false)).first->second;
  if (card("offcut", offcut.id, chosen, chosen ? "" : kCardTip, [&] {
        small_drawing(drawing, offcut.outline, scale,
                      [&] { return pane.photos->ground(ui.session.photo_of(offcut)); });
        ImGui::SameLine();
        ImGui::BeginGroup();
        card_words(shown_name(offcut.name, offcut.id), material_name(bin, offcut.material),
                   size_words(offcut, ui.unit()), offcut.kept_at, offcut.reserved);
        ImGui::EndGroup();
      }))
    choose(pane, offcut.id);
  if (chosen) offcut_fields(ui, pane, offcut);
}

void sheet_card(const Ui& ui, OffcutsPane& pane, const Bin& bin, const SheetStock& sheet, double scale) {
  const bool chosen = pane.chosen == sheet.id;
  ShownDrawing& drawing = pane.small.try_emplace(sheet.id, sheet_drawing(bin, sheet)).first->second;
  if (card("sheet", sheet.id, chosen, chosen ? "" : kCardTip, [&] {
        small_drawing(drawing, sheet.outline, scale);
        ImGui::SameLine();
        ImGui::BeginGroup();
        card_words(shown_name(sheet.name, sheet.id), material_name(bin, sheet.material),
                   size_words(sheet, ui.unit()), sheet.kept_at, sheet.reserved);
        ImGui::EndGroup();
      }))
    choose(pane, sheet.id);
  if (chosen) sheet_fields(ui, pane, sheet);
}

void rod_card(const Ui& ui, OffcutsPane& pane, const Bin& bin, const RodStock& rod) {
  const bool chosen = pane.chosen == rod.id;
  if (card("rod", rod.id, chosen, chosen ? "" : kCardTip, [&] {
        card_words(shown_name(rod.name, rod.id), material_name(bin, rod.stock.material),
                   size_words(rod, ui.unit()), rod.kept_at, rod.reserved);
      }))
    choose(pane, rod.id);
  if (chosen) rod_fields(ui, pane, rod);
}

void search_fields(const Ui& ui, BinSearch& search) {
  search.unit = ui.unit();
  begin_fields("search");
  if (const auto typed =
          text_field("Wood", "A material's name or a part of it, such as walnut. Empty: any.", search.wood))
    search.wood = *typed;
  if (const auto typed = text_field(
          "At least",
          "Length along the grain, width and thickness, such as 120 x 40 x 20 or 5 in x 40 mm; of a "
          "rod its length. Empty: any.",
          search.least))
    search.least = *typed;
  end_fields();
  check_box("Only what is free", "Leaves out offcuts that projects have reserved.", search.only_free);
  if (search.wood.empty() && search.least.empty() && !search.only_free) return;
  flow("Show all");
  if (small_button("Show all", "Forgets what is searched for.")) search = {.unit = ui.unit()};
}

std::string found_words(const Bin& bin, const BinFound& found) {
  const auto counted = [](std::size_t some, std::size_t all, const std::string& noun) {
    return (some == all ? "" : std::to_string(some) + " of ") + std::to_string(all) + " " + noun +
           (all == 1 ? "" : "s");
  };
  return counted(found.offcuts.size(), bin.offcuts.size(), "offcut") + ", " +
         counted(found.sheets.size(), bin.sheets.size(), "sheet") + ", " +
         counted(found.rods.size(), bin.rods.size(), "rod");
}

void steps(BinDesk& desk) {
  const std::string undo = "Takes back the bin's last step: " + desk.undo_label();
  const std::string redo = "Makes the bin's step again: " + desk.redo_label();
  if (button("Undo in the bin", desk.can_undo() ? undo.c_str() : "Nothing was done in the bin yet.",
             desk.can_undo()))
    desk.undo();
  flow("Redo in the bin");
  if (button("Redo in the bin", desk.can_redo() ? redo.c_str() : "Nothing was taken back.", desk.can_redo()))
    desk.redo();
}

void adding(const Ui& ui, OffcutsPane& pane, BinDesk& desk) {
  const Bin& bin = desk.bin();
  const std::string material = material_to_begin_with(bin, ui.design());
  if (button("Add an offcut", "A new one, to be typed over; measure it before and after the first cut.") &&
      desk.apply("add an offcut", add(bin, offcut_to_begin_with(material))))
    pane.chosen = desk.bin().offcuts.back().id;
  flow("Add a sheet");
  if (button("Add a sheet", "What liners and spacer strips are cut from.") &&
      desk.apply("add a sheet", add(bin, sheet_to_begin_with("vulcanized_fibre"))))
    pane.chosen = desk.bin().sheets.back().id;
  flow("Add a rod");
  if (button("Add a rod", "What pins are cut from.") &&
      desk.apply("add a rod", add(bin, rod_to_begin_with(PinStock{}))))
    pane.chosen = desk.bin().rods.back().id;
}

void cards(const Ui& ui, OffcutsPane& pane, const std::shared_ptr<const Bin>& bin) {
  if (pane.drawn != bin) {
    pane.drawn = bin;
    pane.small.clear();
    pane.large.clear();
  }
  const BinFound& found = pane.found;
  const double scale = pane.small_scale * scaled(1);
  std::size_t shown = 0;
  const auto each = [&](const char* title, const std::vector<std::size_t>& indices, const auto& draw) {
    if (!indices.empty()) heading(title);
    for (const std::size_t i : indices)
      if (shown++ < kMostCards) draw(i);
  };
  each("Offcuts", found.offcuts, [&](std::size_t i) { offcut_card(ui, pane, *bin, bin->offcuts[i], scale); });
  each("Sheets", found.sheets, [&](std::size_t i) { sheet_card(ui, pane, *bin, bin->sheets[i], scale); });
  each("Rods", found.rods, [&](std::size_t i) { rod_card(ui, pane, *bin, bin->rods[i]); });
  if (shown > kMostCards)
    wrapped("And " + std::to_string(shown - kMostCards) + " more: search for less to see them.", true);
}

}  // namespace

void bin_part(const Ui& ui, OffcutsPane& pane, const OffcutsAsk& ask) {
  BinDesk& desk = ui.session.bin();
  adding(ui, pane, desk);
  steps(desk);
  search_fields(ui, pane.search);
  const std::shared_ptr<const Bin> bin = desk.snapshot();
  look_through(pane, bin);
  const std::string words = pane.found.problem.empty() ? found_words(*bin, pane.found) : pane.found.problem;
  wrapped(words);
  places::item("found", "in the bin", words);
  cards(ui, pane, bin);
  wrapped("Kept in " + desk.path().string(), true);
  if (button("Open another bin ...", "A bin's file that lies elsewhere; it is used from now on.", true, -1))
    ask.another_bin();
}

}  // namespace haftwright::app
