// A member that the schema forgets would be neither checked nor saved.
#include "haftwright/design/shop_schema.hpp"

#include <algorithm>
#include <catch2/catch.hpp>
#include <set>
#include <typeinfo>

#include "haftwright/design/schema.hpp"

using namespace haftwright;

namespace {

/// Notes which bytes of an object are visited, and the same for every kind of object inside it.
class BytesVisitor {
 public:
  struct Span {
    const char* from;
    const char* to;
  };

  template <class Object>
  static void check(std::set<std::string>& seen) {
    if (!seen.insert(typeid(Object).name()).second) return;
    Object object{};
    BytesVisitor visitor(seen);
    visit_fields(visitor, object);
    INFO(typeid(Object).name());
    const char* at = reinterpret_cast<const char*>(&object);
    const char* const end = at + sizeof object;
    std::ranges::sort(visitor.spans_, {}, &Span::from);
    for (const Span& span : visitor.spans_) {
      // Padding is all that may lie between members; twice visited would show as a step back.
      CHECK(span.from - at >= 0);
      CHECK(span.from - at < static_cast<std::ptrdiff_t>(alignof(double)));
      at = span.to;
    }
    CHECK(end - at < static_cast<std::ptrdiff_t>(alignof(double)));
  }

  void whole(std::string_view, const schema::Whole&, schema::Need, int& value, std::string_view) {
    note(value);
  }
  template <class Value>
  void number(std::string_view, const schema::Quantity&, schema::Need, Value& value, std::string_view) {
    note(value);
  }
  void number(std::string_view, const schema::Quantity&, std::optional<double>& value, std::string_view) {
    note(value);
  }
  void text(std::string_view, schema::Need, std::string& value, std::string_view) { note(value); }
  void id(std::string_view, std::string& value, std::string_view) { note(value); }
  void reference(std::string_view, schema::Need, std::string& value, std::string_view) { note(value); }
  void material(std::string_view, schema::Need, std::string& value, std::string_view) { note(value); }
  void flag(std::string_view, bool& value, std::string_view) { note(value); }
  template <class Names, class Value>
  void choice(std::string_view, const Names&, Value& value, std::string_view) {
    note(value);
  }
  template <class Names>
  void flags(std::string_view, const Names&, unsigned& value, std::string_view) {
    note(value);
  }
  template <class Section>
  void section(std::string_view, schema::Need, Section& section, std::string_view) {
    note(section);
    check<Section>(seen_);
  }
  template <class Section>
  void section(std::string_view, std::optional<Section>& section, std::string_view) {
    note(section);
    check<Section>(seen_);
  }
  template <class Inside>
  void group(std::string_view, schema::Need, std::string_view, Inside&& inside) {
    inside(*this);
  }
  template <class Entry>
  void list(std::string_view, const schema::Count&, schema::Need, std::vector<Entry>& entries,
            std::string_view) {
    note(entries);
    check<Entry>(seen_);
  }
  template <class Entry>
  void list(std::string_view, const schema::Count&, std::optional<std::vector<Entry>>& entries,
            std::string_view) {
    note(entries);
    check<Entry>(seen_);
  }
  void outline(std::string_view, std::string_view, std::vector<Node>& chain, std::string_view) {
    note(chain);
    check<Node>(seen_);
  }
  void outlines(std::string_view, std::size_t, std::vector<std::vector<Node>>& chains, std::string_view) {
    note(chains);
  }

 private:
  explicit BytesVisitor(std::set<std::string>& seen) : seen_(seen) {}

  template <class Value>
  void note(Value& value) {
    const char* from = reinterpret_cast<const char*>(&value);
    spans_.push_back({from, from + sizeof value});
  }

  std::set<std::string>& seen_;
  std::vector<Span> spans_;
};

}  // namespace

TEST_CASE("every member of every kind of object is a field of the file") {
  std::set<std::string> seen;
  BytesVisitor::check<Design>(seen);
  BytesVisitor::check<StraightTang>(seen);
  BytesVisitor::check<BowedTang>(seen);
  BytesVisitor::check<Shop>(seen);
  CHECK(seen.size() == 32);  // objects of FORMAT.md but "sides", which is no type of its own
}
