#include "field_reader.hpp"

#include <algorithm>
#include <stdexcept>

#include "haftwright/design/ids.hpp"
#include "haftwright/offcuts/bin_schema.hpp"

namespace haftwright::files {
namespace {

using schema::Count;
using schema::Need;
using schema::Quantity;
using schema::quoted;

/// Keys of older files that no longer stand for anything. A strip's edge is a line like any other, so that a
/// wide strip hides no step.
constexpr std::string_view kRetiredFields[] = {"rules.strip_hides_share"};

constexpr std::size_t kLongestLength = 64;  // bytes of a length given as text

std::string kind_of(const Json& node) {
  switch (node.type()) {
    case Json::value_t::null:
      return "null";
    case Json::value_t::object:
      return "an object";
    case Json::value_t::array:
      return "a list";
    case Json::value_t::string:
      return "a text";
    case Json::value_t::boolean:
      return "true or false";
    default:
      return "a number";
  }
}

std::string wrong_kind(const std::string& wanted, const Json& node) {
  return "must be " + wanted + ", but is " + kind_of(node);
}

std::string joined(const std::vector<std::string>& words) {
  std::string text;
  for (const std::string& word : words) text += (text.empty() ? "\"" : ", \"") + word + '"';
  return text;
}

}  // namespace

LengthUnit unit_of(const Json& root) {
  if (const auto units = root.find("units"); units != root.end() && units->is_string())
    for (const auto& named : schema::kUnitNames)
      if (units->get_ref<const std::string&>() == named.name) return named.value;
  return LengthUnit::millimetre;
}

const Json* FieldReader::find(std::string_view key, Need need) {
  Frame& frame = frames_.back();
  if (std::ranges::find(frame.known, key) == frame.known.end()) frame.known.emplace_back(key);
  const auto entry = frame.object->find(key);
  if (entry != frame.object->end()) return &*entry;
  if (need == Need::required) frame.missing.emplace_back(key);
  return nullptr;
}

bool FieldReader::is_object(const Json& node) {
  if (!node.is_object()) report(wrong_kind("an object", node));
  return node.is_object();
}

bool FieldReader::is_list(const Json& node, const Count& count) {
  std::string problem =
      node.is_array() ? schema::count_problem(count, node.size()) : wrong_kind("a list", node);
  if (problem.empty()) return true;
  report(std::move(problem));
  return false;
}

void FieldReader::report_keys(const Frame& frame) {
  std::vector<std::string> missing = frame.missing;
  std::vector<std::string> absent;
  for (const std::string& key : frame.known)
    if (!frame.object->contains(key)) absent.push_back(key);
  for (const auto& [key, value] : frame.object->items()) {
    if (std::ranges::find(frame.known, key) != frame.known.end()) continue;
    if (std::ranges::find(kRetiredFields, path_.text() + "." + key) != std::end(kRetiredFields)) continue;
    const std::string near = nearest_word(key, absent);
    report("unknown key " + quoted(key) + schema::did_you_mean(near));
    // A misspelt key is one mistake, not two.
    std::erase(missing, near);
  }
  for (const std::string& key : missing) path_.within(key, [&] { report("is missing"); });
}

std::optional<double> FieldReader::number_of(const Json& node, const Quantity& quantity) {
  const bool length = quantity.unit == "mm";
  double value = 0;
  if (node.is_number()) {
    value = node.get<double>();
  } else if (length && node.is_string()) {
    const std::string& text = node.get_ref<const std::string&>();
    if (text.size() > kLongestLength) {
      report(quoted(text) + " is too long for a length");
      return std::nullopt;
    }
    try {
      value = parse_length_mm(text, unit_);
    } catch (const std::invalid_argument& error) {
      report(error.what());
      return std::nullopt;
    }
  } else {
    report(wrong_kind(length ? "a number of mm, or a text with its unit like \"1/8 in\"" : "a number", node));
    return std::nullopt;
  }
  std::string problem = schema::range_problem(quantity, value);
  if (problem.empty()) return value;
  report(std::move(problem));
  return std::nullopt;
}

void FieldReader::number(std::string_view key, const Quantity& quantity, Need need, double& value,
                         std::string_view) {
  if (const Json* node = find(key, need))
    path_.within(key, [&] { value = number_of(*node, quantity).value_or(value); });
}

void FieldReader::number(std::string_view key, const Quantity& quantity, Need need, float& value,
                         std::string_view what) {
  double read = static_cast<double>(value);
  number(key, quantity, need, read, what);
  value = static_cast<float>(read);
}

void FieldReader::number(std::string_view key, const Quantity& quantity, std::optional<double>& value,
                         std::string_view) {
  if (const Json* node = find(key)) path_.within(key, [&] { value = number_of(*node, quantity); });
}

void FieldReader::whole(std::string_view key, const schema::Whole& range, Need need, int& value,
                        std::string_view) {
  const Json* node = find(key, need);
  if (!node) return;
  path_.within(key, [&] {
    // A great number must not turn into a small one on its way into an int.
    const double number = node->is_number() ? node->get<double>() : 0;
    const bool fits = node->is_number_integer() && number >= range.least && number <= range.most;
    if (fits) value = node->get<int>();
    if (!node->is_number())
      report(wrong_kind("a whole number", *node));
    else if (!fits)
      report("must be a whole number " + range_text(range) + ", but is " + shortest_number(number));
  });
}

void FieldReader::text(std::string_view key, Need need, std::string& value, std::string_view) {
  const Json* node = find(key, need);
  if (!node) return;
  path_.within(key, [&] {
    if (!node->is_string()) return report(wrong_kind("a text", *node));
    value = node->get<std::string>();
    std::string problem = schema::text_problem(value, schema::lines_of(key));
    if (problem.empty() && need == Need::required && value.empty()) problem = "must not be empty";
    if (!problem.empty()) report(std::move(problem));
  });
}

void FieldReader::id(std::string_view key, std::string& value, std::string_view what) {
  reference(key, Need::defaulted, value, what);
}

void FieldReader::reference(std::string_view key, Need need, std::string& value, std::string_view) {
  const Json* node = find(key, need);
  if (!node) return;
  path_.within(key, [&] {
    if (!node->is_string()) return report(wrong_kind("an id, a text such as \"rear_pin\"", *node));
    value = node->get<std::string>();
    if (std::string problem = id_problem(value); !problem.empty()) report(std::move(problem));
  });
}

void FieldReader::material(std::string_view key, Need need, std::string& value, std::string_view what) {
  const std::string standard = value;
  text(key, need, value, what);
  // No name stands for the default, as it does where the key is left out: saving leaves it out too.
  if (value.empty()) value = standard;
  if (std::ranges::find(own_materials_, value) != own_materials_.end()) return;
  if (const auto meant = materials_meant(value); meant.size() == 1) value = meant.front()->key;
}

void FieldReader::flag(std::string_view key, bool& value, std::string_view) {
  if (const Json* node = find(key))
    path_.within(key, [&] {
      if (node->is_boolean())
        value = node->get<bool>();
      else
        report(wrong_kind("true or false", *node));
    });
}

void FieldReader::report_unknown_name(const Json& node, const std::vector<std::string>& known) {
  if (!node.is_string()) return report(wrong_kind("one of " + joined(known), node));
  report("must be one of " + joined(known) + ", but is " + quoted(node.get<std::string>()));
}

void FieldReader::outline(std::string_view key, std::string_view starter_key, std::vector<Node>& chain,
                          std::string_view what) {
  const Json* made = find(starter_key);
  if (!made) return list(key, schema::kNodes, Need::required, chain, what);
  path_.within(starter_key, [&] {
    if (find(key))
      return report("give " + std::string(key) + " or " + std::string(starter_key) + ", not both");
    starter(*made, chain);
  });
}

void FieldReader::shape(std::string_view key, std::string_view size_key, std::vector<Node>& chain,
                        std::string_view what) {
  const Json* size = find(size_key);
  if (!size && !find(key))
    return path_.within(key, [&] { report("is missing; give it, or " + std::string(size_key)); });
  if (!size) return list(key, schema::kNodes, Need::required, chain, what);
  path_.within(size_key, [&] {
    if (find(key)) return report("give " + std::string(key) + " or " + std::string(size_key) + ", not both");
    const std::size_t before = problems_.size();
    FlatSize flat;
    read_object(*size, flat);
    if (problems_.size() == before) chain = rectangle(flat);
  });
}

void FieldReader::starter(const Json& node, std::vector<Node>& chain) {
  static constexpr std::string_view kKindKey = "kind";
  const std::size_t before = problems_.size();
  const auto make = [&](auto tang) {
    read_object(node, tang, kKindKey);
    if (problems_.size() > before) return;
    try {
      chain = starter_outline(tang);
    } catch (const std::invalid_argument& error) {
      report(error.what());
    }
  };
  if (!is_object(node)) return;
  const auto kind = node.find(kKindKey);
  if (kind == node.end()) return path_.within(kKindKey, [&] { report("is missing"); });
  if (*kind == "straight") return make(StraightTang{});
  if (*kind == "bowed") return make(BowedTang{});
  path_.within(kKindKey, [&] { report_unknown_name(*kind, {"straight", "bowed"}); });
}

void FieldReader::outlines(std::string_view key, std::size_t most, std::vector<std::vector<Node>>& chains,
                           std::string_view) {
  const Json* node = find(key);
  if (!node) return;
  chains.clear();
  each_entry(key, *node, {0, most}, [&](const Json& entry, std::size_t) {
    std::vector<Node>& chain = chains.emplace_back();
    each_entry(entry, schema::kCutoutNodes,
               [&](const Json& corner, std::size_t) { read_object(corner, chain.emplace_back()); });
  });
}

}  // namespace haftwright::files
