// The one place where words leave for a terminal.
#pragma once

#include <string>
#include <string_view>

namespace haftwright::command {

/// A text as a terminal may have it: what could steer the terminal or turn the direction of reading (control
/// characters of both sets, line and paragraph separators, marks of direction) is written as "\u001b", as
/// JSON writes it; a byte that is no UTF-8 as "\xff". Tabs and line feeds stay.
std::string for_terminal(std::string_view text);

/// To standard output, as for_terminal has it. Throws OutputError when it can't be written.
void print(std::string_view text);

/// One line on standard error, "haftwright: " before it; line feeds are written as "\u000a", and what is
/// longer than a message ever is, is cut.
void complain(std::string_view text);

}  // namespace haftwright::command
