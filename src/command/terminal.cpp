#include "terminal.hpp"

#include <array>
#include <cstdint>
#include <cstdio>
#include <iostream>

#include "haftwright/design/quantities.hpp"
#include "haftwright/files/safe_write.hpp"

namespace haftwright::command {
namespace {

constexpr std::size_t kLongestMessage = 2000;

/// Is this character one that acts on the terminal or on the order of what stands beside it?
bool steers(std::int32_t point) {
  const auto within = [point](std::int32_t first, std::int32_t last) {
    return point >= first && point <= last;
  };
  return within(0, 0x1F) || within(0x7F, 0x9F) || point == 0x061C || within(0x200E, 0x200F) ||
         within(0x2028, 0x202E) || within(0x2066, 0x2069) || point == 0xFEFF;
}

std::string escaped(const char* format, unsigned value) {
  std::array<char, 16> text{};
  std::snprintf(text.data(), text.size(), format, value);
  return text.data();
}

std::string escape(std::string_view text, std::string_view kept) {
  std::string out;
  while (!text.empty()) {
    const std::string_view before = text;
    const std::int32_t point = schema::take_character(text);
    if (point < 0) {
      out += escaped("\\x%02x", static_cast<unsigned char>(before.front()));
      text.remove_prefix(1);
    } else if (steers(point) && kept.find(before.front()) == kept.npos) {
      out += escaped("\\u%04x", static_cast<unsigned>(point));
    } else {
      out += before.substr(0, before.size() - text.size());
    }
  }
  return out;
}

}  // namespace

std::string for_terminal(std::string_view text) {
  return escape(text, "\t\n");
}

void print(std::string_view text) {
  std::cout << for_terminal(text) << std::flush;
  if (!std::cout) throw OutputError("standard output: can't be written; is the disk full?");
}

void complain(std::string_view text) {
  const bool cut = text.size() > kLongestMessage;
  std::cerr << "haftwright: " << escape(text.substr(0, kLongestMessage), "") << (cut ? "...\n" : "\n");
}

}  // namespace haftwright::command
