// Fields for any part of a Design, painted from the one list of its fields (design/schema.hpp): label, range,
// unit and tooltip all come from there. Lists and outlines have panels of their own and are passed over.
#pragma once

#include <algorithm>
#include <optional>
#include <string>
#include <string_view>

#include "haftwright/design/schema.hpp"
#include "widgets.hpp"

namespace haftwright::app {

/// "plate_thickness_mm" -> "Plate thickness"; the unit stands beside the number.
std::string label_of(std::string_view key);
FieldRange range_of(const schema::Quantity& quantity);
std::optional<double> quantity_field(std::string_view key, const schema::Quantity& quantity,
                                     std::optional<double> value, std::string_view what, LengthUnit unit);
/// A number that may be left out: an empty box until one is typed. The outer optional is empty when nothing
/// changed.
std::optional<std::optional<double>> optional_quantity_field(std::string_view key,
                                                             const schema::Quantity& quantity,
                                                             std::optional<double> value,
                                                             std::string_view what, LengthUnit unit);

void section_heading(std::string_view key, std::string_view what);

class FieldPainter {
 public:
  FieldPainter(const Design& design, LengthUnit unit) : design_(design), unit_(unit) {}
  bool changed() const { return changed_; }
  /// Label of the field that changed.
  const std::string& what() const { return what_; }

  void number(std::string_view key, const schema::Quantity& quantity, schema::Need, double& value,
              std::string_view what) {
    if (const auto typed = quantity_field(key, quantity, value, what, unit_)) set(key, value, *typed);
  }
  void number(std::string_view key, const schema::Quantity& quantity, std::optional<double>& value,
              std::string_view what) {
    if (const auto typed = optional_quantity_field(key, quantity, value, what, unit_))
      set(key, value, *typed);
  }
  void text(std::string_view key, schema::Need, std::string& value, std::string_view what) {
    if (const auto typed = text_field(label_of(key).c_str(), std::string(what).c_str(), value))
      set(key, value, *typed);
  }
  /// Ids are not for people to change: what refers to them would be lost.
  void id(std::string_view, const std::string&, std::string_view) {}
  template <class... Rest>
  void reference(Rest&&...) {}
  void material(std::string_view key, schema::Need, std::string& value, std::string_view what) {
    if (const auto chosen = material_field(label_of(key).c_str(), std::string(what).c_str(), design_, value))
      set(key, value, *chosen);
  }
  void flag(std::string_view key, bool& value, std::string_view what) {
    if (const auto chosen = switch_field(label_of(key).c_str(), std::string(what).c_str(), value))
      set(key, value, *chosen);
  }
  template <class Names, class Value>
  void choice(std::string_view key, const Names& names, Value& value, std::string_view what) {
    std::vector<std::string> choices;
    std::size_t at = 0;
    for (const auto& name : names) {
      if (name.value == value) at = choices.size();
      choices.push_back(label_of(name.name));
    }
    if (const auto chosen = choice_field(label_of(key).c_str(), std::string(what).c_str(), at, choices))
      set(key, value, std::data(names)[*chosen].value);
  }
  template <class Section>
  void section(std::string_view key, schema::Need, Section& value, std::string_view what) {
    section_heading(key, what);
    ImGuiScope scope(key);
    visit_fields(*this, value);
  }
  template <class... Rest>
  void list(Rest&&...) {}
  template <class... Rest>
  void outline(Rest&&...) {}
  template <class... Rest>
  void outlines(Rest&&...) {}
  template <class... Rest>
  void flags(Rest&&...) {}

 protected:
  LengthUnit unit() const { return unit_; }
  template <class Value, class Given>
  void set(std::string_view key, Value& value, Given&& given) {
    value = std::forward<Given>(given);
    changed_ = true;
    what_ = label_of(key);
    std::transform(what_.begin(), what_.begin() + 1, what_.begin(),
                   [](char c) { return c >= 'A' && c <= 'Z' ? static_cast<char>(c + 32) : c; });
  }

 private:
  /// Fields of a section may be called like those beside it.
  struct ImGuiScope {
    explicit ImGuiScope(std::string_view key);
    ~ImGuiScope();
  };

  const Design& design_;
  LengthUnit unit_;
  bool changed_ = false;
  std::string what_;
};

/// Paints all fields of `value` in a grid of their own; the name of the field that changed, or empty.
template <class Struct>
std::string struct_fields(const Design& design, const char* id, Struct& value) {
  begin_fields(id);
  FieldPainter painter(design, design.shown_unit);
  visit_fields(painter, value);
  end_fields();
  return painter.changed() ? painter.what() : std::string();
}

}  // namespace haftwright::app
