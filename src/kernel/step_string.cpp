#include "step_string.hpp"

#include <array>
#include <charconv>
#include <cstddef>
#include <cstdint>
#include <optional>

namespace haftwright::kernel {

namespace {

constexpr char32_t kReplacement = 0xFFFD;

struct Decoded {
  char32_t code = kReplacement;
  std::size_t bytes = 1;
};

/// The code point at the start of `text`, which is not empty; kReplacement and one byte for what is no UTF-8.
Decoded first_code_point(std::string_view text) {
  const auto byte = [&](std::size_t i) { return static_cast<std::uint8_t>(text[i]); };
  if (byte(0) < 0x80) return {byte(0), 1};
  const std::size_t length = byte(0) >= 0xF0 ? 4 : byte(0) >= 0xE0 ? 3 : 2;
  if (byte(0) < 0xC2 || byte(0) > 0xF4 || text.size() < length) return {};
  char32_t code = byte(0) & (0x7Fu >> length);
  for (std::size_t i = 1; i < length; ++i) {
    if ((byte(i) & 0xC0) != 0x80) return {};
    code = (code << 6) | (byte(i) & 0x3Fu);
  }
  constexpr std::array<char32_t, 5> kLeast{0, 0, 0x80, 0x800, 0x10000};
  const bool surrogate = code >= 0xD800 && code <= 0xDFFF;
  if (code < kLeast[length] || code > 0x10FFFF || surrogate) return {};
  return {code, length};
}

void append_utf8(std::string& text, char32_t code) {
  const auto add = [&](char32_t byte) { text += static_cast<char>(static_cast<std::uint8_t>(byte)); };
  if (code < 0x80) {
    add(code);
  } else if (code < 0x800) {
    add(0xC0 | (code >> 6));
    add(0x80 | (code & 0x3F));
  } else if (code < 0x10000) {
    add(0xE0 | (code >> 12));
    add(0x80 | ((code >> 6) & 0x3F));
    add(0x80 | (code & 0x3F));
  } else {
    add(0xF0 | (code >> 18));
    add(0x80 | ((code >> 12) & 0x3F));
    add(0x80 | ((code >> 6) & 0x3F));
    add(0x80 | (code & 0x3F));
  }
}

void append_hex(std::string& text, char32_t code, int digits) {
  constexpr std::string_view kDigits = "0123456789ABCDEF";
  for (int shift = 4 * (digits - 1); shift >= 0; shift -= 4) text += kDigits[(code >> shift) & 0xF];
}

std::optional<char32_t> hex_code(std::string_view digits) {
  std::uint32_t code = 0;
  const auto end = digits.data() + digits.size();
  const auto read = std::from_chars(digits.data(), end, code, 16);
  if (read.ec != std::errc{} || read.ptr != end) return std::nullopt;
  return code;
}

/// Decodes a run "hhhh...\X0\" of codes `digits` long; gives what it took of `rest`, 0 when it is no such
/// run.
std::size_t take_run(std::string_view rest, std::size_t digits, std::string& text) {
  constexpr std::string_view kEnd = "\\X0\\";
  const std::size_t end = rest.find(kEnd);
  if (end == std::string_view::npos || end % digits != 0) return 0;
  std::string run;
  for (std::size_t i = 0; i < end; i += digits) {
    const auto code = hex_code(rest.substr(i, digits));
    if (!code) return 0;
    append_utf8(run, *code);
  }
  text += run;
  return end + kEnd.size();
}

/// Decodes the directive that `rest` begins with; gives what it took, 0 when it is none.
std::size_t take_directive(std::string_view rest, std::string& text) {
  if (rest.starts_with("\\X2\\") || rest.starts_with("\\X4\\")) {
    const std::size_t taken = take_run(rest.substr(4), rest[2] == '2' ? 4 : 8, text);
    return taken == 0 ? 0 : taken + 4;
  }
  if (rest.starts_with("\\X\\") && rest.size() >= 5) {
    const auto code = hex_code(rest.substr(3, 2));
    if (code) append_utf8(text, *code);
    return code ? 5 : 0;
  }
  if (rest.starts_with("\\S\\") && rest.size() >= 4) {
    append_utf8(text, static_cast<std::uint8_t>(rest[3]) | 0x80u);
    return 4;
  }
  return 0;
}

}  // namespace

std::string step_string(std::string_view utf8) {
  std::string text;
  int open_digits = 0;  // of the \X2\ or \X4\ run being written, 0 outside one
  const auto switch_to = [&](int digits) {
    if (digits == open_digits) return;
    if (open_digits != 0) text += "\\X0\\";
    if (digits != 0) text += digits == 4 ? "\\X2\\" : "\\X4\\";
    open_digits = digits;
  };
  while (!utf8.empty()) {
    const auto [code, bytes] = first_code_point(utf8);
    utf8.remove_prefix(bytes);
    if (code >= 0x20 && code < 0x7F) {
      switch_to(0);
      text += static_cast<char>(code);
      if (code == '\'' || code == '\\') text += static_cast<char>(code);
    } else {
      switch_to(code > 0xFFFF ? 8 : 4);
      append_hex(text, code, open_digits);
    }
  }
  switch_to(0);
  return text;
}

std::string text_of_step_string(std::string_view encoded) {
  std::string text;
  while (!encoded.empty()) {
    if (encoded.starts_with("''") || encoded.starts_with("\\\\")) {
      text += encoded[0];
      encoded.remove_prefix(2);
    } else if (const std::size_t taken = take_directive(encoded, text); taken > 0) {
      encoded.remove_prefix(taken);
    } else {
      text += encoded[0];
      encoded.remove_prefix(1);
    }
  }
  return text;
}

}  // namespace haftwright::kernel
