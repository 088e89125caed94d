// Long drawing on the command line: how far it is, and Ctrl+C.
#pragma once

#include <chrono>
#include <cstdint>
#include <stop_token>

#include "haftwright/alignment/draws.hpp"

namespace haftwright::command {

/// While it lives, Ctrl+C asks the drawing to stop, and drawing that takes long says on stderr how far it is:
/// on a terminal each second in one line, else a line every half minute.
class DrawingProgress {
 public:
  DrawingProgress();
  ~DrawingProgress();
  DrawingProgress(const DrawingProgress&) = delete;
  DrawingProgress& operator=(const DrawingProgress&) = delete;

  /// `settings` that tell this of their progress and stop when it says so.
  DrawSettings watched(DrawSettings settings);

 private:
  using Clock = std::chrono::steady_clock;
  void at(std::uint64_t drawn);

  std::stop_source stop_;
  void (*handler_before_)(int);
  bool terminal_;
  bool shown_ = false;
  Clock::time_point shown_at_ = Clock::now();
  std::uint64_t before_ = 0;  ///< of the chains drawn already
  std::uint64_t drawn_ = 0;   ///< of this one
};

/// Ends the program as Ctrl+C does when nobody catches it, so that a shell's loop ends too.
[[noreturn]] void end_by_interrupt();

}  // namespace haftwright::command
