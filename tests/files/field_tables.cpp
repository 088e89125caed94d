#include "field_tables.hpp"

#include <algorithm>
#include <optional>

#include "haftwright/design/schema.hpp"
#include "haftwright/design/shop_schema.hpp"
#include "haftwright/offcuts/bin_schema.hpp"

namespace haftwright::test {
namespace {

using schema::Count;
using schema::Need;
using schema::Quantity;

template <class T>
constexpr const char* kTitle = nullptr;
template <>
constexpr const char* kTitle<Design> = "project";
template <>
constexpr const char* kTitle<Material> = "material";
template <>
constexpr const char* kTitle<Colour> = "colour";
template <>
constexpr const char* kTitle<Tang> = "tang";
template <>
constexpr const char* kTitle<Node> = "node";
template <>
constexpr const char* kTitle<StraightTang> = "straight starter";
template <>
constexpr const char* kTitle<BowedTang> = "bowed starter";
template <>
constexpr const char* kTitle<TangHole> = "tang hole";
template <>
constexpr const char* kTitle<Side> = "left side";
template <>
constexpr const char* kTitle<SideOverrides> = "right side";
template <>
constexpr const char* kTitle<Sheet> = "sheet";
template <>
constexpr const char* kTitle<Piece> = "piece";
template <>
constexpr const char* kTitle<Blank> = "blank";
template <>
constexpr const char* kTitle<Grain> = "grain";
template <>
constexpr const char* kTitle<Joint> = "joint";
template <>
constexpr const char* kTitle<FrontFace> = "front face";
template <>
constexpr const char* kTitle<Finish> = "finish";
template <>
constexpr const char* kTitle<MonotoneCubic::Station> = "station";
template <>
constexpr const char* kTitle<Pin> = "pin";
template <>
constexpr const char* kTitle<PinStock> = "stock";
template <>
constexpr const char* kTitle<HoleSize> = "hole";
template <>
constexpr const char* kTitle<Adhesive> = "adhesive";
template <>
constexpr const char* kTitle<GuideSettings> = "guide";
template <>
constexpr const char* kTitle<GuideHabits> = "shop guide";
template <>
constexpr const char* kTitle<ShopRules> = "rules";
template <>
constexpr const char* kTitle<Drilling> = "drilling";
template <>
constexpr const char* kTitle<DrillingHabits> = "shop drilling";
template <>
constexpr const char* kTitle<ShopErrors> = "errors";
template <>
constexpr const char* kTitle<CaliperReading> = "reading";
template <>
constexpr const char* kTitle<HandPlace> = "place by hand";
template <>
constexpr const char* kTitle<Shop> = "shop";
template <>
constexpr const char* kTitle<OwnedDrill> = "owned drill";
template <>
constexpr const char* kTitle<Bin> = "bin";
template <>
constexpr const char* kTitle<Offcut> = "offcut";
template <>
constexpr const char* kTitle<FlatSize> = "size";
template <>
constexpr const char* kTitle<Defect> = "defect";
template <>
constexpr const char* kTitle<OffcutPhoto> = "photo";
template <>
constexpr const char* kTitle<PhotoMark> = "mark";
template <>
constexpr const char* kTitle<Reservation> = "reservation";
template <>
constexpr const char* kTitle<SheetStock> = "sheet stock";
template <>
constexpr const char* kTitle<RodStock> = "rod stock";

constexpr const char* kIdRange = "1 to 24 of a-z, 0-9, `_`, `-`";

std::string count_text(const Count& count) {
  return std::to_string(count.least) + " to " + std::to_string(count.most) + " entries";
}

std::string link(std::string title) {
  std::string anchor = title;
  std::ranges::replace(anchor, ' ', '-');
  return "[" + title + "](#" + anchor + ")";
}

class TableVisitor {
 public:
  explicit TableVisitor(std::vector<FieldTable>& tables, std::size_t table)
      : tables_(tables), table_(table) {}

  template <class Value>
  static void visit(std::vector<FieldTable>& tables, const Value& value) {
    static_assert(kTitle<Value> != nullptr, "give this kind of object a title above");
    const std::string heading = std::string("### ") + kTitle<Value>;
    for (const FieldTable& table : tables)
      if (table.heading == heading) return;
    tables.push_back({heading, {}});
    TableVisitor visitor(tables, tables.size() - 1);
    visit_fields(visitor, value);
  }

