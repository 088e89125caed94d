#include "haftwright/design/units.hpp"

#include <array>
#include <charconv>
#include <cmath>
#include <cstdint>
#include <limits>
#include <numeric>
#include <optional>
#include <stdexcept>

namespace haftwright {
namespace {

constexpr std::string_view kExamples = "write it like 3.2, 3.2 mm, 0.125 in, 1/8 in or 1 3/16 in";
constexpr std::int64_t kShownDenominator = 64;

[[noreturn]] void refuse(std::string_view text, std::string_view why) {
  throw std::invalid_argument("\"" + std::string(text) + "\" is no length: " + std::string(why));
}

bool is_digit(char c) {
  return c >= '0' && c <= '9';
}

void skip_spaces(std::string_view& rest) {
  while (!rest.empty() && (rest.front() == ' ' || rest.front() == '\t')) rest.remove_prefix(1);
}

/// Takes a decimal number without sign or exponent off the front of `rest`.
std::optional<double> take_number(std::string_view& rest) {
  if (rest.empty() || !(is_digit(rest.front()) || rest.front() == '.')) return std::nullopt;
  double value = 0;
  const auto [end, error] =
      std::from_chars(rest.data(), rest.data() + rest.size(), value, std::chars_format::fixed);
  if (error != std::errc{}) return std::nullopt;
  rest.remove_prefix(static_cast<std::size_t>(end - rest.data()));
  return value;
}

struct Amount {
  double value = 0;
  bool fraction = false;
};

/// Takes "/16" off the front of `rest`, the numerator having been read.
double take_denominator(std::string_view text, std::string_view& rest) {
  rest.remove_prefix(1);
  skip_spaces(rest);
  const auto denominator = take_number(rest);
  if (!denominator) refuse(text, "a number must follow the \"/\"");
  if (*denominator == 0) refuse(text, "it divides by 0");
  return *denominator;
}

/// "3.2", "1/8", "1 3/16", "1-3/16".
Amount take_amount(std::string_view text, std::string_view& rest) {
  const auto first = take_number(rest);
  if (!first) refuse(text, std::string("it does not begin with a number; ") + std::string(kExamples));
  std::string_view after = rest;
  skip_spaces(after);
  if (!after.empty() && after.front() == '/') {
    rest = after;
    return {*first / take_denominator(text, rest), true};
  }
  if (!after.empty() && after.front() == '-') after.remove_prefix(1);
  skip_spaces(after);
  if (after.empty() || !is_digit(after.front())) return {*first, false};
  const auto numerator = take_number(after);
  skip_spaces(after);
  if (!numerator || after.empty() || after.front() != '/')
    refuse(text, std::string("two numbers in a row; ") + std::string(kExamples));
  if (*first != std::floor(*first)) refuse(text, "a fraction can only follow a whole number");
  rest = after;
  const double denominator = take_denominator(text, rest);
  return {*first + *numerator / denominator, true};
}

std::optional<double> mm_per(std::string_view unit) {
  if (unit == "mm") return 1.0;
  if (unit == "cm") return 10.0;
  for (const std::string_view inch : {"in", "in.", "inch", "inches", "\"", "\xE2\x80\xB3"})
    if (unit == inch) return kMmPerInch;
  return std::nullopt;
}

std::string_view trimmed(std::string_view text) {
  while (!text.empty() && std::string_view(" \t\r\n").find(text.front()) != text.npos) text.remove_prefix(1);
  while (!text.empty() && std::string_view(" \t\r\n").find(text.back()) != text.npos) text.remove_suffix(1);
  return text;
}

std::string fraction_text(double mm) {
  const double parts = std::abs(mm) / kMmPerInch * static_cast<double>(kShownDenominator);
  // Beyond this no 64th is left in a double; whole inches by the million serve nobody.
  if (!(parts < 1e15)) return format_number(mm / kMmPerInch, 4);
  const std::int64_t rounded = std::llround(parts);
  std::string text = std::abs(parts - static_cast<double>(rounded)) > 1e-6 ? "~" : "";
  if (mm < 0 && rounded > 0) text += '-';
  const std::int64_t whole = rounded / kShownDenominator;
  const std::int64_t rest = rounded % kShownDenominator;
  if (whole > 0 || rest == 0) text += std::to_string(whole);
  if (rest == 0) return text;
  if (whole > 0) text += ' ';
  const std::int64_t common = std::gcd(rest, kShownDenominator);
  return text + std::to_string(rest / common) + '/' + std::to_string(kShownDenominator / common);
}

}  // namespace

double parse_length_mm(std::string_view text, LengthUnit unit_of_bare_number) {
  const std::string_view whole = trimmed(text);
  std::string_view rest = whole;
  if (rest.empty()) refuse(whole, std::string("nothing is there; ") + std::string(kExamples));
  if (rest.find(',') != rest.npos) refuse(whole, "use a point, not a comma, for decimals: 0.5 mm");
  const double sign = rest.front() == '-' ? -1 : 1;
  if (rest.front() == '-' || rest.front() == '+') rest.remove_prefix(1);
  skip_spaces(rest);
  const Amount amount = take_amount(whole, rest);
  skip_spaces(rest);
  const bool metric = unit_of_bare_number == LengthUnit::millimetre;
  double factor = metric ? 1.0 : kMmPerInch;
  if (rest.empty()) {
    // Fractions are nearly always inches, but bare numbers here are not: a guess would be 25 times off.
    if (amount.fraction && metric)
      refuse(whole, "a fraction needs its unit where lengths are in mm; write " + std::string(whole) + " in");
  } else {
    const auto named = mm_per(rest);
    if (!named) refuse(whole, "\"" + std::string(rest) + "\" is no unit known here; use mm, cm, in or \"");
    factor = *named;
  }
  const double mm = sign * amount.value * factor;
  if (!std::isfinite(mm)) refuse(whole, "the number is too large");
  return mm;
}

std::string format_number(double value, int decimals) {
  // 3.175 lies a hair below itself in binary; whoever reads 1/8 in expects it rounded up, to 3.18.
  constexpr double kHair = 2 * std::numeric_limits<double>::epsilon();
  if (std::abs(value) < 1e9) value *= 1 + kHair;
  std::string text(400 + static_cast<std::size_t>(decimals), '\0');
  const auto [end, error] =
      std::to_chars(text.data(), text.data() + text.size(), value, std::chars_format::fixed, decimals);
  text.resize(static_cast<std::size_t>(end - text.data()));
  // "-0.00" would make a reader look for what is negative.
  if (text.starts_with('-') && text.find_first_not_of("-0.") == text.npos) text.erase(0, 1);
  return text;
}

std::string shortest_number(double value) {
  std::array<char, 32> text;
  const auto [end, error] = std::to_chars(text.data(), text.data() + text.size(), value);
  return {text.data(), end};
}

std::string format_length(double mm, LengthUnit unit) {
  switch (unit) {
    case LengthUnit::millimetre:
      return format_number(mm, 2) + " mm";
    case LengthUnit::inch:
      return format_number(mm / kMmPerInch, 4) + " in";
    case LengthUnit::inch_fraction:
      break;
  }
  return fraction_text(mm) + " in";
}

}  // namespace haftwright
