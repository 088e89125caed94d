// What an edit gives: a new Design, or the reason why there is none.
#pragma once

#include <optional>
#include <string>
#include <utility>

#include "haftwright/design/design.hpp"

namespace haftwright {

/// A value: either the edited Design or a refusal in a maker's words. An edit only refuses what makes no
/// sense as an edit ("a side keeps at least one piece"); whether the numbers are good is asked afterwards, of
/// validate() and lay_out().
class Edited {
 public:
  Edited(Design design) : design_(std::move(design)) {}
  static Edited refused(std::string why) {
    Edited edit;
    edit.refusal_ = std::move(why);
    return edit;
  }

  explicit operator bool() const { return design_.has_value(); }
  const Design& operator*() const { return *design_; }
  const Design* operator->() const { return &*design_; }
  /// Empty when there is a Design.
  const std::string& refusal() const { return refusal_; }

 private:
  Edited() = default;

  std::optional<Design> design_;
  std::string refusal_;
};

}  // namespace haftwright
