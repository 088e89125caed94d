#include "part21.hpp"

#include <algorithm>
#include <charconv>
#include <cmath>
#include <cstdint>

namespace haftwright::test::part21 {

namespace {

bool is_upper(char c) {
  return (c >= 'A' && c <= 'Z') || c == '_';
}
bool is_digit(char c) {
  return c >= '0' && c <= '9';
}

class Parser {
 public:
  explicit Parser(std::string_view text) : text_(text) {
    for (const char c : text) {
      const bool line_end = c == '\n' || c == '\r';
      if (!line_end && (c < 0x20 || c > 0x7E)) fail("a byte that is not printable ASCII");
      if (c == '\n') ++line_;
    }
    line_ = 1;
  }

  File file() {
    File file;
    expect("ISO-10303-21;");
    expect("HEADER;");
    while (!take("ENDSEC;")) {
      file.header.push_back(record());
      expect(";");
    }
    expect("DATA;");
    while (!take("ENDSEC;")) {
      expect("#");
      const long id = integer();
      expect("=");
      if (!file.data.emplace(id, instance()).second) fail("#" + std::to_string(id) + " stands twice");
      expect(";");
    }
    expect("END-ISO-10303-21;");
    skip_space();
    if (at_ != text_.size()) fail("text behind the end");
    return file;
  }

 private:
  [[noreturn]] void fail(const std::string& what) const {
    throw SyntaxError("line " + std::to_string(line_) + ": " + what);
  }
  char peek() const { return at_ < text_.size() ? text_[at_] : '\0'; }
  void advance(std::size_t by = 1) {
    for (; by > 0; --by) {
      if (peek() == '\n') ++line_;
      ++at_;
    }
  }
  void skip_space() {
    for (;;) {
      if (peek() == ' ' || peek() == '\n' || peek() == '\r') {
        advance();
      } else if (text_.substr(at_).starts_with("/*")) {
        const auto end = text_.find("*/", at_ + 2);
        if (end == std::string_view::npos) fail("a comment without end");
        advance(end + 2 - at_);
      } else {
        return;
      }
    }
  }
  bool take(std::string_view token) {
    skip_space();
    if (!text_.substr(at_).starts_with(token)) return false;
    advance(token.size());
    return true;
  }
  void expect(std::string_view token) {
    if (!take(token)) fail("expected " + std::string(token));
  }

  long integer() {
    skip_space();
    long value = 0;
    const auto read = std::from_chars(text_.data() + at_, text_.data() + text_.size(), value);
    if (read.ec != std::errc{} || !is_digit(peek())) fail("expected a number");
    advance(static_cast<std::size_t>(read.ptr - (text_.data() + at_)));
    return value;
  }

  std::string keyword() {
    skip_space();
    std::string word;
    while (is_upper(peek()) || (!word.empty() && is_digit(peek()))) {
      word += peek();
      advance();
    }
    if (word.empty()) fail("expected a keyword");
    return word;
  }

  Record record() {
    Record result{keyword(), {}};
    result.parameters = list();
    return result;
  }

  Instance instance() {
    if (!take("(")) return {record()};
    Instance parts;
    while (!take(")")) parts.push_back(record());
    if (parts.empty()) fail("an instance of nothing");
    return parts;
  }

  std::vector<Value> list() {
    expect("(");
    std::vector<Value> items;
    if (take(")")) return items;
    do items.push_back(value());
    while (take(","));
    expect(")");
    return items;
  }

  Value value() {
    skip_space();
    Value result;
    switch (peek()) {
      case '$':
        advance();
        result.kind = Value::Kind::omitted;
        return result;
      case '*':
        advance();
        result.kind = Value::Kind::derived;
        return result;
      case '#':
        advance();
        result.kind = Value::Kind::reference;
        result.reference = integer();
        return result;
      case '(':
        result.kind = Value::Kind::list;
        result.items = list();
        return result;
      case '\'':
        return text_value();
      case '.':
        return enumeration();
      default:
        return is_upper(peek()) ? typed() : number();
    }
  }

  Value typed() {
    Value result;
    result.kind = Value::Kind::typed;
    result.text = keyword();
    result.items = list();
    return result;
  }

  Value enumeration() {
    Value result;
    result.kind = Value::Kind::enumeration;
    advance();
    result.text = keyword();
    if (peek() != '.') fail("an enumeration without its second dot");
    advance();
    return result;
  }

  Value text_value() {
    Value result;
    result.kind = Value::Kind::text;
    advance();
    for (;;) {
      if (at_ >= text_.size()) fail("a string without end");
      if (text_.substr(at_).starts_with("''")) {
        result.text += "''";
        advance(2);
        continue;
      }
      const char c = peek();
      advance();
      if (c == '\'') break;
      if (c != '\n' && c != '\r') result.text += c;  // a line end inside a string is no part of it
    }
    decoded(result.text);  // throws on malformed directives
    return result;
  }

