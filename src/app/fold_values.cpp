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

Side side_of(const Design& design, Which side) {
  return side == Which::left ? design.left : design.right_side();
}

std::string numbered(const char* what, std::size_t index) {
  return std::string(what) + " " + std::to_string(index + 1);
}

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
  std::optional<double> length(const char* label, const char* tip, const schema::Quantity& quantity,
                               double value_mm) {
    start(label);
    return length_box(label, tip, value_mm, ui_.unit(), range_of(quantity), scaled(kBox));
  }
  std::optional<double> angle(const char* label, const char* tip, const schema::Quantity& quantity,
                              double value_deg) {
    start(label);
    return angle_box(label, tip, value_deg, range_of(quantity), scaled(kBox) * 0.68F);
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

void pin_values(const Ui& ui, Row& row, std::size_t index) {
  const Pin& pin = ui.design().pins[index];
  row.title(pin.name.empty() ? numbered("Pin", index) : pin.name);
  const std::string label = numbered("Move pin", index);
  if (const auto x = row.length("along", "from the front of the handle toward the butt", schema::kCoordinate,
                                pin.at_mm.x))
    ui.apply(label, move_pin(ui.design(), index, {*x, pin.at_mm.y}));
  if (const auto y = row.length("across", "from the axis toward the spine", schema::kCoordinate, pin.at_mm.y))
    ui.apply(label, move_pin(ui.design(), index, {pin.at_mm.x, *y}));
}

void joint_values(const Ui& ui, Row& row, const Selection& what) {
  const Joint joint = side_of(ui.design(), what.side).joints[what.index];
  const std::string name = numbered("Joint", what.index);
  row.title(linked(ui.design(), SideField::joints) ? name : name + ", " + name_of(what.side));
  if (const auto place = row.length("along", "where the middle of the joint crosses the axis at the liner",
                                    schema::kCoordinate, joint.place_mm))
    ui.apply("Move " + name, move_joint(ui.design(), what.side, what.index, *place));
  if (const auto slant = row.angle("slant", "seen from the side", schema::kSlant, joint.slant_deg))
    ui.apply("Slant " + name, slant_joint(ui.design(), what.side, what.index, *slant));
  if (const auto rake = row.angle("rake", "through the thickness", schema::kRake, joint.rake_deg))
    ui.apply("Rake " + name, rake_joint(ui.design(), what.side, what.index, *rake));
}

void station_values(const Ui& ui, Row& row, const Selection& what) {
  const MonotoneCubic::Station station = side_of(ui.design(), what.side).finish.thickness_mm[what.index];
  const std::string name = numbered("Station", what.index);
  row.title(linked(ui.design(), SideField::finish) ? name : name + ", " + name_of(what.side));
  if (const auto x =
          row.length("along", "from the front of the handle toward the butt", schema::kCoordinate, station.x))
    ui.apply(name, move_station(ui.design(), what.side, what.index, *x, station.value));
  if (const auto thick = row.length("thick", "liners and scale of one side, at the highest line",
                                    schema::kSideThickness, station.value))
    ui.apply(name, move_station(ui.design(), what.side, what.index, station.x, *thick));
}

const std::vector<Node>* chain_of(const Design& design, const Selection& what) {
  if (!what.cutout) return &design.tang.outline;
  return *what.cutout < design.tang.cutouts.size() ? &design.tang.cutouts[*what.cutout] : nullptr;
}

void outline_values(const Ui& ui, Row& row, const Selection& what) {
  const Node node = (*chain_of(ui.design(), what))[what.index];
  const OutlineOf of{what.cutout};
  const std::string whose = what.cutout ? numbered("Cutout", *what.cutout) : std::string("Tang");
  if (what.kind == Selection::Kind::edge) {
    row.title(whose + ", " + numbered("edge", what.index));
    const double rise = edge_rise_mm(ui.design(), of, what.index).value_or(0);
    if (const auto typed = row.length("rise", "how far its middle stands out from straight; 0 is straight",
                                      schema::kCoordinate, rise))
      ui.apply("Bend " + whose + " edge", set_edge_rise(ui.design(), of, what.index, *typed));
    if (row.press("Add a corner", "A corner in the middle of this edge; the shape stays as it is."))
      ui.apply("Split " + whose + " edge", split_edge(ui.design(), of, what.index, 0.5));
    return;
  }
  row.title(whose + ", " + numbered("corner", what.index));
  const std::string label = "Move " + whose + " corner";
  if (const auto x =
          row.length("along", "from the front of the handle toward the butt", schema::kCoordinate, node.at.x))
    ui.apply(label, move_node(ui.design(), of, what.index, {*x, node.at.y}));
  if (const auto y = row.length("across", "from the axis toward the spine", schema::kCoordinate, node.at.y))
    ui.apply(label, move_node(ui.design(), of, what.index, {node.at.x, *y}));
}

void hole_values(const Ui& ui, Row& row, std::size_t index) {
  const TangHole& hole = ui.design().tang.holes[index];
  row.title("Tang hole " + hole.name);
  const std::string label = numbered("Move tang hole", index);
  if (const auto x = row.length("along", "from the front of the handle toward the butt", schema::kCoordinate,
                                hole.at_mm.x))
    ui.apply(label, move_tang_hole(ui.design(), index, {*x, hole.at_mm.y}));
  if (const auto y =
          row.length("across", "from the axis toward the spine", schema::kCoordinate, hole.at_mm.y))
    ui.apply(label, move_tang_hole(ui.design(), index, {hole.at_mm.x, *y}));
  if (const auto size = row.length("diameter", "as measured", schema::kHoleDiameter, hole.diameter_mm))
    ui.apply(numbered("Size of tang hole", index), size_tang_hole(ui.design(), index, *size));
}

void values_of(const Ui& ui, Row& row) {
  const Selection what = ui.selection;
  switch (what.kind) {
    case Selection::Kind::pin:
      return pin_values(ui, row, what.index);
    case Selection::Kind::joint:
    case Selection::Kind::joint_slant:
    case Selection::Kind::joint_rake:
      return joint_values(ui, row, what);
    case Selection::Kind::station:
      return station_values(ui, row, what);
    case Selection::Kind::node:
    case Selection::Kind::edge:
      return outline_values(ui, row, what);
    case Selection::Kind::tang_hole:
      return hole_values(ui, row, what.index);
    case Selection::Kind::cutout:
      return row.title(numbered("Cutout", what.index));
    case Selection::Kind::none:
      return;
  }
}

void link_button(const Ui& ui, Row& row) {
  const auto field = linked_field(ui.selection);
  if (!field) return;
  const bool together = linked(ui.design(), *field);
  if (together &&
      row.press("Unlink", "Both sides move together. Click to let the right side go its own way. (U)"))
    ui.apply(std::string("Unlink ") + name_of(*field), unlink(ui.design(), *field));
  if (!together &&
      row.press("Link", "The right side follows the left again; its own values are dropped. (U)"))
    ui.apply(std::string("Link ") + name_of(*field), link(ui.design(), *field));
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

bool removable(const Selection& what) {
  return what.kind != Selection::Kind::none && what.kind != Selection::Kind::edge;
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
      ui.make("Add a station", add_station(ui.design(), side, place.x_mm),
              {Selection::Kind::station, side,
               index_along(side_of(ui.design(), side).finish.thickness_mm, place.x_mm,
                           &MonotoneCubic::Station::x)});
  } else {
    if (menu_item("Add a pin here", nullptr, "Like its nearest neighbour."))
      ui.make("Add a pin", add_pin(ui.design(), at),
              {Selection::Kind::pin, Which::left, ui.design().pins.size()});
  }
  if (menu_item("Add a joint here", nullptr, "Parts the piece in two of the same wood."))
    ui.make("Add a joint", add_joint(ui.design(), side, place.x_mm),
            {Selection::Kind::joint, side,
             index_along(side_of(ui.design(), side).joints, place.x_mm, &Joint::place_mm)});
  if (place.region == FoldRegion::edge_strip || !state.edit_outline) return;
  if (menu_item("Add a tang hole here", nullptr, "A hole the tang has already, 3 mm; then give its size."))
    ui.make("Add a tang hole", add_tang_hole(ui.design(), at, 3),
            {Selection::Kind::tang_hole, Which::left, ui.design().tang.holes.size()});
  const double reach = scaled(12) / state.frame.pixels_per_mm;
  const auto edge = edge_near(ui.design(), at, reach);
  if (menu_item("Add a corner here", nullptr, "On the edge next to the pointer; the shape stays as it is.",
                edge.has_value()))
    ui.make("Add a corner", split_edge(ui.design(), edge->of, edge->nearest.edge, edge->nearest.t),
            {Selection::Kind::node, Which::left, edge->nearest.edge + 1, edge->of.cutout});
}

}  // namespace

