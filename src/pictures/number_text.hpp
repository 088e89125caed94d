// Numbers in the files that are written as text.
#pragma once

#include <charconv>
#include <string>

namespace haftwright::pictures {

/// The shortest decimal text, never with an exponent.
inline std::string number(double value) {
  char text[64];
  const auto end = std::to_chars(text, text + sizeof text, value + 0.0, std::chars_format::fixed);
  return {text, end.ptr};
}

}  // namespace haftwright::pictures
