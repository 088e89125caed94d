// What is wrong with each field by itself, for every value that has a list of fields (schema.hpp says what
// such a list is): a project, a shop, a bin of offcuts.
#pragma once

#include <algorithm>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "haftwright/design/ids.hpp"
#include "haftwright/design/schema.hpp"
#include "haftwright/design/validate.hpp"

namespace haftwright::schema {

/// Walks every field: ranges, counts, sizes of texts, names of materials: listed ones, or `own_materials`.
class RangeVisitor {
 public:
  RangeVisitor(const std::vector<Material>& own_materials, std::vector<Problem>& problems)
      : own_(own_materials), problems_(problems) {}

  void number(std::string_view key, const Quantity& quantity, Need, double value, std::string_view) {
    report(key, range_problem(quantity, value));
  }
  void number(std::string_view key, const Quantity& quantity, const std::optional<double>& value,
              std::string_view what) {
    if (value) number(key, quantity, Need::defaulted, *value, what);
  }

  void whole(std::string_view key, const Whole& range, Need, int value, std::string_view) {
    report(key, whole_problem(range, value));
  }

  void text(std::string_view key, Need need, const std::string& value, std::string_view) {
    if (need == Need::required && value.empty()) report(key, "must not be empty");
    report(key, text_problem(value, lines_of(key)));
  }

  /// One that is left out refers to nothing and is referred to by nothing.
  void id(std::string_view key, const std::string& value, std::string_view) {
    if (!value.empty()) report(key, id_problem(value));
  }
  void reference(std::string_view key, Need need, const std::string& value, std::string_view) {
    if (need == Need::required || !value.empty()) report(key, id_problem(value));
  }

  void material(std::string_view key, Need need, const std::string& value, std::string_view what) {
    text(key, need, value, what);
    if (value.empty() || known(value)) return;
    report(key, "no material is called " + quoted(value) + suggestion(value) +
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
  void section(std::string_view key, Need, const Section& section, std::string_view) {
    path_.within(key, [&] { visit_fields(*this, section); });
  }
  template <class Section>
  void section(std::string_view key, const std::optional<Section>& given, std::string_view what) {
    if (given) section(key, Need::defaulted, *given, what);
  }

  template <class Inside>
  void group(std::string_view key, Need, std::string_view, Inside&& inside) {
    path_.within(key, [&] { inside(*this); });
  }

  template <class Entry>
  void list(std::string_view key, const Count& count, Need, const std::vector<Entry>& entries,
            std::string_view) {
    path_.within(key, [&] {
      if (!good_count(count, entries.size())) return;
      for (std::size_t i = 0; i < entries.size(); ++i)
        path_.within(i, [&] { visit_fields(*this, entries[i]); });
    });
  }
  template <class Entry>
  void list(std::string_view key, const Count& count, const std::optional<std::vector<Entry>>& entries,
            std::string_view what) {
    if (entries) list(key, count, Need::defaulted, *entries, what);
  }

  void outline(std::string_view key, std::string_view, const std::vector<Node>& chain,
               std::string_view what) {
    list(key, kNodes, Need::required, chain, what);
  }
  /// An outline that may also be given as the size of a rectangle.
  void shape(std::string_view key, std::string_view, const std::vector<Node>& chain, std::string_view what) {
    list(key, kNodes, Need::required, chain, what);
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
    if (!good_count(kCutoutNodes, chain.size())) return;
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
    return meant.size() > 1 ? choices(meant) : did_you_mean(meant.empty() ? near : meant.front()->key);
  }

  static std::string choices(const std::vector<const Material*>& meant) {
    std::string text;
    for (const Material* material : meant)
      text += (text.empty() ? "; say which: \"" : ", \"") + material->key + '"';
    return text;
  }

  bool good_count(const Count& count, std::size_t size) {
    std::string problem = count_problem(count, size);
    if (problem.empty()) return true;
    problems_.push_back({path_.text(), std::move(problem)});
    return false;
  }

  void report(std::string_view key, std::string what) {
    if (!what.empty()) path_.within(key, [&] { problems_.push_back({path_.text(), std::move(what)}); });
  }

  const std::vector<Material>& own_;
  std::vector<Problem>& problems_;
  FieldPath path_;
};

}  // namespace haftwright::schema
