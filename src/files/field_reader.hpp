// JSON -> a value, field by field (see design/schema.hpp), collecting every problem with its path.
#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <type_traits>
#include <vector>

#include "haftwright/design/schema.hpp"
#include "haftwright/design/validate.hpp"
#include "json_text.hpp"

namespace haftwright::files {

/// What lengths without a unit are in, by the file's own `units`; a wrong one is reported when its turn
/// comes.
LengthUnit unit_of(const Json& root);

/// The visitor that fills a value from a JSON object. What it can't read it reports and leaves as it was.
class FieldReader {
 public:
  /// Lengths given as text without a unit are in `unit`.
  FieldReader(std::vector<Problem>& problems, LengthUnit unit) : problems_(problems), unit_(unit) {}

  /// Fills `value` from `node`, which must be an object with known keys only. `extra_key` is known too.
  template <class Value>
  void read_object(const Json& node, Value& value, std::string_view extra_key = {}) {
    within_object(node, [&] {
      if (!extra_key.empty()) find(extra_key);
      visit_fields(*this, value);
    });
  }

  void number(std::string_view key, const schema::Quantity& quantity, schema::Need need, double& value,
              std::string_view);
  void number(std::string_view key, const schema::Quantity& quantity, schema::Need need, float& value,
              std::string_view what);
  void number(std::string_view key, const schema::Quantity& quantity, std::optional<double>& value,
              std::string_view what);
  void whole(std::string_view key, const schema::Whole& range, schema::Need need, int& value,
             std::string_view);
  void text(std::string_view key, schema::Need need, std::string& value, std::string_view);
  void id(std::string_view key, std::string& value, std::string_view);
  void reference(std::string_view key, schema::Need need, std::string& value, std::string_view);
  /// A plain name that only one listed material has becomes that one's key; the project's own come first.
  void material(std::string_view key, schema::Need need, std::string& value, std::string_view what);
  void flag(std::string_view key, bool& value, std::string_view);

  template <class Names, class Value>
  void choice(std::string_view key, const Names& names, Value& value, std::string_view) {
    if (const Json* node = find(key))
      path_.within(key, [&] {
        if (const auto* named = named_by(*node, names)) value = named->value;
      });
  }
  template <class Names>
  void flags(std::string_view key, const Names& names, unsigned& value, std::string_view) {
    const Json* node = find(key);
    if (!node) return;
    value = 0;
    each_entry(key, *node, {0, std::size(names)}, [&](const Json& entry, std::size_t) {
      if (const auto* named = named_by(entry, names)) value |= named->value;
    });
  }

  template <class Section>
  void section(std::string_view key, schema::Need need, Section& section, std::string_view) {
    if (const Json* node = find(key, need)) path_.within(key, [&] { read_object(*node, section); });
  }
  template <class Section>
  void section(std::string_view key, std::optional<Section>& value, std::string_view what) {
    if (find(key)) section(key, schema::Need::defaulted, value.emplace(), what);
  }
  template <class Inside>
  void group(std::string_view key, schema::Need need, std::string_view, Inside&& inside) {
    if (const Json* node = find(key, need))
      path_.within(key, [&] { within_object(*node, [&] { inside(*this); }); });
  }

  template <class Entry>
  void list(std::string_view key, const schema::Count& count, schema::Need need, std::vector<Entry>& entries,
            std::string_view) {
    if (const Json* node = find(key, need)) {
      entries.clear();
      each_entry(key, *node, count,
                 [&](const Json& entry, std::size_t) { read_object(entry, entries.emplace_back()); });
      if constexpr (std::is_same_v<Entry, Material>)
        for (const Material& own : entries) own_materials_.push_back(own.key);
    }
  }
  template <class Entry>
  void list(std::string_view key, const schema::Count& count, std::optional<std::vector<Entry>>& entries,
            std::string_view what) {
    if (find(key)) list(key, count, schema::Need::defaulted, entries.emplace(), what);
  }

  void outline(std::string_view key, std::string_view starter_key, std::vector<Node>& chain,
               std::string_view what);
  /// An outline, or under `size_key` the size of a rectangle.
  void shape(std::string_view key, std::string_view size_key, std::vector<Node>& chain,
             std::string_view what);
  void outlines(std::string_view key, std::size_t most, std::vector<std::vector<Node>>& chains,
                std::string_view);

  void report(std::string what) { problems_.push_back({path_.text(), std::move(what)}); }

 private:
  /// The object being read: which keys have been asked for, and which of the required ones are not there.
  struct Frame {
    const Json* object = nullptr;
    std::vector<std::string> known;
    std::vector<std::string> missing;
  };

  const Json* find(std::string_view key, schema::Need need = schema::Need::defaulted);
  bool is_object(const Json& node);
  void report_keys(const Frame& frame);
  std::optional<double> number_of(const Json& node, const schema::Quantity& quantity);
  void starter(const Json& node, std::vector<Node>& chain);

  template <class Inside>
  void within_object(const Json& node, Inside&& inside) {
    if (!is_object(node)) return;
    frames_.push_back({&node, {}, {}});
    inside();
    const Frame frame = std::move(frames_.back());
    frames_.pop_back();
    report_keys(frame);
  }

  template <class Read>
  void each_entry(std::string_view key, const Json& node, const schema::Count& count, Read&& read) {
    path_.within(key, [&] { each_entry(node, count, read); });
  }
  template <class Read>
  void each_entry(const Json& node, const schema::Count& count, Read&& read) {
    if (!is_list(node, count)) return;
    for (std::size_t i = 0; i < node.size(); ++i) path_.within(i, [&] { read(node[i], i); });
  }
  bool is_list(const Json& node, const schema::Count& count);

  template <class Names>
  auto named_by(const Json& node, const Names& names) -> decltype(&names[0]) {
    std::vector<std::string> known;
    for (const auto& named : names) {
      if (node.is_string() && node.get_ref<const std::string&>() == named.name) return &named;
      known.emplace_back(named.name);
    }
    report_unknown_name(node, known);
    return nullptr;
  }
  void report_unknown_name(const Json& node, const std::vector<std::string>& known);

  std::vector<Problem>& problems_;
  LengthUnit unit_;
  std::vector<std::string> own_materials_;  // keys; they are read before what is made of them
  schema::FieldPath path_;
  std::vector<Frame> frames_;
};

}  // namespace haftwright::files
