// Values of what is selected, to be typed over the sheet, and what the right button offers.
#include <algorithm>
#include <cmath>
#include <functional>

#include "fold_canvas.hpp"
#include "places.hpp"
#include "struct_fields.hpp"

namespace haftwright::app {
namespace {

constexpr float kBox = 94;  // pixels at scale 1: room for "-123.45 mm"

/// A row of values that goes on below where it is full.
class Row {
 public:
  Row(const Ui& ui, bool focus) : ui_(ui), focus_(focus) {}

  void title(const std::string& text) {
    ImGui::AlignTextToFramePadding();
    ImGui::PushFont(bold_font());
    ImGui::TextUnformatted(text.c_str());
    ImGui::PopFont();
  }
  /// A figure in its box; a new one when it was typed.
  std::optional<double> box(const TypedValue& value, double now) {
    start(value.label);
    if (value.quantity.unit == "deg")
      return angle_box(value.label, value.tip, now, range_of(value.quantity), scaled(kBox) * 0.68F);
    return length_box(value.label, value.tip, now, ui_.unit(), range_of(value.quantity), scaled(kBox));
  }
  /// Whether a button would stand in the row that is begun.
  bool has_room(const char* label) const {
    const float right = ImGui::GetWindowPos().x + ImGui::GetWindowContentRegionMax().x;
    const float width = ImGui::CalcTextSize(label).x + 2 * ImGui::GetStyle().FramePadding.x;
    return ImGui::GetItemRectMax().x + scaled(8) + width <= right;
  }
  bool press(const char* label, const char* tip) {
    room(ImGui::CalcTextSize(label).x + 2 * ImGui::GetStyle().FramePadding.x);
    return button(label, tip);
  }

 private:
  void start(const char* label) {
    room(ImGui::CalcTextSize(label).x + ImGui::GetStyle().ItemInnerSpacing.x + scaled(kBox));
    if (focus_) ImGui::SetKeyboardFocusHere();
    focus_ = false;
  }
  void room(float width) {
    ImGui::SameLine(0, scaled(8));
    if (ImGui::GetContentRegionAvail().x < width) ImGui::NewLine();
  }

