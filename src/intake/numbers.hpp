// Numbers as both kinds of file write them: a point for decimals, whatever the locale.
#pragma once

#include <charconv>
#include <cmath>
#include <optional>
#include <string>
#include <string_view>

namespace haftwright::intake {

inline bool is_blank(char c) {
  return c == ' ' || c == '\t' || c == '\r' || c == '\n' || c == '\f';
}

inline std::string_view trimmed(std::string_view text) {
  while (!text.empty() && is_blank(text.front())) text.remove_prefix(1);
  while (!text.empty() && is_blank(text.back())) text.remove_suffix(1);
  return text;
}

inline bool is_digit(char c) {
  return c >= '0' && c <= '9';
}

/// Takes a number off the front of `text`: "-1.5e3", ".5", "+2". None, and nothing taken, where there is none
/// or it is too large for a number.
inline std::optional<double> take_number(std::string_view& text) {
  std::string_view rest = text;
  if (!rest.empty() && rest.front() == '+') rest.remove_prefix(1);
  const std::string_view digits = rest.substr(rest.starts_with('-') && rest.size() == text.size() ? 1 : 0);
  // Words such as "inf" and "nan" are numbers to from_chars.
  if (digits.empty() || !(is_digit(digits.front()) || digits.front() == '.')) return {};
  double value = 0;
  const auto read = std::from_chars(rest.data(), rest.data() + rest.size(), value);
  if (read.ec != std::errc() || !std::isfinite(value)) return {};
  text = rest.substr(static_cast<std::size_t>(read.ptr - rest.data()));
  return value;
}

/// The whole text as a number, blanks round it aside.
inline std::optional<double> number_of(std::string_view text) {
  text = trimmed(text);
  const auto value = take_number(text);
  return text.empty() ? value : std::nullopt;
}

/// With three decimals, for messages.
inline std::string short_number(double value) {
  char text[64];
  const auto written = std::to_chars(text, text + sizeof text, value, std::chars_format::fixed, 3);
  return written.ec == std::errc() ? std::string(text, written.ptr) : "?";
}

/// ASCII letters in lower case.
inline std::string lower_case(std::string_view text) {
  std::string lower(text);
  for (char& c : lower)
    if (c >= 'A' && c <= 'Z') c = static_cast<char>(c - 'A' + 'a');
  return lower;
}

}  // namespace haftwright::intake
