// How text reports are laid out: columns, wrapped paragraphs, small lengths.
#pragma once

#include <cstddef>
#include <string>

#include "haftwright/design/units.hpp"

namespace haftwright::command {

std::string padded(std::string text, std::size_t width);
std::string right_aligned(std::string text, std::size_t width);
/// Breaks a paragraph into lines of at most `width` characters, each behind `indent`.
std::string wrapped(const std::string& text, const std::string& indent, std::size_t width = 96);

}  // namespace haftwright::command
