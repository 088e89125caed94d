#include "haftwright/design/schema.hpp"

#include <cmath>
#include <cstdint>

namespace haftwright::schema {
std::int32_t take_character(std::string_view& text) {
  const auto byte = [&](std::size_t i) { return static_cast<unsigned char>(text[i]); };
  const unsigned char first = byte(0);
  const std::size_t length = first < 0x80 ? 1 : first < 0xC2 ? 0 : first < 0xE0 ? 2 : first < 0xF0 ? 3 : 4;
  if (length == 0 || first > 0xF4 || text.size() < length) return -1;
  std::int32_t point = length == 1 ? first : first & (0x7F >> length);
  for (std::size_t i = 1; i < length; ++i) {
    if ((byte(i) & 0xC0) != 0x80) return -1;
    point = (point << 6) | (byte(i) & 0x3F);
  }
  const bool overlong = (length == 3 && point < 0x800) || (length == 4 && point < 0x10000);
  const bool surrogate = point >= 0xD800 && point <= 0xDFFF;
  if (overlong || surrogate || point > 0x10FFFF) return -1;
  text.remove_prefix(length);
  return point;
}

std::string range_text(const Quantity& quantity) {
  std::string text = quantity.above_least ? "more than " : "from ";
  text += shortest_number(quantity.least);
  text += quantity.above_least ? " and at most " : " to ";
  text += shortest_number(quantity.most);
  if (!quantity.unit.empty()) text.append(" ").append(quantity.unit);
  return text;
}

std::string range_problem(const Quantity& quantity, double value) {
  const bool reaches = quantity.above_least ? value > quantity.least : value >= quantity.least;
  if (std::isfinite(value) && reaches && value <= quantity.most) return {};
  const std::string found = std::isfinite(value) ? "is " + shortest_number(value) : "is not a finite number";
  return "must be " + range_text(quantity) + ", but " + found;
}

std::string range_text(const Whole& range) {
  return "from " + std::to_string(range.least) + " to " + std::to_string(range.most);
}

std::string whole_problem(const Whole& range, int value) {
  if (value >= range.least && value <= range.most) return {};
  return "must be a whole number " + range_text(range) + ", but is " + std::to_string(value);
}

std::string count_problem(const Count& count, std::size_t size) {
  if (size >= count.least && size <= count.most) return {};
  return "must have " + std::to_string(count.least) + " to " + std::to_string(count.most) +
         " entries, but has " + std::to_string(size);
}

Lines lines_of(std::string_view key) {
  return key == "note" || key == "density_source" ? Lines::many : Lines::one;
}

std::string text_problem(std::string_view text, Lines lines) {
  if (text.size() > limits::kTextBytes)
    return "is too long: at most " + std::to_string(limits::kTextBytes) + " bytes";
  while (!text.empty()) {
    const std::int32_t point = take_character(text);
    if (point < 0) return "is not UTF-8 text";
    if (point == '\n' && lines == Lines::one) return "must stand in one line";
    const bool control = point < 0x20 || (point >= 0x7F && point <= 0x9F);
    if (control && point != '\t' && point != '\n')
      return "holds a control character; only tabs and line ends may be in a text";
  }
  return {};
}

std::string shortened(const std::string& text) {
  constexpr std::size_t kShownBytes = 40;
  if (text.size() <= kShownBytes) return text;
  std::size_t end = kShownBytes;
  while (end > 0 && (static_cast<unsigned char>(text[end]) & 0xC0) == 0x80) --end;
  return text.substr(0, end) + "...";
}

std::string quoted(const std::string& text) {
  return '"' + shortened(text) + '"';
}

std::string did_you_mean(const std::string& nearest) {
  return nearest.empty() ? "" : "; did you mean \"" + nearest + "\"?";
}

}  // namespace haftwright::schema