std::optional<SideField> linked_field(const Selection& selected) {
  switch (selected.kind) {
    case Selection::Kind::joint:
    case Selection::Kind::joint_slant:
    case Selection::Kind::joint_rake:
      return SideField::joints;
    case Selection::Kind::station:
      return SideField::finish;
    default:
      return std::nullopt;
  }
}

void remove_selected(const Ui& ui) {
  const Selection what = std::exchange(ui.selection, {});
  const Design& design = ui.design();
  switch (what.kind) {
    case Selection::Kind::pin:
      return ui.apply("Remove " + numbered("pin", what.index), remove_pin(design, what.index));
    case Selection::Kind::joint:
    case Selection::Kind::joint_slant:
    case Selection::Kind::joint_rake:
      return ui.apply("Remove " + numbered("joint", what.index),
                      remove_piece(design, what.side, what.index + 1));
    case Selection::Kind::station:
      return ui.apply("Remove " + numbered("station", what.index),
                      remove_station(design, what.side, what.index));
    case Selection::Kind::node:
      return ui.apply("Remove corner", remove_node(design, {what.cutout}, what.index));
    case Selection::Kind::tang_hole:
      return ui.apply("Remove " + numbered("tang hole", what.index), remove_tang_hole(design, what.index));
    case Selection::Kind::cutout:
      return ui.apply("Remove " + numbered("cutout", what.index), remove_cutout(design, what.index));
    case Selection::Kind::edge:
    case Selection::Kind::none:
      return;
  }
}

