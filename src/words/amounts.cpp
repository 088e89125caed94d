#include "haftwright/words/words.hpp"

namespace haftwright {
namespace {

constexpr int kInchDecimals = 4;

std::string inches(double mm) {
  return format_number(mm / kMmPerInch, kInchDecimals) + " in";
}

}  // namespace

std::string fine_length(double mm, LengthUnit shown, int mm_decimals) {
  return shown == LengthUnit::millimetre ? format_number(mm, mm_decimals) + " mm" : inches(mm);
}

std::string length_in_both(double mm, LengthUnit shown) {
  const std::string metric = fine_length(mm, LengthUnit::millimetre);
  return shown == LengthUnit::millimetre ? metric + " (" + inches(mm) + ")"
                                         : inches(mm) + " (" + metric + ")";
}

std::string percent_words(double share) {
  constexpr double kWhole = 0.0995;  // from here on, what tenths of a per cent would say is noise
  return format_number(share * 100, share < kWhole ? 1 : 0) + " %";
}

std::string amount_words(double value, FigureUnit unit, LengthUnit shown, int mm_decimals) {
  switch (unit) {
    case FigureUnit::millimetre:
      return fine_length(value, shown, mm_decimals);
    case FigureUnit::degree:
      return format_number(value, 2) + " deg";
    case FigureUnit::count:
      return format_number(value, 0);
    case FigureUnit::share:
      return percent_words(value);
  }
  return {};
}

std::string basis_words(double ShopRules::*rule) {
  const RuleRow& row = rule_row(rule);
  std::string words;
  words.reserve(row.basis.size() + row.key.size() + 13);
  return words.append(row.basis).append(" (shop rule ").append(row.key).append(")");
}

}  // namespace haftwright
