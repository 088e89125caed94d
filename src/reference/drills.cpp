#include "haftwright/reference/drills.hpp"

#include <algorithm>
#include <cctype>
#include <charconv>
#include <cmath>
#include <vector>

#include "drill_table.hpp"
#include "haftwright/reference/materials.hpp"

namespace haftwright {

using namespace reference;
namespace {

constexpr double kInch = 25.4;
constexpr double kSameSize = 1e-9;  // mm; sizes that differ by less are the same size written twice

bool is_digit(char c) {
  return c >= '0' && c <= '9';
}

bool take_prefix(std::string& text, std::string_view prefix) {
  if (!text.starts_with(prefix) || text.size() == prefix.size()) return false;
  text.erase(0, prefix.size());
  return true;
}

/// Takes the inch's name out where it follows a digit: "1/8in" is "1/8".
void drop_inches(std::string& text) {
  for (const std::string_view name : {"inch", "in.", "in", "\""}) {
    const auto at = text.find(name);
    if (at != std::string::npos && at > 0 && is_digit(text[at - 1])) text.erase(at, name.size());
  }
}

/// One spelling for all ways of writing a label: lower case, no spaces, "#" for a number drill.
std::string canonical(std::string_view label) {
  std::string text;
  for (const char c : label)
    if (!std::isspace(static_cast<unsigned char>(c)))
      text += static_cast<char>(std::tolower(static_cast<unsigned char>(c)));
  drop_inches(text);
  for (const std::string_view name : {"number", "no.", "no", "nr.", "nr"})
    if (text.size() > name.size() && is_digit(text[name.size()]) && take_prefix(text, name))
      return "#" + text;
  take_prefix(text, "letter");
  return text;
}

/// "3.3mm" and "3.3" give 3.3; a bare whole number gives nothing.
std::optional<double> metric_size(const std::string& text) {
  double size = 0;
  const auto [rest, error] =
      std::from_chars(text.data(), text.data() + text.size(), size, std::chars_format::fixed);
  if (error != std::errc{}) return std::nullopt;
  const std::string_view unit(rest, static_cast<std::size_t>(text.data() + text.size() - rest));
  if (unit == "mm" || (unit.empty() && text.find('.') != std::string::npos)) return size;
  return std::nullopt;
}

struct SpelledDrill {
  std::string label;  ///< canonical
  const ListedDrill* drill;
};
/// The table by its labels. Every hole asks for its drill again and again, so they are spelled once.
const std::vector<SpelledDrill>& spelled_drills() {
  static const std::vector<SpelledDrill> all = [] {
    std::vector<SpelledDrill> spelled;
    for (const ListedDrill& drill : drill_table()) spelled.push_back({canonical(drill.label), &drill});
    std::ranges::stable_sort(spelled, {}, &SpelledDrill::label);
    return spelled;
  }();
  return all;
}

/// A row of an allowance table: sizes up to `most_inches`, deviations in inches.
struct AllowanceRow {
  double most_inches;
  double lower_inches;
  double upper_inches;
};

std::optional<SizeAllowance> look_up(std::span<const AllowanceRow> rows, double nominal_mm,
                                     std::string_view source) {
  for (const auto& row : rows)
    if (nominal_mm <= row.most_inches * kInch + kSameSize)
      return SizeAllowance{row.lower_inches * kInch, row.upper_inches * kInch, source};
  return std::nullopt;
}

}  // namespace

std::span<const ListedDrill> listed_drills() {
  return drill_table();
}

std::optional<ListedDrill> find_drill(std::string_view label) {
  const std::string wanted = canonical(label);
  if (const auto size = metric_size(wanted)) {
    for (const auto& drill : drill_table())
      if (drill.series == DrillSeries::metric && std::abs(drill.diameter_mm - *size) < kSameSize)
        return drill;
    return std::nullopt;
  }
  const auto& all = spelled_drills();
  const auto found = std::ranges::lower_bound(all, wanted, {}, &SpelledDrill::label);
  return found != all.end() && found->label == wanted ? std::optional(*found->drill) : std::nullopt;
}

std::optional<ListedDrill> smallest_drill_between(double diameter_mm, double most_mm, bool reamers,
                                                  bool metric) {
  std::optional<ListedDrill> best;
  for (const auto& drill : drill_table()) {
    if (drill.series == DrillSeries::reamer && !reamers) continue;
    if (drill.series != DrillSeries::metric && metric) continue;
    if (drill.diameter_mm < diameter_mm - kSameSize || drill.diameter_mm > most_mm + kSameSize) continue;
    if (!best || drill.diameter_mm < best->diameter_mm - kSameSize) best = drill;
  }
  return best;
}

std::string drill_words(const ListedDrill& drill) {
  return std::string(drill.label) + (drill.series == DrillSeries::fraction ? " in" : "");
}

std::string nearest_drill_label(std::string_view label) {
  std::vector<std::string> spellings;
  for (const auto& drill : drill_table()) spellings.push_back(canonical(drill.label));
  const std::string near = nearest_word(canonical(label), spellings);
  const auto at = std::find(spellings.begin(), spellings.end(), near);
  if (at == spellings.end()) return {};
  return std::string(drill_table()[static_cast<std::size_t>(at - spellings.begin())].label);
}

std::optional<SizeAllowance> drilled_hole_allowance(double nominal_mm) {
  static constexpr AllowanceRow kRows[] = {
      {0.1250, -0.001, 0.004}, {0.2500, -0.001, 0.005}, {0.5000, -0.001, 0.006}, {0.7500, -0.001, 0.008}};
  static constexpr double kLeastInches = 0.0135;
  if (nominal_mm < kLeastInches * kInch - kSameSize) return std::nullopt;
  return look_up(kRows, nominal_mm, "AND10387, drilled hole tolerances, drilling with jigs; secondary copy");
}

std::optional<SizeAllowance> bushing_bore_allowance(double drill_mm) {
  static constexpr AllowanceRow kRows[] = {{0.25, 0.0001, 0.0004}, {0.75, 0.0001, 0.0005}};
  if (drill_mm <= 0) return std::nullopt;
  return look_up(kRows, drill_mm,
                 "ANSI B94.33, bushing bore over nominal drill; secondary copies that agree");
}

}  // namespace haftwright
