#include "svg_style.hpp"

#include <algorithm>

#include "numbers.hpp"

namespace haftwright::intake {
namespace {

/// In a list of "name: value; name: value".
std::string declared(std::string_view declarations, std::string_view property) {
  std::string value;
  while (!declarations.empty()) {
    const std::size_t end = std::min(declarations.find(';'), declarations.size());
    const std::string_view one = declarations.substr(0, end);
    declarations.remove_prefix(std::min(end + 1, declarations.size()));
    const std::size_t colon = one.find(':');
    if (colon == std::string_view::npos || lower_case(trimmed(one.substr(0, colon))) != property) continue;
    value = lower_case(trimmed(one.substr(colon + 1)));
    if (const std::size_t mark = value.find('!'); mark != std::string::npos)
      value = std::string(trimmed(std::string_view(value).substr(0, mark)));
  }
  return value;
}

}  // namespace

std::string style_value(const pugi::xml_node& element, std::string_view property) {
  const std::string value = declared(element.attribute("style").value(), property);
  if (!value.empty()) return value;
  return lower_case(trimmed(element.attribute(std::string(property).c_str()).value()));
}

void HiddenClasses::add_sheet(std::string_view css) {
  while (!css.empty()) {
    const std::size_t open = css.find('{');
    if (open == std::string_view::npos) return;
    const std::size_t end = std::min(css.find('}', open), css.size());
    std::string_view selectors = css.substr(0, open);
    const bool hides = declared(css.substr(open + 1, end - open - 1), "display") == "none";
    css.remove_prefix(std::min(end + 1, css.size()));
    while (hides && !selectors.empty()) {
      const std::size_t comma = std::min(selectors.find(','), selectors.size());
      const std::string_view one = trimmed(selectors.substr(0, comma));
      selectors.remove_prefix(std::min(comma + 1, selectors.size()));
      if (one.starts_with('.') && one.find_first_of(" >+~:[#*", 1) == std::string_view::npos)
        classes_.emplace(one.substr(1));
    }
  }
}

bool HiddenClasses::hide(const pugi::xml_node& element) const {
  if (classes_.empty()) return false;
  std::string_view names = element.attribute("class").value();
  for (names = trimmed(names); !names.empty(); names = trimmed(names)) {
    const std::size_t end = std::min(names.find_first_of(" \t\r\n"), names.size());
    if (classes_.contains(names.substr(0, end))) return true;
    names.remove_prefix(end);
  }
  return false;
}

}  // namespace haftwright::intake
