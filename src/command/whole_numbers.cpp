#include "whole_numbers.hpp"

#include <charconv>
#include <string>

namespace haftwright::command {
namespace {

constexpr std::size_t kMostDigits = 20;  // of 2^64

bool all_digits(std::string_view text) {
  return text.find_first_not_of("0123456789") == std::string_view::npos;
}

template <class Number>
std::optional<Number> digits(std::string_view text) {
  Number number = 0;
  const auto [end, error] = std::from_chars(text.data(), text.data() + text.size(), number);
  if (error != std::errc{} || end != text.data() + text.size()) return std::nullopt;
  return number;
}

}  // namespace

std::optional<std::uint64_t> whole_number(std::string_view text) {
  const std::size_t e = text.find_first_of("eE");
  const std::string_view mantissa = text.substr(0, e);
  const std::size_t dot = mantissa.find('.');
  std::string whole(mantissa.substr(0, dot));
  const std::string_view fraction =
      dot == std::string_view::npos ? std::string_view{} : mantissa.substr(dot + 1);
  if (whole.empty() || !all_digits(whole) || !all_digits(fraction)) return std::nullopt;
  if (dot != std::string_view::npos && fraction.empty()) return std::nullopt;
  std::size_t zeros = 0;
  if (e != std::string_view::npos) {
    std::string_view power = text.substr(e + 1);
    if (power.starts_with('+')) power.remove_prefix(1);
    const auto read = all_digits(power) ? digits<std::size_t>(power) : std::nullopt;
    if (!read || *read > kMostDigits) return std::nullopt;
    zeros = *read;
  }
  // The point goes back by as many places; what is left behind it must be nothing.
  whole += fraction.substr(0, zeros);
  if (fraction.size() < zeros)
    whole.append(zeros - fraction.size(), '0');
  else if (fraction.substr(zeros).find_first_not_of('0') != std::string_view::npos)
    return std::nullopt;
  return digits<std::uint64_t>(whole);
}

}  // namespace haftwright::command
