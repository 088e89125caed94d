// Long sampling on the command line: how far it is, and Ctrl+C.
#pragma once

#include <chrono>
#include <cstdint>
#include <stop_token>

#include "haftwright/tolerance/sampling.hpp"

namespace haftwright::command {

/// While it lives, Ctrl+C asks the sampling to stop, and sampling that takes long says on stderr how far it
/// is: on a terminal each second in one line, else a line every half minute.
class SamplingProgress {
 public:
  SamplingProgress();
  ~SamplingProgress();
  SamplingProgress(const SamplingProgress&) = delete;
  SamplingProgress& operator=(const SamplingProgress&) = delete;

  /// `settings` that tell this of their progress and stop when it says so.
  SampleSettings watched(SampleSettings settings);

 private:
  using Clock = std::chrono::steady_clock;
  void at(std::uint64_t sampled);

  std::stop_source stop_;
  void (*handler_before_)(int);
  bool terminal_;
  bool shown_ = false;
  Clock::time_point shown_at_ = Clock::now();
  std::uint64_t before_ = 0;   ///< of the stacks sampled already
  std::uint64_t sampled_ = 0;  ///< of this one
};

/// Ends the program as Ctrl+C does when nobody catches it, so that a shell's loop ends too.
[[noreturn]] void end_by_interrupt();

}  // namespace haftwright::command