  /// An integer is a sign and digits; a real has a dot after at least one digit, and may have an exponent.
  Value number() {
    const std::size_t from = at_;
    Value result;
    result.kind = Value::Kind::integer;
    if (peek() == '+' || peek() == '-') advance();
    if (!is_digit(peek())) fail("expected a value");
    while (is_digit(peek())) advance();
    if (peek() == '.') {
      result.kind = Value::Kind::real;
      advance();
      while (is_digit(peek())) advance();
      if (peek() == 'E') {
        advance();
        if (peek() == '+' || peek() == '-') advance();
        if (!is_digit(peek())) fail("an exponent without digits");
        while (is_digit(peek())) advance();
      }
    }
    const char* begin = text_.data() + from + (text_[from] == '+' ? 1 : 0);
    const auto read = std::from_chars(begin, text_.data() + at_, result.number);
    if (read.ec != std::errc{} || read.ptr != text_.data() + at_) fail("a number out of range");
    return result;
  }

  std::string_view text_;
  std::size_t at_ = 0;
  long line_ = 1;
};

void check_references(const File& file, const std::vector<Value>& values) {
  for (const Value& value : values) {
    if (value.kind == Value::Kind::reference && !file.data.contains(value.reference)) {
      throw SyntaxError("#" + std::to_string(value.reference) + " is used but does not stand in the file");
    }
    check_references(file, value.items);
  }
}

void check_header(const File& file) {
  constexpr std::string_view kWanted[] = {"FILE_DESCRIPTION", "FILE_NAME", "FILE_SCHEMA"};
  constexpr std::size_t kParameters[] = {2, 7, 1};
  if (file.header.size() != 3) throw SyntaxError("the header has not three records");
  for (std::size_t i = 0; i < 3; ++i) {
    if (file.header[i].keyword != kWanted[i] || file.header[i].parameters.size() != kParameters[i]) {
      throw SyntaxError("the header lacks " + std::string(kWanted[i]));
    }
  }
  if (file.header[0].parameters[1].text != "2;1") throw SyntaxError("not implementation level 2;1");
}

}  // namespace

const Record& File::record(long id, std::string_view keyword) const {
  const auto found = data.find(id);
  if (found != data.end()) {
    for (const Record& record : found->second) {
      if (record.keyword == keyword) return record;
    }
  }
  throw SyntaxError("#" + std::to_string(id) + " is no " + std::string(keyword));
}

std::vector<long> File::all(std::string_view keyword) const {
  std::vector<long> ids;
  for (const auto& [id, instance] : data) {
    const auto is_it = [&](const Record& record) { return record.keyword == keyword; };
    if (std::any_of(instance.begin(), instance.end(), is_it)) ids.push_back(id);
  }
  return ids;
}

File parse(std::string_view text) {
  File file = Parser(text).file();
  check_header(file);
  for (const auto& [id, instance] : file.data) {
    for (const Record& record : instance) check_references(file, record.parameters);
  }
  return file;
}

std::string decoded(std::string_view encoded) {
  const auto fail = [&] { throw SyntaxError("malformed string '" + std::string(encoded) + "'"); };
  const auto add = [](std::string& text, std::uint32_t code) {
    const auto byte = [&](std::uint32_t value) { text += static_cast<char>(value); };
    if (code > 0xFFFF) {
      byte(0xF0 | (code >> 18));
      byte(0x80 | ((code >> 12) & 0x3F));
    } else if (code > 0x7FF) {
      byte(0xE0 | (code >> 12));
    }
    if (code > 0x7FF) byte(0x80 | ((code >> 6) & 0x3F));
    if (code > 0x7F && code <= 0x7FF) byte(0xC0 | (code >> 6));
    byte(code > 0x7F ? 0x80 | (code & 0x3F) : code);
  };
  std::string text;
  for (std::size_t i = 0; i < encoded.size(); ++i) {
    const char c = encoded[i];
    if (c == '\'' || (c == '\\' && encoded.substr(i).starts_with("\\\\"))) {
      text += c;
      if (++i >= encoded.size() || encoded[i] != c) fail();
      continue;
    }
    if (c != '\\') {
      text += c;
      continue;
    }
    const std::size_t digits = encoded.substr(i).starts_with("\\X2\\") ? 4 : 8;
    if (digits == 8 && !encoded.substr(i).starts_with("\\X4\\")) fail();
    const std::size_t end = encoded.find("\\X0\\", i + 4);
    if (end == std::string_view::npos || end == i + 4 || (end - i - 4) % digits != 0) fail();
    for (std::size_t j = i + 4; j < end; j += digits) {
      std::uint32_t code = 0;
      const char* last = encoded.data() + j + digits;
      if (std::from_chars(encoded.data() + j, last, code, 16).ptr != last) fail();
      add(text, code);
    }
    i = end + 3;
  }
  return text;
}

std::string schema(const File& file) {
  const Value& schemas = file.header[2].parameters[0];
  if (schemas.items.size() != 1) throw SyntaxError("not one schema");
  return schemas.items[0].text;
}

}  // namespace haftwright::test::part21
