// Fields that read typed measures, and controls: what panels, views, menus and dialogs are made of.
#pragma once

#include <cstddef>
#include <functional>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "haftwright/checks/finding.hpp"
#include "haftwright/design/design.hpp"

namespace haftwright::app {

/// Opens a grid of labels and fields, `width` wide (0: as the pane); close it with end_fields.
void begin_fields(const char* id, float width = 0);
void end_fields();
/// The left column's text with a tooltip, broken where it is long; the cursor then stands in the right
/// column, or, when what goes there needs more room than that, on a line of its own. Width of the room there.
float field_label(const char* label, const char* tip, float needed = 0);

struct FieldRange {
  double least = 0;
  double most = 0;
  double step = 0;
};
/// A length with its unit, typed or nudged with - and +; a new value when it was changed. What can't be read
/// stays in the field, marked, with the reason as a tooltip. Without a value the box is empty until one is
/// typed.
std::optional<double> length_field(const char* label, const char* tip, std::optional<double> value_mm,
                                   LengthUnit unit, const FieldRange& range);
std::optional<double> angle_field(const char* label, const char* tip, std::optional<double> value_deg,
                                  const FieldRange& range);
/// The same as items of a row, label before the box and no buttons: for where room is short.
std::optional<double> length_box(const char* label, const char* tip, double value_mm, LengthUnit unit,
                                 const FieldRange& range, float width);
std::optional<double> angle_box(const char* label, const char* tip, double value_deg, const FieldRange& range,
                                float width);
/// `suffix` stands behind the number: " g". It may be left out when typing.
std::optional<double> number_field(const char* label, const char* tip, std::optional<double> value,
                                   int decimals, const FieldRange& range, const std::string& suffix = {});
std::optional<std::string> text_field(const char* label, const char* tip, const std::string& value);
std::optional<bool> switch_field(const char* label, const char* tip, bool value);
std::optional<std::size_t> choice_field(const char* label, const char* tip, std::size_t chosen,
                                        const std::vector<std::string>& choices);
/// Materials by name, the project's own ones first.
std::optional<std::string> material_field(const char* label, const char* tip, const Design& design,
                                          const std::string& key);

/// Pixels at the usual text size, grown with the text.
float scaled(float pixels);
/// A paragraph, broken at `width` from where it begins (0: the pane's edge).
void wrapped(const std::string& text, bool faint = false, float width = 0);
/// A heading in the bold face.
void heading(const char* text);

// Controls. Panels, panes, menus and dialogs are made of these alone, so that none is without a tooltip.
bool button(const char* label, const char* tip, bool enabled = true, float width = 0);
bool small_button(const char* label, const char* tip);
/// A dialog's button.
bool answer(const char* label, const char* tip, float width = 0);
/// Over the whole width, tall.
bool wide_button(const std::string& label, const char* tip);
/// True when it was clicked.
bool radio(const char* label, const char* tip, bool on);
bool check_box(const char* label, const char* tip, bool& value);
/// As wide as what is chosen; nothing when nothing else was chosen.
std::optional<std::size_t> combo(const char* id, const char* tip, std::size_t chosen,
                                 const std::vector<const char*>& choices);
/// `format` shows the value: "apart %.2f". Ctrl and a click let it be typed.
bool slider(const char* id, const char* tip, float& value, float low, float high, const char* format);
bool menu_item(const char* label, const char* shortcut, const char* tip, bool enabled = true,
               bool ticked = false);
/// A framed heading that folds what follows it away; close with ImGui::TreePop when true.
bool fold_out(const char* id, const std::string& title, const char* tip, bool open_at_first,
              bool marked = false);
void tooltip(const char* text);
/// Escape closes the menu or list that is open on top, if one is; dialogs answer it themselves. Called once,
/// at the end of a frame, so that nothing else takes the same key for its own.
void close_menu_on_escape();
/// Of a control as wide as this text; then SameLine is called unless the next one has no room.
void flow(const char* next_label);
/// Small lengths keep their decimals where a fraction of an inch would round them away.
std::string small_length(double mm, LengthUnit unit);
std::string amount(const Finding& finding, double value, LengthUnit unit);

/// What `content` draws as one row to click; true when it was. `kind` and `name` for tests.
bool card(const char* kind, const std::string& name, bool chosen, const std::string& tip,
          const std::function<void()>& content);

}  // namespace haftwright::app
