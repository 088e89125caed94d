// The line-up's answers, as the fold view and its panel show them.
#pragma once

#include <cstddef>
#include <memory>

#include "ui.hpp"

namespace haftwright::app {

/// The answers that there are, maybe of an older design while a newer one is computed.
struct LineUpShown {
  std::shared_ptr<const LineUpAnswer> now;    ///< the chosen way at least; null before the first
  std::shared_ptr<const LineUpAnswer> whole;  ///< everything; null before the first
  bool settled = false;                       ///< `whole` is of the design that is shown
};
/// Asks for the design that is shown; to be called on every frame that shows an answer.
LineUpShown ask_line_up(const Ui& ui);

/// How the views' pointer calls the end of a joint that was picked.
FindingKey end_key(const LineUp& line_up, std::size_t measure);

}  // namespace haftwright::app
