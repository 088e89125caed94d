// What is wrong with each field by itself, for every value that design/schema.hpp or shop_schema.hpp
// describes.
#pragma once

#include <algorithm>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "haftwright/design/ids.hpp"
#include "haftwright/design/schema.hpp"
#include "validate_parts.hpp"

namespace haftwright::design {

/// Walks every field: ranges, counts, sizes of texts, names of materials: listed ones, or `own_materials`.
class RangeVisitor {
 public:
  RangeVisitor(const std::vector<Material>& own_materials, Problems& problems)
      : own_(own_materials), problems_(problems) {}

  void number(std::string_view key, const schema::Quantity& quantity, schema::Need, double value,
              std::string_view) {
    report(key, range_problem(quantity, value));
  }
  void number(std::string_view key, const schema::Quantity& quantity, const std::optional<double>& value,
              std::string_view what) {
    if (value) number(key, quantity, schema::Need::defaulted, *value, what);
  }

  void text(std::string_view key, schema::Need need, const std::string& value, std::string_view) {
    if (need == schema::Need::required && value.empty()) report(key, "must not be empty");
    report(key, schema::text_problem(value, schema::lines_of(key)));
  }

  /// One that is left out refers to nothing and is referred to by nothing.
  void id(std::string_view key, const std::string& value, std::string_view) {
    if (!value.empty()) report(key, id_problem(value));
  }
  void reference(std::string_view key, schema::Need need, const std::string& value, std::string_view) {
    if (need == schema::Need::required || !value.empty()) report(key, id_problem(value));
  }

  void material(std::string_view key, schema::Need need, const std::string& value, std::string_view what) {
    text(key, need, value, what);
    if (value.empty() || known(value)) return;
    report(key, "no material is called " + schema::quoted(value) + suggestion(value) +
                    "; 'haftwright list materials' names them all");
  }

  void flag(std::string_view, bool, std::string_view) {}

  template <class Names, class Value>
  void choice(std::string_view key, const Names& names, const Value& value, std::string_view) {
    for (const auto& named : names)
      if (named.value == value) return;
    report(key, "is none of the known kinds");
  }

  template <class Names>
  void flags(std::string_view key, const Names& names, unsigned value, std::string_view) {
    for (const auto& named : names) value &= ~named.value;
    if (value != 0) report(key, "holds an unknown one");
  }

  template <class Section>
  void section(std::string_view key, schema::Need, const Section& section, std::string_view) {
    path_.within(key, [&] { visit_fields(*this, section); });
  }
  template <class Section>
  void section(std::string_view key, const std::optional<Section>& given, std::string_view what) {
    if (given) section(key, schema::Need::defaulted, *given, what);
  }

  template <class Inside>
  void group(std::string_view key, schema::Need, std::string_view, Inside&& inside) {
    path_.within(key, [&] { inside(*this); });
  }

  template <class Entry>
  void list(std::string_view key, const schema::Count& count, schema::Need, const std::vector<Entry>& entries,
            std::string_view) {
    path_.within(key, [&] {
      if (!good_count(count, entries.size())) return;
      for (std::size_t i = 0; i < entries.size(); ++i)
        path_.within(i, [&] { visit_fields(*this, entries[i]); });
    });
  }
  template <class Entry>
  void list(std::string_view key, const schema::Count& count,
            const std::optional<std::vector<Entry>>& entries, std::string_view what) {
    if (entries) list(key, count, schema::Need::defaulted, *entries, what);
  }

  void outline(std::string_view key, std::string_view, const std::vector<Node>& chain,
               std::string_view what) {
    list(key, schema::kNodes, schema::Need::required, chain, what);
  }
  void outlines(std::string_view key, std::size_t most, const std::vector<std::vector<Node>>& chains,
                std::string_view) {
    path_.within(key, [&] {
      if (!good_count({0, most}, chains.size())) return;
      for (std::size_t i = 0; i < chains.size(); ++i) path_.within(i, [&] { nodes(chains[i]); });
    });
  }

 private:
  void nodes(const std::vector<Node>& chain) {
    if (!good_count(schema::kCutoutNodes, chain.size())) return;
    for (std::size_t i = 0; i < chain.size(); ++i) path_.within(i, [&] { visit_fields(*this, chain[i]); });
  }

  bool known(const std::string& key) const {
    return std::ranges::find(own_, key, &Material::key) != own_.end() || find_material(key) != nullptr;
  }

  /// What an unknown material may have been meant to be.
  std::string suggestion(const std::string& value) const {
    if (const auto meant = materials_meant(value); !meant.empty()) return choices(meant);
    std::vector<std::string> own;
    for (const Material& material : own_) own.push_back(material.key);
    const std::string near = nearest_word(value, own);
    const auto meant = near.empty() ? materials_nearly_meant(value) : std::vector<const Material*>();
    return meant.size() > 1 ? choices(meant)
                            : schema::did_you_mean(meant.empty() ? near : meant.front()->key);
  }

  static std::string choices(const std::vector<const Material*>& meant) {
    std::string text;
    for (const Material* material : meant)
      text += (text.empty() ? "; say which: \"" : ", \"") + material->key + '"';
    return text;
  }

  bool good_count(const schema::Count& count, std::size_t size) {
    std::string problem = schema::count_problem(count, size);
    if (problem.empty()) return true;
    problems_.push_back({path_.text(), std::move(problem)});
    return false;
  }

  void report(std::string_view key, std::string what) {
    if (!what.empty()) path_.within(key, [&] { problems_.push_back({path_.text(), std::move(what)}); });
  }

  const std::vector<Material>& own_;
  Problems& problems_;
  schema::FieldPath path_;
};

}  // namespace haftwright::design
