#include <imgui.h>
#include <imgui_stdlib.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <functional>
#include <map>
#include <stdexcept>

#include "places.hpp"
#include "theme.hpp"
#include "widgets.hpp"

namespace haftwright::app {
namespace {

/// What is being typed into the one field that has the keyboard.
struct Typing {
  ImGuiID field = 0;
  std::string text;
  std::string problem;
};
Typing typing;

/// The grid that is open: its width, and where its left column begins.
float room = 0;
float indent = 0;

using Reader = std::function<double(const std::string&)>;

std::string range_text(const FieldRange& range, const std::function<std::string(double)>& show) {
  return "must be from " + show(range.least) + " to " + show(range.most);
}

/// The text box itself: shows `shown`, or `hint` where that is empty; keeps what is typed while it has the
/// keyboard, reads it when that ends.
std::optional<double> typed_value(const char* label, const std::string& shown, const FieldRange& range,
                                  const Reader& read, const std::function<std::string(double)>& show,
                                  const char* hint = "") {
  const ImGuiID id = ImGui::GetID("##value");
  const bool mine = typing.field == id;
  std::string text = mine ? typing.text : shown;
  const bool wrong = mine && !typing.problem.empty();
  if (wrong) ImGui::PushStyleColor(ImGuiCol_FrameBg, (palette().fail & 0x00FFFFFFU) | 0x60000000U);
  const bool entered = ImGui::InputTextWithHint(
      "##value", hint, &text, ImGuiInputTextFlags_EnterReturnsTrue | ImGuiInputTextFlags_AutoSelectAll);
  places::item("field", label, text);
  if (wrong) {
    ImGui::PopStyleColor();
    if (ImGui::IsItemHovered()) ImGui::SetTooltip("%s", typing.problem.c_str());
  }
  if (ImGui::IsItemActive()) {
    if (!mine || text != typing.text) typing = {id, text, ""};
    if (!entered) return std::nullopt;
  }
  if (!entered && !(mine && ImGui::IsItemDeactivatedAfterEdit())) {
    if (mine && !ImGui::IsItemActive() && typing.problem.empty()) typing = {};
    return std::nullopt;
  }
  if (text.empty() && shown.empty()) {
    typing = {};
    return std::nullopt;
  }
  try {
    const double value = read(text);
    if (value < range.least || value > range.most) throw std::invalid_argument(range_text(range, show));
    typing = {};
    if (text == shown)
      return std::nullopt;  // what was shown is rounded; leaving the field must not round the value
    return value;
  } catch (const std::invalid_argument& error) {
    typing = {id, text, error.what()};
    return std::nullopt;
  }
}

/// Text box with - and + beside it. A value that is not given waits for one to be typed.
std::optional<double> stepped_field(const char* label, const char* tip, std::optional<double> value,
                                    const FieldRange& range, const Reader& read,
                                    const std::function<std::string(double)>& show) {
  constexpr const char* kNotGiven = "not given";
  const std::string shown = value ? show(*value) : "";
  const float side = ImGui::GetFrameHeight();
  const float gap = ImGui::GetStyle().ItemInnerSpacing.x;
  const float number =
      ImGui::CalcTextSize(value ? shown.c_str() : kNotGiven).x + 2 * ImGui::GetStyle().FramePadding.x;
  const float buttons = value ? 2 * (side + gap) : 0;
  const float width = field_label(label, tip, number + buttons);
  ImGui::PushID(label);
  ImGui::SetNextItemWidth(width - buttons);
  std::optional<double> result = typed_value(label, shown, range, read, show, kNotGiven);
  if (typing.problem.empty()) tooltip(tip);
  if (!value) {
    ImGui::PopID();
    return result;
  }
  const auto nudge = [&](const char* sign, double by) {
    ImGui::SameLine(0, gap);
    if (ImGui::Button(sign, {side, side})) result = std::clamp(*value + by, range.least, range.most);
    tooltip(
        (std::string(label) + (by < 0 ? ", less by " : ", more by ") + show(std::abs(by)) + "; hold to go on")
            .c_str());
  };
  ImGui::PushButtonRepeat(true);
  nudge("-", -range.step);
  nudge("+", range.step);
  ImGui::PopButtonRepeat();
  ImGui::PopID();
  if (result && *result == value) return std::nullopt;
  return result;
}

double read_number(const std::string& text) {
  // A measure without a unit is read by the same rules as a length, so that 1/2 and 0.5 both do.
  return parse_length_mm(text.find('/') == std::string::npos ? text : text + " in", LengthUnit::millimetre) /
         (text.find('/') == std::string::npos ? 1 : kMmPerInch);
}

/// A measured size that is no fraction keeps its decimals: 0.1235 in must not read as 1/8.
std::string typed_length(double mm, LengthUnit unit) {
  const std::string text = format_length(mm, unit);
  return text.starts_with('~') ? format_length(mm, LengthUnit::inch) : text;
}

std::string show_angle(double deg) {
  return format_number(deg, 1) + "°";
}

double read_angle(std::string text) {
  for (const char* unit : {"°", "deg"})
    if (const auto at = text.find(unit); at != std::string::npos) text.erase(at);
  return read_number(text);
}

/// Of a list's closed box that shows all of a text.
float choice_width(const char* text) {
  return ImGui::CalcTextSize(text).x + 2 * ImGui::GetStyle().FramePadding.x + ImGui::GetFrameHeight();
}

std::optional<double> plain_box(const char* label, const char* tip, double value, const FieldRange& range,
                                const Reader& read, const std::function<std::string(double)>& show,
                                float width) {
  ImGui::AlignTextToFramePadding();
  ImGui::TextUnformatted(label);
  tooltip(tip);
  ImGui::SameLine(0, ImGui::GetStyle().ItemInnerSpacing.x);
  ImGui::PushID(label);
  ImGui::SetNextItemWidth(width);
  const std::optional<double> typed = typed_value(label, show(value), range, read, show);
  tooltip(tip);
  ImGui::PopID();
  return typed;
}

}  // namespace

void begin_fields(const char* id, float width) {
  ImGui::PushID(id);
  room = width > 0 ? width : ImGui::GetContentRegionAvail().x;
  indent = ImGui::GetCursorPosX();
}

void end_fields() {
  ImGui::PopID();
}

float field_label(const char* label, const char* tip, float needed) {
  constexpr float kLabelShare = 0.42F;
  const float gap = ImGui::GetStyle().ItemSpacing.x;
  const float beside = room * (1 - kLabelShare);
  const bool below = needed > beside;
  ImGui::SetCursorPosX(indent);
  ImGui::BeginGroup();
  ImGui::AlignTextToFramePadding();
  wrapped(label, false, below ? room : room * kLabelShare - gap);
  ImGui::EndGroup();
  tooltip(tip);
  if (!below) ImGui::SameLine(0, 0);
  ImGui::SetCursorPosX(below ? indent : indent + room * kLabelShare);
  ImGui::SetNextItemWidth(below ? room : beside);
  return below ? room : beside;
}

std::optional<double> length_field(const char* label, const char* tip, std::optional<double> value_mm,
                                   LengthUnit unit, const FieldRange& range) {
  const auto show = [unit](double mm) { return typed_length(mm, unit); };
  const auto read = [unit](const std::string& text) { return parse_length_mm(text, unit); };
  FieldRange in_unit = range;
  if (unit != LengthUnit::millimetre) {
    // Nudges of a round number of 64ths or thousandths, near the metric step.
    const double grain = unit == LengthUnit::inch ? kMmPerInch / 1000 : kMmPerInch / 64;
    in_unit.step = std::max(1.0, std::round(range.step / grain)) * grain;
  }
  return stepped_field(label, tip, value_mm, in_unit, read, show);
}

std::optional<double> angle_field(const char* label, const char* tip, std::optional<double> value_deg,
                                  const FieldRange& range) {
  return stepped_field(label, tip, value_deg, range, read_angle, show_angle);
}

std::optional<double> length_box(const char* label, const char* tip, double value_mm, LengthUnit unit,
                                 const FieldRange& range, float width) {
  const auto show = [unit](double mm) { return typed_length(mm, unit); };
  const auto read = [unit](const std::string& text) { return parse_length_mm(text, unit); };
  return plain_box(label, tip, value_mm, range, read, show, width);
}

std::optional<double> angle_box(const char* label, const char* tip, double value_deg, const FieldRange& range,
                                float width) {
  return plain_box(label, tip, value_deg, range, read_angle, show_angle, width);
}

std::optional<double> number_field(const char* label, const char* tip, std::optional<double> value,
                                   int decimals, const FieldRange& range, const std::string& suffix) {
  const auto show = [&](double number) { return format_number(number, decimals) + suffix; };
  const auto read = [&](const std::string& text) {
    const bool whole = !suffix.empty() && text.ends_with(suffix);
    return read_number(whole ? text.substr(0, text.size() - suffix.size()) : text);
  };
  return stepped_field(label, tip, value, range, read, show);
}

std::optional<std::string> text_field(const char* label, const char* tip, const std::string& value) {
  field_label(label, tip);
  ImGui::PushID(label);
  const ImGuiID id = ImGui::GetID("##value");
  std::string text = typing.field == id ? typing.text : value;
  const bool entered = ImGui::InputText("##value", &text, ImGuiInputTextFlags_EnterReturnsTrue);
  places::item("field", label, text);
  tooltip((text + (text.empty() ? "" : "\n") + tip).c_str());
  if (ImGui::IsItemActive()) typing = {id, text, ""};
  const bool ended = entered || (typing.field == id && ImGui::IsItemDeactivated());
  const bool edited = entered || (typing.field == id && ImGui::IsItemDeactivatedAfterEdit());
  if (ended) typing = {};
  ImGui::PopID();
  if (!edited || text == value) return std::nullopt;
  return text;
}

std::optional<bool> switch_field(const char* label, const char* tip, bool value) {
  field_label(label, tip);
  ImGui::PushID(label);
  const bool changed = ImGui::Checkbox("##value", &value);
  tooltip(tip);
  ImGui::PopID();
  if (!changed) return std::nullopt;
  return value;
}

std::optional<std::size_t> choice_field(const char* label, const char* tip, std::size_t chosen,
                                        const std::vector<std::string>& choices) {
  const char* shown = chosen < choices.size() ? choices[chosen].c_str() : "";
  field_label(label, tip, choice_width(shown));
  ImGui::PushID(label);
  std::optional<std::size_t> result;
  if (ImGui::BeginCombo("##value", shown)) {
    for (std::size_t i = 0; i < choices.size(); ++i)
      if (ImGui::Selectable(choices[i].c_str(), i == chosen) && i != chosen) result = i;
    ImGui::EndCombo();
  } else {
    tooltip(tip);
  }
  ImGui::PopID();
  return result;
}

std::optional<std::string> material_field(const char* label, const char* tip, const Design& design,
                                          const std::string& key) {
  const Material* now = design.material(key);
  const char* shown = now ? now->name.c_str() : key.c_str();
  field_label(label, tip, choice_width(shown));
  ImGui::PushID(label);
  std::optional<std::string> result;
  if (ImGui::BeginCombo("##value", shown, ImGuiComboFlags_HeightLarge)) {
    const auto offer = [&](const Material& material) {
      ImGui::PushID(&material);
      const ImVec4 colour{material.colour.red, material.colour.green, material.colour.blue, 1};
      const float side = ImGui::GetTextLineHeight();
      ImGui::ColorButton("##colour", colour, ImGuiColorEditFlags_NoTooltip | ImGuiColorEditFlags_NoDragDrop,
                         {side, side});
      ImGui::SameLine();
      if (ImGui::Selectable(material.name.c_str(), material.key == key) && material.key != key)
        result = material.key;
      ImGui::PopID();
    };
    for (const Material& material : design.own_materials) offer(material);
    for (const Material& material : listed_materials()) offer(material);
    ImGui::EndCombo();
  } else {
    tooltip((std::string(shown) + "\n" + tip).c_str());
  }
  ImGui::PopID();
  return result;
}

float scaled(float pixels) {
  constexpr float kUsualTextSize = 16;
  return pixels * ImGui::GetFontSize() / kUsualTextSize;
}

void wrapped(const std::string& text, bool faint, float width) {
  // Dear ImGui also breaks after a full stop, which tears "0.0020 in" apart.
  const float most = width > 0 ? width : ImGui::GetContentRegionAvail().x;
  std::string lines;
  std::string line;
  const auto end_line = [&] {
    lines += (lines.empty() ? "" : "\n") + line;
    line.clear();
  };
  for (std::size_t at = 0; at <= text.size();) {
    const std::size_t end = std::min(text.find_first_of(" \n", at), text.size());
    const std::string word = text.substr(at, end - at);
    const std::string longer = line.empty() ? word : line + " " + word;
    if (!line.empty() && ImGui::CalcTextSize(longer.c_str()).x > most) {
      end_line();
      line = word;
    } else {
      line = longer;
    }
    if (end < text.size() && text[end] == '\n') end_line();
    at = end + 1;
  }
  end_line();
  if (faint) ImGui::PushStyleColor(ImGuiCol_Text, ImGui::ColorConvertU32ToFloat4(palette().faint_ink));
  ImGui::TextUnformatted(lines.c_str());
  if (faint) ImGui::PopStyleColor();
}

void heading(const char* text) {
  ImGui::Spacing();
  ImGui::PushFont(bold_font());
  ImGui::TextUnformatted(text);
  ImGui::PopFont();
}

std::string small_length(double mm, LengthUnit unit) {
  constexpr int kMmDecimals = 2;  // what a caliper shows
  return fine_length(mm, unit, kMmDecimals);
}

std::string amount(const Finding& finding, double value, LengthUnit unit) {
  if (finding.unit == FigureUnit::degree) return format_number(value, 2) + "°";
  return finding.unit == FigureUnit::millimetre ? small_length(value, unit)
                                                : amount_words(value, finding.unit, unit);
}

}  // namespace haftwright::app
