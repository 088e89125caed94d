// Where in a file a visitor of its fields is.
#pragma once

#include <cstddef>
#include <string>
#include <string_view>

namespace haftwright::schema {

/// Where in the file a visitor is: "sides.left.joints[0].slant_deg".
class FieldPath {
 public:
  const std::string& text() const { return text_; }

  /// Runs `inside` one step further in.
  template <class Inside>
  void within(std::string_view key, Inside&& inside) {
    const std::size_t before = text_.size();
    if (before > 0) text_ += '.';
    text_ += key;
    inside();
    text_.resize(before);
  }
  template <class Inside>
  void within(std::size_t index, Inside&& inside) {
    const std::size_t before = text_.size();
    text_.append("[").append(std::to_string(index)).append("]");
    inside();
    text_.resize(before);
  }

 private:
  std::string text_;
};

/// "tang.holes[2]", or "tang.holes[2].name".
inline std::string indexed(std::string list, std::size_t index, std::string_view key = {}) {
  list.append("[").append(std::to_string(index)).append("]");
  if (!key.empty()) list.append(".").append(key);
  return list;
}

}  // namespace haftwright::schema
