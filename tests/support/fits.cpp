#include "support/fits.hpp"

#include <array>
#include <charconv>
#include <cstddef>
#include <stdexcept>
#include <string>

namespace haftwright::test {
namespace {

// ISO 286-1:2010, standard not read: each table from two secondary copies that agree. A size on the edge of a
// range belongs to the lower range ("over 3 up to and including 6").
constexpr std::array<double, 5> kRangeEnds_mm = {3, 6, 10, 18, 30};
using ByRange = std::array<double, 5>;

/// ISO 286-1:2010 Table 1, standard tolerances IT5 to IT11, micrometres.
constexpr int kFirstGrade = 5;
constexpr std::array<ByRange, 7> kGrades_um = {{
    {4, 5, 6, 8, 9},
    {6, 8, 9, 11, 13},
    {10, 12, 15, 18, 21},
    {14, 18, 22, 27, 33},
    {25, 30, 36, 43, 52},
    {40, 48, 58, 70, 84},
    {60, 75, 90, 110, 130},
}};

/// ISO 286-1:2010, fundamental deviations: upper deviation es of shafts d to h, all grades. Holes D to H are
/// their mirror image: EI = -es.
struct LetterRow {
  char letter;
  ByRange deviation_um;
};
constexpr std::array<LetterRow, 5> kShaftUpper = {{
    {'d', {-20, -30, -40, -50, -65}},
    {'e', {-14, -20, -25, -32, -40}},
    {'f', {-6, -10, -13, -16, -20}},
    {'g', {-2, -4, -5, -6, -7}},
    {'h', {0, 0, 0, 0, 0}},
}};

/// ISO 286-1:2010, fundamental deviations: lower deviation ei of shafts k to p. k holds up to IT7 only.
constexpr int kLastGradeOfK = 7;
constexpr std::array<LetterRow, 4> kShaftLower = {{
    {'k', {0, 1, 1, 1, 2}},
    {'m', {2, 4, 6, 7, 8}},
    {'n', {4, 8, 10, 12, 15}},
    {'p', {6, 12, 15, 18, 22}},
}};

std::size_t range_of(double nominal_mm) {
  if (nominal_mm > 0)
    for (std::size_t i = 0; i < kRangeEnds_mm.size(); ++i)
      if (nominal_mm <= kRangeEnds_mm[i]) return i;
  throw std::invalid_argument("the table of limits and fits covers sizes over 0 and up to 30 mm");
}

template <std::size_t N>
const LetterRow* find_letter(const std::array<LetterRow, N>& rows, char letter) {
  for (const auto& row : rows)
    if (row.letter == letter) return &row;
  return nullptr;
}

int grade_of(std::string_view tolerance_class) {
  int grade = 0;
  const auto digits = tolerance_class.substr(tolerance_class.empty() ? 0 : 1);
  const auto [rest, error] = std::from_chars(digits.data(), digits.data() + digits.size(), grade);
  if (error != std::errc{} || rest != digits.data() + digits.size())
    throw std::invalid_argument(
        "\"" + std::string(tolerance_class) +
        "\" is not a tolerance class; write one letter and a grade, such as H7 or g6");
  return grade;
}

}  // namespace

double standard_tolerance_um(int grade, double nominal_mm) {
  const int row = grade - kFirstGrade;
  if (row < 0 || row >= static_cast<int>(kGrades_um.size()))
    throw std::invalid_argument("the table of limits and fits holds grades 5 to 11, not " +
                                std::to_string(grade));
  return kGrades_um[static_cast<std::size_t>(row)][range_of(nominal_mm)];
}

LimitDeviations limit_deviations(std::string_view tolerance_class, double nominal_mm) {
  const int grade = grade_of(tolerance_class);
  const double width = standard_tolerance_um(grade, nominal_mm);
  const std::size_t range = range_of(nominal_mm);
  const char letter = tolerance_class.front();
  if (const auto* shaft = find_letter(kShaftUpper, letter)) {
    const double upper = shaft->deviation_um[range];
    return {upper - width, upper};
  }
  const bool is_hole = letter >= 'D' && letter <= 'H';
  if (is_hole) {
    const double lower =
        0 - find_letter(kShaftUpper, static_cast<char>(letter - 'A' + 'a'))->deviation_um[range];
    return {lower, lower + width};
  }
  if (letter == 'k' && grade > kLastGradeOfK)
    throw std::invalid_argument("the table holds k for grades 5 to 7 only");
  if (const auto* shaft = find_letter(kShaftLower, letter)) {
    const double lower = shaft->deviation_um[range];
    return {lower, lower + width};
  }
  throw std::invalid_argument("the table holds holes D to H and shafts d to h, k, m, n and p, not \"" +
                              std::string(1, letter) + "\"");
}

double floating_fastener_tolerance_mm(double hole_least_mm, double fastener_greatest_mm) {
  return hole_least_mm - fastener_greatest_mm;
}

double fixed_fastener_tolerance_mm(double hole_least_mm, double fastener_greatest_mm) {
  return (hole_least_mm - fastener_greatest_mm) / 2;
}

}  // namespace haftwright::test