  void number(std::string_view key, const Quantity& quantity, Need need, double value,
              std::string_view what) {
    const std::string standard = need == Need::required ? "required" : shortest_number(value);
    row(key, number_kind(quantity), schema::range_text(quantity), standard, what);
  }
  void number(std::string_view key, const Quantity& quantity, Need need, float value, std::string_view what) {
    number(key, quantity, need, std::stod(format_number(static_cast<double>(value), 3)), what);
  }
  void number(std::string_view key, const Quantity& quantity, const std::optional<double>&,
              std::string_view what) {
    row(key, number_kind(quantity), schema::range_text(quantity), "left out", what);
  }
  void whole(std::string_view key, const schema::Whole& range, Need need, int value, std::string_view what) {
    const std::string standard = need == Need::required ? "required" : std::to_string(value);
    row(key, "whole number", schema::range_text(range), standard, what);
  }
  void text(std::string_view key, Need need, const std::string& value, std::string_view what) {
    row(key, "text", "", standard_text(need, value), what);
  }
  void id(std::string_view key, const std::string&, std::string_view what) {
    row(key, "id", kIdRange, "derived", what);
  }
  void reference(std::string_view key, Need need, const std::string& value, std::string_view what) {
    row(key, "id", kIdRange, standard_text(need, value), what);
  }
  void material(std::string_view key, Need need, const std::string& value, std::string_view what) {
    row(key, "material", "", standard_text(need, value), what);
  }
  void flag(std::string_view key, bool value, std::string_view what) {
    row(key, "true or false", "", value ? "true" : "false", what);
  }
  template <class Names, class Value>
  void choice(std::string_view key, const Names& names, const Value& value, std::string_view what) {
    std::string standard;
    for (const auto& named : names)
      if (named.value == value) standard = quoted(named.name);
    row(key, "one of", words(names), standard, what);
  }
  template <class Names>
  void flags(std::string_view key, const Names& names, unsigned value, std::string_view what) {
    row(key, "list of", words(names), value == 0 ? "none" : "all", what);
  }
  template <class Section>
  void section(std::string_view key, Need need, const Section& section, std::string_view what) {
    // A hole that says nothing is no hole; every other section has something to fall back on.
    const bool empty = std::same_as<Section, HoleSize>;
    const std::string standard = need == Need::required ? "required" : empty ? "left out" : "its defaults";
    row(key, link(kTitle<Section>), "", standard, what);
    visit(tables_, section);
  }
  template <class Section>
  void section(std::string_view key, const std::optional<Section>&, std::string_view what) {
    row(key, link(kTitle<Section>), "", "left out", what);
    visit(tables_, Section{});
  }
  template <class Inside>
  void group(std::string_view key, Need need, std::string_view what, Inside&& inside) {
    row(key, link(std::string(key)), "", need == Need::required ? "required" : "", what);
    tables_.push_back({"### " + std::string(key), {}});
    TableVisitor visitor(tables_, tables_.size() - 1);
    inside(visitor);
  }
  template <class Entry>
  void list(std::string_view key, const Count& count, Need need, const std::vector<Entry>& entries,
            std::string_view what) {
    const std::string standard = need == Need::required ? "required" : entries.empty() ? "none" : "one entry";
    row(key, "list of " + link(kTitle<Entry>), count_text(count), standard, what);
    visit(tables_, entries.empty() ? Entry{} : entries.front());
  }
  template <class Entry>
  void list(std::string_view key, const Count& count, const std::optional<std::vector<Entry>>&,
            std::string_view what) {
    row(key, "list of " + link(kTitle<Entry>), count_text(count), "left out", what);
    visit(tables_, Entry{});
  }
  void outline(std::string_view key, std::string_view starter_key, const std::vector<Node>&,
               std::string_view what) {
    row(key, "list of " + link("node"), count_text(schema::kNodes),
        "required, or `" + std::string(starter_key) + "`", what);
    visit(tables_, Node{});
    visit(tables_, StraightTang{});
    visit(tables_, BowedTang{});
  }
  void shape(std::string_view key, std::string_view size_key, const std::vector<Node>&,
             std::string_view what) {
    row(key, "list of " + link("node"), count_text(schema::kNodes),
        "required, or `" + std::string(size_key) + "`", what);
    row(size_key, link("size"), "", "or `" + std::string(key) + "`",
        "a rectangle whose lower left corner is x = 0, y = 0");
    visit(tables_, FlatSize{});
  }
  void outlines(std::string_view key, std::size_t most, const std::vector<std::vector<Node>>&,
                std::string_view what) {
    row(key, "list of lists of " + link("node"),
        count_text({0, most}) + " of " + count_text(schema::kCutoutNodes), "none", what);
  }

 private:
  static std::string number_kind(const Quantity& quantity) {
    if (quantity.unit == "mm") return "length";
    return quantity.unit.empty() ? "number" : "number, " + std::string(quantity.unit);
  }
  static std::string quoted(std::string_view word) { return "`\"" + std::string(word) + "\"`"; }
  static std::string standard_text(Need need, const std::string& value) {
    if (need == Need::required) return "required";
    return value.empty() ? "left out" : quoted(value);
  }
  template <class Names>
  static std::string words(const Names& names) {
    std::string text;
    for (const auto& named : names) text += (text.empty() ? "" : ", ") + quoted(named.name);
    return text;
  }
  void row(std::string_view key, const std::string& kind, const std::string& range,
           const std::string& standard, std::string_view what) {
    std::string text = "| `" + std::string(key) + "` | " + kind + " | " + range + " | " + standard + " | ";
    tables_[table_].rows.push_back(text + std::string(what) + " |");
  }

  std::vector<FieldTable>& tables_;
  std::size_t table_;
};

}  // namespace

std::vector<FieldTable> field_tables() {
  std::vector<FieldTable> tables;
  TableVisitor::visit(tables, Design{});
  TableVisitor::visit(tables, Shop{});
  TableVisitor::visit(tables, Bin{});
  return tables;
}

}  // namespace haftwright::test
