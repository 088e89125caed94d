#include "json_text.hpp"

#include <cmath>

#include "haftwright/design/units.hpp"

namespace haftwright::files {
namespace {

constexpr std::size_t kLineLength = 100;

std::string scalar_text(const OrderedJson& value) {
  if (!value.is_number_float()) return value.dump();
  const double number = value.get<double>();
  // Without the point a reader takes the whole number 0, which has no sign.
  if (number == 0 && std::signbit(number)) return "-0.0";
  return shortest_number(number);
}

std::string key_text(const std::string& key) {
  return OrderedJson(key).dump() + ": ";
}

/// The value on one line; gives up, with nothing, when it grows longer than `room`.
std::string one_line(const OrderedJson& value, std::size_t room) {
  if (!value.is_structured()) return scalar_text(value);
  std::string text(1, value.is_object() ? '{' : '[');
  for (auto entry = value.begin(); entry != value.end(); ++entry) {
    if (entry != value.begin()) text += ", ";
    if (value.is_object()) text += key_text(entry.key());
    const std::string inside = one_line(*entry, room);
    text += inside;
    if (inside.empty() || text.size() > room) return {};
  }
  return text + (value.is_object() ? '}' : ']');
}

void append(std::string& text, const OrderedJson& value, std::size_t indent) {
  const std::string line = one_line(value, kLineLength - std::min(indent, kLineLength));
  if (!line.empty()) {
    text += line;
    return;
  }
  text += value.is_object() ? '{' : '[';
  for (auto entry = value.begin(); entry != value.end(); ++entry) {
    text += entry == value.begin() ? "\n" : ",\n";
    text.append(indent + 2, ' ');
    if (value.is_object()) text += key_text(entry.key());
    append(text, *entry, indent + 2);
  }
  text += '\n';
  text.append(indent, ' ');
  text += value.is_object() ? '}' : ']';
}

}  // namespace

std::string json_text(const OrderedJson& value) {
  std::string text;
  append(text, value, 0);
  return text + '\n';
}

}  // namespace haftwright::files
