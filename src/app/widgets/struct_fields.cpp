#include "struct_fields.hpp"

#include <imgui.h>

#include <array>
#include <cmath>
#include <utility>

namespace haftwright::app {
namespace {

struct UnitManners {
  std::string_view unit;
  double step;
  int decimals;
  const char* suffix;
};
constexpr UnitManners kManners[] = {{"mm", 0.1, 2, ""},         {"deg", 1, 1, ""},
                                    {"g", 0.1, 2, " g"},        {"ml", 0.1, 2, " ml"},
                                    {"g/ml", 0.01, 3, " g/ml"}, {"parts", 1, 2, ""},
                                    {"kg/m3", 10, 0, " kg/m3"}, {"hole diameters", 0.25, 2, " x Ø"},
                                    {"pins", 1, 0, " pins"},    {"percent", 0.5, 1, " %"},
                                    {"", 0.05, 3, ""}};

/// What a file's key leaves too short for a person.
constexpr std::pair<std::string_view, const char*> kPlainWords[] = {
    {"x", "Along (x)"},          {"y", "Across (y)"},   {"crest y", "Crest across (y)"},
    {"along", "Fibre along"},    {"dip", "Fibre dips"}, {"rings", "Rings turned"},
    {"near share", "Near share"}};

const UnitManners& manners_of(std::string_view unit) {
  for (const UnitManners& manners : kManners)
    if (manners.unit == unit) return manners;
  return kManners[std::size(kManners) - 1];
}

}  // namespace

std::string label_of(std::string_view key) {
  std::string text(key);
  for (std::string_view unit : {"_mm", "_deg", "_g_ml", "_kg_m3", "_ml", "_g"}) {
    if (text.size() > unit.size() && text.ends_with(unit)) {
      text.resize(text.size() - unit.size());
      break;
    }
  }
  std::replace(text.begin(), text.end(), '_', ' ');
  for (const auto& [word, plain] : kPlainWords)
    if (text == word) return plain;
  if (!text.empty() && text[0] >= 'a' && text[0] <= 'z' && text != "mm")
    text[0] = static_cast<char>(text[0] - 32);
  return text;
}

FieldRange range_of(const schema::Quantity& quantity) {
  // A value just above an excluded bound is as good as the bound for typing; validation has the last word.
  const double least = quantity.above_least ? std::nextafter(quantity.least, quantity.most) : quantity.least;
  return {least, quantity.most, manners_of(quantity.unit).step};
}

std::optional<double> quantity_field(std::string_view key, const schema::Quantity& quantity,
                                     std::optional<double> value, std::string_view what, LengthUnit unit) {
  const std::string label = label_of(key);
  const UnitManners& manners = manners_of(quantity.unit);
  const std::string tip = std::string(what) + "\n" + schema::range_text(quantity);
  if (quantity.unit == "mm") return length_field(label.c_str(), tip.c_str(), value, unit, range_of(quantity));
  if (quantity.unit == "deg") return angle_field(label.c_str(), tip.c_str(), value, range_of(quantity));
  return number_field(label.c_str(), tip.c_str(), value, manners.decimals, range_of(quantity),
                      manners.suffix);
}

std::optional<std::optional<double>> optional_quantity_field(std::string_view key,
                                                             const schema::Quantity& quantity,
                                                             std::optional<double> value,
                                                             std::string_view what, LengthUnit unit) {
  if (const auto typed = quantity_field(key, quantity, value, what, unit))
    return std::optional<double>(*typed);
  if (!value) return std::nullopt;
  const std::string label = label_of(key);
  ImGui::PushID(label.c_str());
  const bool left_out =
      small_button("leave it out", ("As if it were never given.\n" + std::string(what)).c_str());
  ImGui::PopID();
  if (left_out) return std::optional<double>();
  return std::nullopt;
}

void section_heading(std::string_view key, std::string_view what) {
  heading(label_of(key).c_str());
  tooltip(std::string(what).c_str());
}

FieldPainter::ImGuiScope::ImGuiScope(std::string_view key) {
  ImGui::PushID(key.data(), key.data() + key.size());
}
FieldPainter::ImGuiScope::~ImGuiScope() {
  ImGui::PopID();
}

}  // namespace haftwright::app
