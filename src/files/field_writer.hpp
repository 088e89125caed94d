// A value -> JSON, field by field (see design/schema.hpp). Private to this room.
#pragma once

#include <array>
#include <charconv>
#include <optional>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

#include "haftwright/design/schema.hpp"
#include "haftwright/offcuts/bin_schema.hpp"
#include "json_text.hpp"
#include "own_file.hpp"

namespace haftwright::files {

/// The double with the float's own shortest digits; the float's exact value would be a row of stray ones.
inline double shortest_double(float value) {
  std::array<char, 32> text;
  const auto written = std::to_chars(text.data(), text.data() + text.size(), value);
  double result = 0;
  std::from_chars(text.data(), written.ptr, result);
  return result;
}

/// Turns fields (design/schema.hpp) into JSON. Defaults are written out. Left out are empty optionals, and
/// texts and sections with nothing in them.
class FieldWriter {
 public:
  template <class Value>
  void put(std::string_view key, Value&& value) {
    object_[std::string(key)] = std::forward<Value>(value);
  }
  OrderedJson take() { return std::move(object_); }

  void number(std::string_view key, const schema::Quantity&, schema::Need, double value, std::string_view) {
    put(key, value);
  }
  void number(std::string_view key, const schema::Quantity&, schema::Need, float value, std::string_view) {
    put(key, shortest_double(value));
  }
  void number(std::string_view key, const schema::Quantity&, const std::optional<double>& value,
              std::string_view) {
    if (value) put(key, *value);
  }

  void whole(std::string_view key, const schema::Whole&, schema::Need, int value, std::string_view) {
    put(key, value);
  }

  void text(std::string_view key, schema::Need, const std::string& value, std::string_view) {
    if (!value.empty()) put(key, value);
  }
  void id(std::string_view key, const std::string& value, std::string_view what) {
    text(key, schema::Need::defaulted, value, what);
  }
  void reference(std::string_view key, schema::Need need, const std::string& value, std::string_view what) {
    text(key, need, value, what);
  }
  void material(std::string_view key, schema::Need need, const std::string& value, std::string_view what) {
    text(key, need, value, what);
  }
  void flag(std::string_view key, bool value, std::string_view) { put(key, value); }

  template <class Names, class Value>
  void choice(std::string_view key, const Names& names, const Value& value, std::string_view) {
    for (const auto& named : names)
      if (named.value == value) put(key, named.name);
  }
  template <class Names>
  void flags(std::string_view key, const Names& names, unsigned value, std::string_view) {
    OrderedJson list = OrderedJson::array();
    for (const auto& named : names)
      if (value & named.value) list.push_back(named.name);
    put(key, std::move(list));
  }

  template <class Section>
  void section(std::string_view key, schema::Need, const Section& section, std::string_view) {
    OrderedJson value = object_of(section);
    if (!value.empty()) put(key, std::move(value));
  }
  template <class Section>
  void section(std::string_view key, const std::optional<Section>& section, std::string_view) {
    if (section) put(key, object_of(*section));
  }
  template <class Inside>
  void group(std::string_view key, schema::Need, std::string_view, Inside&& inside) {
    FieldWriter writer;
    inside(writer);
    put(key, writer.take());
  }

  template <class Entry>
  void list(std::string_view key, const schema::Count&, schema::Need, const std::vector<Entry>& entries,
            std::string_view) {
    put(key, array_of(entries));
  }
  template <class Entry>
  void list(std::string_view key, const schema::Count&, const std::optional<std::vector<Entry>>& entries,
            std::string_view) {
    if (entries) put(key, array_of(*entries));
  }
  void outline(std::string_view key, std::string_view, const std::vector<Node>& chain, std::string_view) {
    put(key, array_of(chain));
  }
  void shape(std::string_view key, std::string_view size_key, const std::vector<Node>& chain,
             std::string_view) {
    if (const auto size = rectangle_size(chain))
      put(size_key, object_of(*size));
    else
      put(key, array_of(chain));
  }
  void outlines(std::string_view key, std::size_t, const std::vector<std::vector<Node>>& chains,
                std::string_view) {
    OrderedJson list = OrderedJson::array();
    for (const auto& chain : chains) list.push_back(array_of(chain));
    put(key, std::move(list));
  }

 private:
  template <class Section>
  static OrderedJson object_of(const Section& section) {
    FieldWriter writer;
    visit_fields(writer, section);
    return writer.take();
  }
  template <class Entry>
  static OrderedJson array_of(const std::vector<Entry>& entries) {
    OrderedJson list = OrderedJson::array();
    for (const Entry& entry : entries) list.push_back(object_of(entry));
    return list;
  }
  OrderedJson object_ = OrderedJson::object();
};

/// The text of a whole file.
template <class Whole>
std::string text_of(const FileKind& kind, const Whole& whole) {
  FieldWriter writer;
  writer.put(kind.version_key, kind.version);
  visit_fields(writer, whole);
  return json_text(writer.take());
}

}  // namespace haftwright::files
