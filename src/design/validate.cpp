#include "haftwright/design/validate.hpp"

#include <cmath>
#include <set>

#include "haftwright/design/schema.hpp"
#include "validate_parts.hpp"

namespace haftwright {

using namespace design;
namespace {

using schema::Count;
using schema::FieldPath;
using schema::Need;
using schema::Quantity;

/// Walks every field: ranges, counts, sizes of texts, names of materials.
class RangeVisitor {
 public:
  RangeVisitor(const Design& design, Problems& problems) : design_(design), problems_(problems) {}

  void number(std::string_view key, const Quantity& quantity, Need, double value, std::string_view) {
    report(key, range_problem(quantity, value));
  }
  void number(std::string_view key, const Quantity& quantity, const std::optional<double>& value,
              std::string_view what) {
    if (value) number(key, quantity, Need::defaulted, *value, what);
  }

  void text(std::string_view key, Need need, const std::string& value, std::string_view) {
    if (need == Need::required && value.empty()) report(key, "must not be empty");
    report(key, schema::text_problem(value, schema::lines_of(key)));
  }

  void material(std::string_view key, Need need, const std::string& value, std::string_view what) {
    text(key, need, value, what);
    if (value.empty() || design_.material(value) != nullptr) return;
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
    list(key, schema::kNodes, Need::required, chain, what);
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

  /// What an unknown material may have been meant to be.
  std::string suggestion(const std::string& value) const {
    if (const auto meant = materials_meant(value); !meant.empty()) return choices(meant);
    std::vector<std::string> own;
    for (const Material& material : design_.own_materials) own.push_back(material.key);
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

  bool good_count(const Count& count, std::size_t size) {
    std::string problem = schema::count_problem(count, size);
    if (problem.empty()) return true;
    problems_.push_back({path_.text(), std::move(problem)});
    return false;
  }

  void report(std::string_view key, std::string what) {
    if (!what.empty()) path_.within(key, [&] { problems_.push_back({path_.text(), std::move(what)}); });
  }

  const Design& design_;
  Problems& problems_;
  FieldPath path_;
};

void validate_materials(const Design& design, Problems& problems) {
  std::set<std::string_view> seen;
  for (std::size_t i = 0; i < design.own_materials.size(); ++i)
    if (!seen.insert(design.own_materials[i].key).second)
      problems.push_back({indexed("materials", i, "key"),
                          "a second material called " + schema::quoted(design.own_materials[i].key)});
}

void validate_rules(const ShopRules& rules, Problems& problems) {
  if (rules.glue_clearance_least_mm > rules.glue_clearance_most_mm)
    problems.push_back(
        {"rules.glue_clearance_least_mm", "must not be more than glue_clearance_most_mm, which is " +
                                              shortest_number(rules.glue_clearance_most_mm) + " mm"});
  if (rules.mix_near_share > rules.mix_error_share)
    problems.push_back({"rules.mix_near_share", "must not be more than mix_error_share, which is " +
                                                    shortest_number(rules.mix_error_share)});
}

void validate_readings(const std::vector<CaliperReading>& readings, Problems& problems) {
  for (std::size_t i = 0; i < readings.size(); ++i) {
    if (readings[i].joint != std::floor(readings[i].joint))
      problems.push_back({indexed("dry_fit", i, "joint"),
                          "must be a whole number, but is " + shortest_number(readings[i].joint)});
    if (readings[i].kind == ReadingKind::step && !readings[i].from_pin.empty())
      problems.push_back({indexed("dry_fit", i, "from_pin"),
                          "must be left out of a step, which is read from one side's line to the other's"});
  }
}

}  // namespace

std::string design::indexed(const char* list, std::size_t index, const char* key) {
  std::string path = list;
  path.append("[").append(std::to_string(index)).append("]");
  if (key) path.append(".").append(key);
  return path;
}

std::vector<Problem> validate(const Design& design) {
  Problems problems;
  RangeVisitor ranges(design, problems);
  visit_fields(ranges, design);
  // What follows computes with the numbers, so they must make sense first.
  if (!problems.empty()) return problems;
  validate_materials(design, problems);
  validate_rules(design.rules, problems);
  validate_readings(design.dry_fit, problems);
  const std::size_t before_places = problems.size();
  validate_sides(design, problems);
  validate_tang(design.tang, problems);
  if (problems.size() == before_places) validate_pins(design, problems);
  return problems;
}

}  // namespace haftwright
