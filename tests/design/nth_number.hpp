// Every number of a Design, a Shop or a Bin in turn, to be looked at and spoilt.
#pragma once

#include <optional>
#include <string>

#include "haftwright/design/schema.hpp"

namespace haftwright::test {

struct Number {
  std::string path;
  schema::Quantity quantity;
  bool coarse = false;  ///< a float
};

/// Visits a copy of the design and, at the nth number, notes it and sets it.
class NumberVisitor {
 public:
  NumberVisitor(std::size_t n, std::optional<double> set) : left_(n), set_(set) {}
  std::optional<Number> found;

  void number(std::string_view key, const schema::Quantity& quantity, schema::Need, double& value,
              std::string_view) {
    meet(key, quantity, value, false);
  }
  void number(std::string_view key, const schema::Quantity& quantity, schema::Need, float& value,
              std::string_view) {
    meet(key, quantity, value, true);
  }
  void number(std::string_view key, const schema::Quantity& quantity, std::optional<double>& value,
              std::string_view) {
    if (value) meet(key, quantity, *value, false);
  }
  template <class... Any>
  void whole(Any&&...) {}
  template <class... Any>
  void text(Any&&...) {}
  template <class... Any>
  void id(Any&&...) {}
  template <class... Any>
  void reference(Any&&...) {}
  template <class... Any>
  void material(Any&&...) {}
  template <class... Any>
  void flag(Any&&...) {}
  template <class... Any>
  void choice(Any&&...) {}
  template <class... Any>
  void flags(Any&&...) {}

  template <class Section>
  void section(std::string_view key, schema::Need, Section& section, std::string_view) {
    path_.within(key, [&] { visit_fields(*this, section); });
  }
  template <class Section>
  void section(std::string_view key, std::optional<Section>& section, std::string_view) {
    if (section) path_.within(key, [&] { visit_fields(*this, *section); });
  }
  template <class Inside>
  void group(std::string_view key, schema::Need, std::string_view, Inside&& inside) {
    path_.within(key, [&] { inside(*this); });
  }
  template <class Entry>
  void list(std::string_view key, const schema::Count&, schema::Need, std::vector<Entry>& entries,
            std::string_view) {
    path_.within(key, [&] { each(entries); });
  }
  template <class Entry>
  void list(std::string_view key, const schema::Count&, std::optional<std::vector<Entry>>& entries,
            std::string_view) {
    if (entries) path_.within(key, [&] { each(*entries); });
  }
  void outline(std::string_view key, std::string_view, std::vector<Node>& chain, std::string_view) {
    path_.within(key, [&] { each(chain); });
  }
  void shape(std::string_view key, std::string_view, std::vector<Node>& chain, std::string_view) {
    path_.within(key, [&] { each(chain); });
  }
  void outlines(std::string_view key, std::size_t, std::vector<std::vector<Node>>& chains, std::string_view) {
    path_.within(key, [&] {
      for (std::size_t i = 0; i < chains.size(); ++i) path_.within(i, [&] { each(chains[i]); });
    });
  }

 private:
  template <class Entry>
  void each(std::vector<Entry>& entries) {
    for (std::size_t i = 0; i < entries.size(); ++i)
      path_.within(i, [&] { visit_fields(*this, entries[i]); });
  }
  template <class Value>
  void meet(std::string_view key, const schema::Quantity& quantity, Value& value, bool coarse) {
    if (left_-- != 0) return;
    path_.within(key, [&] { found = Number{path_.text(), quantity, coarse}; });
    if (set_) value = static_cast<Value>(*set_);
  }

  std::size_t left_;
  std::optional<double> set_;
  schema::FieldPath path_;
};

/// Of a Design, a Shop or a Bin.
template <class Whole>
std::optional<Number> nth_number(Whole whole, std::size_t n) {
  NumberVisitor visitor(n, std::nullopt);
  visit_fields(visitor, whole);
  return visitor.found;
}

template <class Whole>
Whole with_number(Whole whole, std::size_t n, double value) {
  NumberVisitor visitor(n, value);
  visit_fields(visitor, whole);
  return whole;
}

}  // namespace haftwright::test
