// Where the project differs from the shop, and values taken over in either direction.
#include <imgui.h>

#include <algorithm>

#include "panels.hpp"
#include "places.hpp"
#include "struct_fields.hpp"

namespace haftwright::app {
namespace {

/// "Drilling: Errors: Sight", from "drilling.errors.sight_mm".
std::string field_words(std::string_view path) {
  std::string words;
  for (std::size_t from = 0; from <= path.size();) {
    const std::size_t end = std::min(path.find('.', from), path.size());
    words += (words.empty() ? "" : ": ") + label_of(path.substr(from, end - from));
    from = end + 1;
  }
  return words;
}

std::string counted(std::size_t count) {
  return count == 1 ? "1 value differs from your shop's."
                    : std::to_string(count) + " values differ from your shop's.";
}

void take(const Ui& ui, const std::string& what, const ShopFields& fields) {
  ui.apply("Take the shop's: " + what, with_shop_values(ui.design(), ui.session.shop(), fields));
}

void difference_row(const Ui& ui, const ShopDifference& difference) {
  const auto words = [&](const FieldValue& value) { return value_words(value, difference.unit, ui.unit()); };
  const std::string field = field_words(difference.field);
  ImGui::PushID(difference.field.c_str());
  ImGui::BeginGroup();
  wrapped(field);
  wrapped("here " + words(difference.project) + ", in the shop " + words(difference.shop), true);
  ImGui::EndGroup();
  places::item("difference", difference.field, words(difference.project) + " / " + words(difference.shop));
  tooltip(std::string(difference.what).c_str());
  if (small_button("Take the shop's", "This value of the shop goes into the project. Undo takes it back."))
    take(ui, field, {difference.field});
  flow("Make it the shop's");
  if (small_button("Make it the shop's", "This value of the project goes into your shop file."))
    ui.session.teach_shop({difference.field});
  ImGui::PopID();
}

void measured_part(const Ui& ui) {
  const std::size_t holes = measured_holes(ui.design(), ui.session.shop()).size();
  if (holes == 0) return;
  wrapped(holes == 1
              ? "1 hole is drilled with a drill that your shop has measured, and does not hold what it makes."
              : std::to_string(holes) +
                    " holes are drilled with drills that your shop has measured, and do "
                    "not hold what these make.");
  if (button("Take the measured holes",
             "Each takes the diameter that its drill was measured to make. Undo takes it back.", true, -1))
    ui.apply("Take the shop's measured holes", with_measured_holes(ui.design(), ui.session.shop()));
}

}  // namespace

void shop_part(const Ui& ui) {
  heading("Your shop");
  const std::vector<ShopDifference> found = differences(ui.design(), ui.session.shop());
  wrapped(found.empty() ? "Every value that your projects share is your shop's." : counted(found.size()));
  places::item("shop", "differences", std::to_string(found.size()));
  if (!ui.session.shop_file_there())
    wrapped("Your shop has no file yet: the built-in values stand for it.", true);
  if (!found.empty()) {
    if (button("Take all the shop's",
               "All these values of the shop go into the project. Undo takes it back."))
      take(ui, "all values", {});
    flow("Make all the shop's");
    if (button("Make all the shop's",
               "All these values of the project go into your shop file, for other projects too."))
      ui.session.teach_shop({});
    if (fold_out("differences", "Where they differ", "Each value here and in the shop.", found.size() <= 3)) {
      for (const ShopDifference& difference : found) difference_row(ui, difference);
      ImGui::TreePop();
    }
  }
  measured_part(ui);
}

void shop_note(const Ui& ui, std::string_view section) {
  const std::vector<ShopDifference> found = differences(ui.design(), ui.session.shop());
  const auto count = std::ranges::count_if(found, [&](const ShopDifference& difference) {
    return difference.field.starts_with(std::string(section) + ".");
  });
  if (count > 0) wrapped(counted(static_cast<std::size_t>(count)) + " See Shop rules.", true);
}

}  // namespace haftwright::app
