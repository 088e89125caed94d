// Strings as ISO 10303-21:2002, clause 6.3.3 writes them.
#pragma once

#include <string>
#include <string_view>

namespace haftwright::kernel {

/// What stands between the quotes: printable ASCII as it is, quotes and backslashes doubled, everything else
/// as \X2\ (up to U+FFFF) or \X4\ runs. Bytes that are no UTF-8 become U+FFFD.
std::string step_string(std::string_view utf8);
/// The other way round. Takes \X\, \X2\, \X4\ and \S\ (ISO 8859-1); what it does not know stays as it is.
std::string text_of_step_string(std::string_view encoded);

}  // namespace haftwright::kernel