  const Ui& ui_;
  bool focus_;
};

/// Title, figures and buttons of what is selected.
void values_of(const Ui& ui, Row& row) {
  const Selection what = ui.selection;
  row.title(what.kind->title(ui.design(), what));
  for (const TypedValue& value : what.kind->values)
    if (const auto typed = row.box(value, value.get(ui.design(), what)))
      ui.apply(value.step(ui.design(), what), value.set(ui.design(), what, *typed));
  for (const ThingAction& action : what.kind->actions)
    if (row.press(action.label, action.tip)) ui.apply(action.step, action.make(ui.design(), what));
}

void link_button(const Ui& ui, Row& row) {
  const auto field = linked_field(ui.selection);
  if (!field) return;
  const bool together = linked(ui.design(), *field);
  if (row.press(together ? "Unlink" : "Link",
                together ? "Both sides move together. Click to let the right side go its own way. (U)"
                         : "The right side follows the left again; its own values are dropped. (U)"))
    toggle_link(ui);
}

/// What can be done when nothing is selected, as far as there is room to say it.
void idle_words() {
  static constexpr const char* kWords[] = {
      "Drag blue marks and pins. Wheel: zoom. Right button: move the sheet, or click for more.",
      "Drag blue marks and pins. Right click for more.", "Drag blue marks and pins."};
  const auto fits = [](const char* words) {
    return ImGui::CalcTextSize(words).x <= ImGui::GetContentRegionAvail().x;
  };
  ImGui::AlignTextToFramePadding();
  for (const char* words : kWords)
    if (fits(words)) return ImGui::TextDisabled("%s", words);
  ImGui::NewLine();
}

/// The edge of the tang or of a cutout nearest to a place on the face.
struct NearEdge {
  OutlineOf of;
  Nearest nearest;
};
std::optional<NearEdge> edge_near(const Design& design, Vec2 at, double within_mm) {
  std::optional<NearEdge> best;
  const auto look = [&](OutlineOf of, const std::vector<Node>& chain) {
    for (std::size_t i = 0; i < chain.size(); ++i) {
      const Edge edge(chain[i].at, chain[(i + 1) % chain.size()].at, chain[i].bulge);
      constexpr int kSteps = 64;
      for (int k = 1; k < kSteps; ++k) {
        const double t = static_cast<double>(k) / kSteps;
        const double distance = glm::distance(edge.point(t), at);
        if (distance > within_mm || (best && distance >= best->nearest.distance_mm)) continue;
        best = NearEdge{of, {distance, edge.point(t), i, t}};
      }
    }
  };
  look({}, design.tang.outline);
  for (std::size_t k = 0; k < design.tang.cutouts.size(); ++k) look({k}, design.tang.cutouts[k]);
  return best;
}

/// Where a thing goes in a list that stands in order along the handle.
template <class List, class Place>
std::size_t index_along(const List& list, double x_mm, Place place) {
  return static_cast<std::size_t>(
      std::ranges::count_if(list, [&](const auto& one) { return std::invoke(place, one) < x_mm; }));
}

void add_something(const Ui& ui, FoldViewState& state, const FoldPlace& place) {
  const Which side = place.region == FoldRegion::right_face ||
                             (place.region == FoldRegion::edge_strip && place.y_or_z_mm < 0)
                         ? Which::right
                         : Which::left;
  const Vec2 at{place.x_mm, place.y_or_z_mm};
  state.region = place.region;
  if (place.region == FoldRegion::edge_strip) {
    if (menu_item("Add a thickness station here", nullptr, "On the curve as it is; then drag it."))
      ui.make("Add a station", add_station(ui.design(), side, place.x_mm), draggable::station, side,
              index_along(side_of(ui.design(), side).finish.thickness_mm, place.x_mm,
                          &MonotoneCubic::Station::x));
  } else {
    if (menu_item("Add a pin here", nullptr, "Like its nearest neighbour."))
      ui.make("Add a pin", add_pin(ui.design(), at), draggable::pin, Which::left, ui.design().pins.size());
  }
  if (menu_item("Add a joint here", nullptr, "Parts the piece in two of the same wood."))
    ui.make("Add a joint", add_joint(ui.design(), side, place.x_mm), draggable::joint, side,
            index_along(ui.design().joints(side), place.x_mm, &Joint::place_mm));
  if (place.region == FoldRegion::edge_strip || !state.edit_outline) return;
  if (menu_item("Add a tang hole here", nullptr, "A hole the tang has already, 3 mm; then give its size."))
    ui.make("Add a tang hole", add_tang_hole(ui.design(), at, 3), draggable::tang_hole, Which::left,
            ui.design().tang.holes.size());
  const double reach = scaled(12) / state.frame.pixels_per_mm;
  const auto edge = edge_near(ui.design(), at, reach);
  if (menu_item("Add a corner here", nullptr, "On the edge next to the pointer; the shape stays as it is.",
                edge.has_value()))
    if (ui.document.apply("Add a corner", split_edge(ui.design(), edge->of, edge->nearest.edge,
                                                     edge->nearest.t)) != Outcome::refused)
      ui.selection = {&draggable::corner, Which::left, edge->nearest.edge + 1, edge->of.cutout};
}

}  // namespace

void toggle_link(const Ui& ui) {
  const auto field = linked_field(ui.selection);
  if (!field) return;
  const bool together = linked(ui.design(), *field);
  ui.apply(std::string(together ? "Unlink " : "Link ") + name_of(*field),
           together ? unlink(ui.design(), *field) : link(ui.design(), *field));
}

void remove_selected(const Ui& ui) {
  const Selection what = std::exchange(ui.selection, {});
  if (removable(what)) ui.apply(removal_step(ui.design(), what), removed(ui.design(), what));
}

bool has_values(const Ui& ui) {
  return exists(ui.design(), ui.selection);
}

void fold_values(const Ui& ui, FoldViewState& state) {
  const ImGuiStyle& style = ImGui::GetStyle();
  const float pad = scaled(4);
  ImGui::SetCursorScreenPos({state.low.x, state.high.y});
  ImGui::PushStyleVar(ImGuiStyleVar_WindowPadding, {pad, pad});
  ImGui::PushStyleVar(ImGuiStyleVar_ItemSpacing, {style.ItemSpacing.x, scaled(4)});
  ImGui::BeginChild("values", {state.high.x - state.low.x, state.bar_height}, false,
                    ImGuiWindowFlags_NoScrollbar | ImGuiWindowFlags_NoScrollWithMouse |
                        ImGuiWindowFlags_AlwaysUseWindowPadding);
  if (has_values(ui)) {
    // Each thing has boxes of its own, so that what is half typed goes nowhere else.
    ImGui::PushID(ui.selection.kind);
    ImGui::PushID(static_cast<int>(ui.selection.index));
    ImGui::PushID(ui.selection.id.c_str());
    ImGui::PushID(static_cast<int>(ui.selection.side));
    ImGui::PushID(ui.selection.cutout ? static_cast<int>(*ui.selection.cutout) : -1);
    Row row(ui, state.focus_values);
    values_of(ui, row);
    link_button(ui, row);
    // A row of its own for it would cover what was taken hold of; the Delete key and the right button do the
    // same.
    if (removable(ui.selection) && row.has_room("Remove") &&
        row.press("Remove", "Takes it away; undo brings it back. (Delete)"))
      remove_selected(ui);
    for (int i = 0; i < 5; ++i) ImGui::PopID();
  } else {
    idle_words();
  }
  state.focus_values = false;
  state.bar_height = ImGui::GetCursorPosY() - scaled(4) + pad;
  ImGui::EndChild();
  ImGui::PopStyleVar(2);
}

void fold_context_menu(const Ui& ui, FoldViewState& state) {
  if (!ImGui::BeginPopup("sheet menu")) return;
  if (state.menu_grip) {
    ui.selection = state.menu_grip->what;
    if (menu_item("Type its values", "Enter", "In the row below the drawing.", has_values(ui)))
      state.focus_values = true;
    if (const auto field = linked_field(ui.selection)) {
      const bool together = linked(ui.design(), *field);
      if (menu_item(together ? "Unlink the sides" : "Link the sides", "U",
                    together ? "The right side goes its own way." : "The right side follows the left."))
        toggle_link(ui);
    }
    if (menu_item("Remove", "Delete", "Takes it away; undo brings it back.", removable(ui.selection))) {
      remove_selected(ui);
      state.menu_grip.reset();
    }
    ImGui::Separator();
  }
  add_something(ui, state, state.map.to_handle(state.menu_at));
  ImGui::EndPopup();
}

}  // namespace haftwright::app
