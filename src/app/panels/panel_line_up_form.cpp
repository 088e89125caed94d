// The dry-fit form: what was read with the caliper, one reading at a time.
#include <imgui.h>

#include <algorithm>
#include <stdexcept>

#include "haftwright/alignment/reading_place.hpp"
#include "haftwright/design/ids.hpp"
#include "panel_line_up.hpp"
#include "places.hpp"
#include "struct_fields.hpp"
#include "theme.hpp"

namespace haftwright::app {
namespace {

/// "left, joint 1, front line, at the spine", "step, joint 1, at the belly".
std::string place_text(const Design& design, const Handle& handle, const CaliperReading& reading) {
  const std::size_t joint = index_of(design.joints(reading.side), reading.joint);
  const std::vector<JointLayout>& joints = handle.side(reading.side).joints;
  const bool strips = joint < joints.size() && joints[joint].lines.size() > 1;
  const bool there = joint < design.joints(reading.side).size();
  const char* line = reading.strip_edge == StripEdge::front ? ", front line" : ", rear line";
  return (reading.kind == ReadingKind::step ? "step" : std::string(name_of(reading.side))) + ", " +
         (there ? numbered("joint", joint) : "joint \"" + reading.joint + "\", which is gone") +
         (strips ? line : "") + ", at the " + name_of(reading.at);
}

/// Of a pin that is gone its id is all there is.
std::string datum_name(const Design& design, const std::string& pin) {
  const std::size_t index = index_of(design.pins, pin);
  return index < design.pins.size() ? pin_name(design, index) : pin;
}

std::string datum_text(const Design& design, const CaliperReading& reading) {
  if (reading.kind == ReadingKind::step)
    return std::string("the ") + name_of(reading.side) + " line nearer the butt";
  return reading.from_pin.empty() ? "from the front face" : "from " + datum_name(design, reading.from_pin);
}

const std::string* why_unused(const LineUpShown& shown, std::size_t reading) {
  if (!shown.settled) return nullptr;
  for (const UnusedReading& unused : shown.whole->unused_readings)
    if (unused.reading == reading) return &unused.why;
  return nullptr;
}

void datum_field(const Ui& ui, CaliperReading& reading) {
  std::vector<std::string> ids{""}, datums{"front face"};
  for (const Pin& pin : ui.design().pins) ids.push_back(pin.id);
  if (std::ranges::find(ids, reading.from_pin) == ids.end()) ids.push_back(reading.from_pin);
  for (std::size_t i = 1; i < ids.size(); ++i) datums.push_back(datum_name(ui.design(), ids[i]));
  const auto from = static_cast<std::size_t>(std::ranges::find(ids, reading.from_pin) - ids.begin());
  if (const auto datum = choice_field(
          "From", "where the caliper starts: the front face at the same edge, or a pin's near side", from,
          datums))
    reading.from_pin = ids[*datum];
}

/// Where the reading is taken; true when it was changed.
bool place_fields(const Ui& ui, const Handle& handle, CaliperReading& reading) {
  const CaliperReading before = reading;
  const bool step = reading.kind == ReadingKind::step;
  if (const auto kind = choice_field(
          "What",
          "a length to the line of one side, or the step between the lines of both sides, read across",
          step ? 1 : 0, {"length", "step"})) {
    reading.kind = *kind == 0 ? ReadingKind::length : ReadingKind::step;
    reading.from_pin.clear();
  }
  if (const auto side = step ? choice_field("Nearer the butt", "the side whose line lies nearer the butt",
                                            reading.side == Which::left ? 0 : 1, {"left", "right"})
                             : choice_field("Side", "the side that is read",
                                            reading.side == Which::left ? 0 : 1, {"left", "right"}))
    reading.side = *side == 0 ? Which::left : Which::right;
  std::vector<std::string> joints;
  const std::vector<Joint>& there = ui.design().left.joints;
  for (std::size_t j = 0; j < std::min(common_joints(handle), there.size()); ++j)
    joints.push_back(numbered("joint", j));
  if (const auto joint = choice_field("Joint", "front to rear", index_of(there, reading.joint), joints))
    reading.joint = there[*joint].id;
  if (const auto edge = choice_field(
          "Line", "the front or the rear edge of the joint's strips; without strips both are the joint",
          reading.strip_edge == StripEdge::front ? 0 : 1, {"front line", "rear line"}))
    reading.strip_edge = *edge == 0 ? StripEdge::front : StripEdge::rear;
  if (const auto at = choice_field("At", "the edge of the handle", reading.at == HandleEdge::spine ? 0 : 1,
                                   {"spine", "belly"}))
    reading.at = *at == 0 ? HandleEdge::spine : HandleEdge::belly;
  if (reading.kind == ReadingKind::length) datum_field(ui, reading);
  return !(reading == before);
}

constexpr const char* kReadingTip =
    "Where the joint line meets the tang: straight from the front face's end, or along the handle from a "
    "pin. "
    "With the unit or without.";

bool accuracy_field(const Ui& ui, CaliperReading& reading) {
  const auto typed = length_field("Sure within", "plus or minus, in about 95 of 100 readings",
                                  reading.accuracy_mm, ui.unit(), range_of(schema::kAccuracy));
  if (typed) reading.accuracy_mm = *typed;
  return typed.has_value();
}

void change_readings(const Ui& ui, const char* label,
                     const std::function<void(std::vector<CaliperReading>&)>& change) {
  Design next = ui.design();
  change(next.dry_fit);
  ui.apply(label, next);
}

/// Of a reading in the project.
void edit_fields(const Ui& ui, const Handle& handle, DryFitForm& form) {
  const std::size_t at = *form.chosen;
  CaliperReading reading = ui.design().dry_fit[at];
  heading(("Reading " + std::to_string(at + 1)).c_str());
  begin_fields("reading");
  bool changed = place_fields(ui, handle, reading);
  if (const auto typed = length_field("Reading", kReadingTip, reading.reading_mm, ui.unit(),
                                      range_of(schema::kReadingLength))) {
    reading.reading_mm = *typed;
    changed = true;
  }
  changed = accuracy_field(ui, reading) || changed;
  end_fields();
  if (changed) change_readings(ui, "Change a reading", [&](auto& all) { all[at] = reading; });
  if (button("Remove this reading", "Takes it off the list; undo brings it back.")) {
    change_readings(ui, "Remove a reading",
                    [&](auto& all) { all.erase(all.begin() + static_cast<std::ptrdiff_t>(at)); });
    form.chosen.reset();
  }
  flow("Add another");
  if (button("Add another", "Back to the empty line, for the next reading.")) form.chosen.reset();
}

/// Of the one to be added: its length is typed last and adds it, and the next place comes up.
void add_fields(const Ui& ui, const Handle& handle, DryFitForm& form) {
  heading("Next reading");
  begin_fields("next reading");
  place_fields(ui, handle, form.next);
  accuracy_field(ui, form.next);
  const auto typed = text_field("Reading", kReadingTip, "");
  end_fields();
  if (typed) {
    form.trouble.clear();
    try {
      form.next.reading_mm = parse_length_mm(*typed, ui.unit());
      Design next = ui.design();
      next.dry_fit.push_back(form.next);
      if (ui.document.apply("Add a reading", next) == Outcome::changed)
        form.next = next_reading(next, handle, form.next);
    } catch (const std::invalid_argument& error) {
      form.trouble = error.what();
    }
  }
  if (!form.trouble.empty()) {
    status_mark(Status::fail);
    ImGui::SameLine();
    wrapped(form.trouble);
  }
  wrapped(
      "Pin both scales on dry and read each joint on the left and on the right, from the same place, or the "
      "step "
      "straight across the tang. Type the length and press Enter: it is added, and the next place comes up.",
      true);
}

void reading_content(const Ui& ui, const Handle& handle, const CaliperReading& reading,
                     const std::string* why) {
  if (why) {
    status_mark(Status::near);
    ImGui::SameLine();
  }
  ImGui::BeginGroup();
  wrapped(place_text(ui.design(), handle, reading));
  wrapped(small_length(reading.reading_mm, ui.unit()) + " " + datum_text(ui.design(), reading) + ", ± " +
              small_length(reading.accuracy_mm, ui.unit()),
          true);
  if (why) wrapped("Not used: " + *why);
  ImGui::EndGroup();
}

void reading_list(const Ui& ui, const Handle& handle, const LineUpShown& shown, DryFitForm& form) {
  if (ui.design().dry_fit.empty()) return;
  heading("Readings");
  for (std::size_t i = 0; i < ui.design().dry_fit.size(); ++i) {
    const CaliperReading& reading = ui.design().dry_fit[i];
    ImGui::PushID(static_cast<int>(i));
    const bool chosen = form.chosen == i;
    if (card("reading", std::to_string(i + 1) + ": " + place_text(ui.design(), handle, reading), chosen,
             "Click to see where it was taken, to change it or to take it away.",
             [&] { reading_content(ui, handle, reading, why_unused(shown, i)); }))
      form.chosen = chosen ? std::nullopt : std::optional(i);
    ImGui::PopID();
  }
}

}  // namespace

void dry_fit_form(const Ui& ui, const LineUpShown& shown, DryFitForm& form) {
  const Answers* answers = ui.answers();
  if (!answers || !answers->laid_out()) return;
  const std::shared_ptr<const Handle> held = answers->handle;  // what is typed makes new answers in here
  const Handle& handle = *held;
  if (common_joints(handle) == 0) {
    wrapped("The two sides have no joint in common: there is nothing to read.");
    return;
  }
  const std::vector<CaliperReading>& readings = ui.design().dry_fit;
  if (form.chosen && *form.chosen >= readings.size()) form.chosen.reset();
  if (!form.begun && !readings.empty()) form.next = next_reading(ui.design(), handle, readings.back());
  form.begun = true;
  if (const auto& joints = answers->design->left.joints; !joint_read(*answers->design, form.next))
    form.next.joint = joints.front().id;
  if (const auto clicked =
          dry_fit_drawing(*answers->design, handle, form.chosen ? readings[*form.chosen] : form.next))
    form.chosen = clicked;
  if (form.chosen)
    edit_fields(ui, handle, form);
  else
    add_fields(ui, handle, form);
  reading_list(ui, handle, shown, form);
}

}  // namespace haftwright::app
