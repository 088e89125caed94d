// Liners, pieces, joints and finish of a side.
#include <imgui.h>

#include "haftwright/design/starters.hpp"
#include "haftwright/handle/measures.hpp"
#include "panels.hpp"
#include "struct_fields.hpp"
#include "theme.hpp"

namespace haftwright::app {
namespace {

/// A row of sheets, liners or spacers, with fields, remove and add.
template <class Set, class Remove, class Add>
void sheets(const Ui& ui, const std::vector<Sheet>& list, const char* what, Set set, Remove remove, Add add) {
  for (std::size_t i = 0; i < list.size(); ++i) {
    ImGui::PushID(static_cast<int>(i));
    Sheet sheet = list[i];
    ImGui::TextUnformatted(numbered(what, i).c_str());
    ImGui::SameLine();
    if (small_button("remove", "Takes this sheet away; the ones beside it close up.")) {
      ui.apply("Remove " + numbered(what, i), remove(i));
      ImGui::PopID();
      return;
    }
    if (const std::string changed = struct_fields(ui.design(), "sheet", sheet); !changed.empty())
      ui.apply(numbered(what, i) + ": " + changed, set(i, sheet));
    ImGui::PopID();
  }
  const std::string label = std::string("Add a ") + what;
  if (button(label.c_str(), "Like the one before it; change it afterwards."))
    ui.apply(label, add(list.size(), list.empty() ? starter_sheet() : list.back()));
}

/// Where something new has most room between what is there: `places` in order along the handle.
double middle_of_widest_gap(const Bounds& plan, const std::vector<double>& places) {
  double from = plan.low.x;
  double widest = 0;
  double middle = (plan.low.x + plan.high.x) / 2;
  const auto look = [&](double to) {
    if (to - from > widest) {
      widest = to - from;
      middle = (from + to) / 2;
    }
    from = to;
  };
  for (double place : places) look(place);
  look(plan.high.x);
  return middle;
}

void piece(const Ui& ui, Which side, std::size_t index, const Piece& value, std::size_t count) {
  ImGui::PushID(static_cast<int>(index));
  const Material* material = ui.design().material(value.material);
  std::string title = index == 0           ? "Front piece"
                      : index + 1 == count ? "Rear piece"
                                           : numbered("Piece", index);
  if (count == 1) title = "Piece";
  title += ": " + (material ? material->name : value.material);
  if (fold_out("piece", title, "Its wood, the blank it is cut from, and how the grain lies.", true)) {
    Piece edited = value;
    if (const std::string changed = struct_fields(ui.design(), "fields", edited); !changed.empty())
      ui.apply(title + ": " + changed, set_piece(ui.design(), side, index, edited));
    if (index + 1 < count) {
      if (button("Swap with the next", "The two pieces change places; the joint stays."))
        ui.apply("Swap pieces", swap_pieces(ui.design(), side, index, index + 1));
      ImGui::SameLine();
    }
    if (button("Remove", "Takes the piece and its joint away; its neighbour fills the place.", count > 1))
      ui.apply("Remove piece", remove_piece(ui.design(), side, index));
    ImGui::TreePop();
  }
  ImGui::PopID();
}

bool joint_selected(const Selection& selection, Which side, const Joint& joint) {
  return is_joint(selection) && selection.side == side && selection.id == joint.id;
}

}  // namespace

void link_row(const Ui& ui, SideField field) {
  const bool is_linked = linked(ui.design(), field);
  ImGui::AlignTextToFramePadding();
  ImGui::TextUnformatted(is_linked ? "Right mirrors left" : "Right goes its own way");
  ImGui::SameLine();
  ImGui::PushID(static_cast<int>(field));
  if (is_linked && button("Unlink", "The right side gets values of its own, the same as now."))
    ui.apply(std::string("Unlink ") + name_of(field), unlink(ui.design(), field));
  if (!is_linked && button("Link", "The right side follows the left again; its own values are dropped."))
    ui.apply(std::string("Link ") + name_of(field), link(ui.design(), field));
  ImGui::PopID();
}

void build_up_panel(const Ui& ui, Which side) {
  const Side values = side_of(ui.design(), side);
  heading("Pieces, front to rear");
  link_row(ui, SideField::pieces);
  for (std::size_t i = 0; i < values.pieces.size(); ++i)
    piece(ui, side, i, values.pieces[i], values.pieces.size());

  heading("Liners, from the tang outward");
  link_row(ui, SideField::liners);
  ImGui::PushID("liners");
  sheets(
      ui, values.liners, "liner",
      [&](std::size_t i, const Sheet& sheet) { return set_liner(ui.design(), side, i, sheet); },
      [&](std::size_t i) { return remove_liner(ui.design(), side, i); },
      [&](std::size_t i, const Sheet& sheet) { return add_liner(ui.design(), side, i, sheet); });
  ImGui::PopID();
}

/// Where a caliper finds the joint's first line, once the layout has it.
void caliper_words(const Ui& ui, Which which, std::size_t joint) {
  const Answers* answers = ui.answers();
  if (!answers || !answers->laid_out()) return;
  const SideLayout& side = answers->handle->side(which);
  if (joint >= side.joints.size()) return;
  const JointLine& line = side.joints[joint].lines.front();
  const auto reads = [&](HandleEdge edge) {
    return format_length(caliper_from_front(side, line, edge).inner_mm, ui.unit());
  };
  wrapped("A caliper reads from the front face, on the inner face, " + reads(HandleEdge::spine) +
              " at the spine and " + reads(HandleEdge::belly) + " at the belly.",
          true);
}

void joints_panel(const Ui& ui, Which side) {
  const Side values = side_of(ui.design(), side);
  link_row(ui, SideField::joints);
  for (std::size_t i = 0; i < values.joints.size(); ++i) {
    const Joint& joint = values.joints[i];
    ImGui::PushID(static_cast<int>(i));
    const std::string title = numbered("Joint", i);
    const bool chosen = joint_selected(ui.selection, side, joint);
    if (fold_out("joint", title, "Where the two pieces meet, and the strips between them.", true, chosen)) {
      Joint edited = joint;
      if (const std::string changed = struct_fields(ui.design(), "fields", edited); !changed.empty()) {
        Edited edit = move_joint(ui.design(), side, i, edited.place_mm);
        if (edit) edit = slant_joint(*edit, side, i, edited.slant_deg);
        if (edit) edit = rake_joint(*edit, side, i, edited.rake_deg);
        ui.apply(title + ": " + changed, edit);
      }
      sheets(
          ui, joint.spacers, "spacer strip",
          [&](std::size_t n, const Sheet& sheet) { return set_spacer(ui.design(), side, i, n, sheet); },
          [&](std::size_t n) { return remove_spacer(ui.design(), side, i, n); },
          [&](std::size_t n, const Sheet& sheet) { return add_spacer(ui.design(), side, i, n, sheet); });
      caliper_words(ui, side, i);
      ImGui::TreePop();
    }
    ImGui::PopID();
  }
  if (const Answers* answers = ui.answers(); answers && answers->laid_out()) {
    std::vector<double> places;
    for (const Joint& joint : values.joints) places.push_back(joint.place_mm);
    if (button("Add a joint", "Parts the longest piece in two of the same wood."))
      ui.apply("Add a joint",
               add_joint(ui.design(), side,
                         middle_of_widest_gap(answers->handle->side(side).finished.bounds(), places)));
  }

  heading("Front face");
  link_row(ui, SideField::front);
  FrontFace front = values.front;
  if (const std::string changed = struct_fields(ui.design(), "front", front); !changed.empty())
    ui.apply("Front face: " + changed, set_front(ui.design(), side, front));

  heading("Butt");
  link_row(ui, SideField::butt_proud);
  begin_fields("butt");
  const auto typed = quantity_field("stands_proud_mm", schema::kProud, values.butt_proud_mm,
                                    "how far the scale stands out behind the tang's butt", ui.unit());
  end_fields();
  if (typed) ui.apply("Butt allowance", set_butt_proud(ui.design(), side, *typed));
}

void finish_panel(const Ui& ui, Which side) {
  const Side values = side_of(ui.design(), side);
  link_row(ui, SideField::finish);
  Finish finish = values.finish;
  if (const std::string changed = struct_fields(ui.design(), "finish", finish); !changed.empty())
    ui.apply("Finish: " + changed, set_finish(ui.design(), side, finish));

  heading("Thickness of the side, front to rear");
  for (std::size_t i = 0; i < values.finish.thickness_mm.size(); ++i) {
    ImGui::PushID(static_cast<int>(i));
    MonotoneCubic::Station station = values.finish.thickness_mm[i];
    ImGui::TextUnformatted(numbered("Station", i).c_str());
    ImGui::SameLine();
    const bool remove = small_button("remove", "The curve goes on between the stations beside it.");
    if (const std::string changed = struct_fields(ui.design(), "station", station); !changed.empty())
      ui.apply(numbered("Station", i) + ": " + changed,
               move_station(ui.design(), side, i, station.x, station.value));
    ImGui::PopID();
    if (remove) {
      ui.apply("Remove station", remove_station(ui.design(), side, i));
      return;
    }
  }
  if (const Answers* answers = ui.answers();
      answers && answers->laid_out() &&
      button("Add a station", "On the curve as it is, half-way along the widest gap.")) {
    std::vector<double> places;
    for (const MonotoneCubic::Station& station : values.finish.thickness_mm) places.push_back(station.x);
    const double place = middle_of_widest_gap(answers->handle->side(side).finished.bounds(), places);
    ui.apply("Add a station", add_station(ui.design(), side, place));
  }
}

}  // namespace haftwright::app