bool has_values(const Ui& ui) {
  const Selection& what = ui.selection;
  const Design& design = ui.design();
  switch (what.kind) {
    case Selection::Kind::pin:
      return what.index < design.pins.size();
    case Selection::Kind::joint:
    case Selection::Kind::joint_slant:
    case Selection::Kind::joint_rake:
      return what.index < side_of(design, what.side).joints.size();
    case Selection::Kind::station:
      return what.index < side_of(design, what.side).finish.thickness_mm.size();
    case Selection::Kind::node:
    case Selection::Kind::edge: {
      const std::vector<Node>* chain = chain_of(design, what);
      return chain && what.index < chain->size();
    }
    case Selection::Kind::tang_hole:
      return what.index < design.tang.holes.size();
    case Selection::Kind::cutout:
      return what.index < design.tang.cutouts.size();
    case Selection::Kind::none:
      break;
  }
  return false;
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
    ImGui::PushID(static_cast<int>(ui.selection.kind));
    ImGui::PushID(static_cast<int>(ui.selection.index));
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
    for (int i = 0; i < 4; ++i) ImGui::PopID();
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
        ui.apply(std::string(together ? "Unlink " : "Link ") + name_of(*field),
                 together ? unlink(ui.design(), *field) : link(ui.design(), *field));
    }
    if (menu_item("Remove", "Delete", "Takes it away; undo brings it back.", removable(ui.selection))) {
      remove_selected(ui);
      state.menu_grip.reset();
    }
    ImGui::Separator();
  }
  add_something(ui, state, state.drawing.map.to_handle(state.menu_at));
  ImGui::EndPopup();
}

}  // namespace haftwright::app
