// Lengths as people type and read them. Inside, a length is always a double in millimetres.
#pragma once

#include <string>
#include <string_view>

namespace haftwright {

enum class LengthUnit { millimetre, inch, inch_fraction };

inline constexpr double kMmPerInch = 25.4;  // exact by definition

/// Reads "3.2", "3.2 mm", "0.125\"", "1/8 in", "1 3/16 in", "-2 mm"; "0,5 mm" is refused with a hint. A bare
/// number or fraction is in `unit_of_bare_number`, the project's unit; where that is the millimetre, a bare
/// fraction is refused. The one rule for files, command line and window. Throws std::invalid_argument with a
/// sentence that says what would be right.
double parse_length_mm(std::string_view text, LengthUnit unit_of_bare_number);

/// "3.18 mm", "0.1250 in", "1/8 in"; fractional display rounds to 1/64 in and marks an inexact one with "~".
/// Never depends on the locale.
std::string format_length(double mm, LengthUnit unit);
/// The same without the unit's name, with a fixed number of decimals for mm and decimal inches.
std::string format_number(double value, int decimals);
/// The shortest decimal text that reads back as exactly this number: "0.1", "3.175".
std::string shortest_number(double value);

}  // namespace haftwright
