#include <algorithm>
#include <cstdint>
#include <vector>

#include "haftwright/design/quantities.hpp"
#include "haftwright/design/validate.hpp"
#include "json_text.hpp"

namespace haftwright::files {
namespace {

/// "line 3, column 7" of a byte in the text; a column is a character, not a byte.
std::string place_in(std::string_view text, std::size_t byte) {
  const std::string_view before = text.substr(0, byte);
  const auto line = std::count(before.begin(), before.end(), '\n') + 1;
  const std::string_view in_line = before.substr(before.rfind('\n') + 1);  // npos + 1 is 0
  const auto column = std::count_if(in_line.begin(), in_line.end(),
                                    [](char c) { return (static_cast<unsigned char>(c) & 0xC0) != 0x80; }) +
                      1;
  return "line " + std::to_string(line) + ", column " + std::to_string(column);
}

constexpr std::string_view kLastRead = "; last read:";

/// The parser's sentence without its prefix and without the text it has read, which may be all of the file.
std::string parser_sentence(std::string_view what) {
  const std::size_t column = what.find("column ");
  const std::size_t colon = column == what.npos ? what.npos : what.find(": ", column);
  if (colon != what.npos) what.remove_prefix(colon + 2);
  return std::string(what.substr(0, what.find(kLastRead)));
}

/// Builds the value as the parser goes, knowing at each moment which field it is in.
class Builder {
 public:
  using number_integer_t = Json::number_integer_t;
  using number_unsigned_t = Json::number_unsigned_t;
  using number_float_t = Json::number_float_t;
  using string_t = Json::string_t;
  using binary_t = Json::binary_t;

  explicit Builder(std::string_view text) : text_(text) {}

  Json take() { return std::move(root_); }

  bool null() { return put(nullptr) != nullptr; }
  bool boolean(bool value) { return put(value) != nullptr; }
  bool number_integer(number_integer_t value) { return put(value) != nullptr; }
  bool number_unsigned(number_unsigned_t value) { return put(value) != nullptr; }
  bool number_float(number_float_t value, const string_t&) { return put(value) != nullptr; }
  bool string(string_t& value) { return put(std::move(value)) != nullptr; }
  bool binary(binary_t&) { return false; }  // never comes from text

  bool start_object(std::size_t) { return open(Json::object()); }
  bool start_array(std::size_t) { return open(Json::array()); }
  bool end_object() { return close(); }
  bool end_array() { return close(); }

  bool key(string_t& name) {
    key_ = name;
    if (open_.back()->contains(name)) throw InputError(path_to(name), "is given twice");
    return true;
  }

  template <class Error>
  bool parse_error(std::size_t position, const std::string& token, const Error& error) {
    const std::string_view what = error.what();
    // A text or number out of its place is to blame from its beginning, all else at its last character.
    const bool misplaced = what.find("unexpected string literal") != what.npos ||
                           what.find("unexpected number literal") != what.npos;
    const std::size_t blamed = misplaced ? token.size() : 1;
    const bool too_large = error.id == 406;
    throw InputError("", place_in(text_, position - std::min(blamed, position)) + ": " +
                             (too_large ? "the number " + schema::shortened(token) + " is too large"
                                        : "not valid JSON: " + parser_sentence(what)));
  }

 private:
  Json* put(Json value) {
    if (open_.empty()) {
      root_ = std::move(value);
      return &root_;
    }
    Json& inside = *open_.back();
    if (inside.is_array()) {
      inside.push_back(std::move(value));
      return &inside.back();
    }
    keys_.back() = key_;
    return &(inside[key_] = std::move(value));
  }

  bool open(Json value) {
    if (open_.size() == limits::kNesting)
      throw InputError("", "is nested deeper than " + std::to_string(limits::kNesting) + " levels");
    open_.push_back(put(std::move(value)));
    keys_.emplace_back();
    return true;
  }

  bool close() {
    open_.pop_back();
    keys_.pop_back();
    return true;
  }

  std::string path_to(const std::string& name) const {
    const std::string last = schema::shortened(name);
    std::string path;
    for (std::size_t i = 0; i + 1 < open_.size(); ++i) {
      if (open_[i]->is_array()) {
        path += '[' + std::to_string(open_[i]->size() - 1) + ']';
      } else {
        if (!path.empty()) path += '.';
        path += schema::shortened(keys_[i]);
      }
    }
    return path.empty() ? last : path + '.' + last;
  }

  std::string_view text_;
  Json root_;
  std::vector<Json*> open_;        // the last entry of each is the next one, so none of them moves
  std::vector<std::string> keys_;  // of the entry being read, for each open object
  std::string key_;
};

}  // namespace

Json parse_json(std::string_view text) {
  if (text.starts_with("\xEF\xBB\xBF"))
    throw InputError("", "begins with a byte order mark; save it as UTF-8 without one");
  if (text.starts_with("\xFF\xFE") || text.starts_with("\xFE\xFF") ||
      (text.size() > 1 && (text[0] == '\0') != (text[1] == '\0')))
    throw InputError("", "is saved as UTF-16; save it as UTF-8");
  // The parser would take it for the end and never look at what follows.
  if (const std::size_t zero = text.find('\0'); zero != text.npos)
    throw InputError("", place_in(text, zero) + ": holds a zero byte, so it is no text");
  Builder builder(text);
  Json::sax_parse(text, &builder);
  return builder.take();
}

}  // namespace haftwright::files
