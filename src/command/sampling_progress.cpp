#include "sampling_progress.hpp"

#include <unistd.h>

#include <csignal>
#include <cstdio>
#include <cstdlib>

namespace haftwright::command {
namespace {

constexpr std::chrono::seconds kOnTerminal{1};
constexpr std::chrono::seconds kElsewhere{30};

volatile std::sig_atomic_t interrupted = 0;

void on_interrupt(int) {
  interrupted = 1;
}

}  // namespace

SamplingProgress::SamplingProgress()
    : handler_before_(std::signal(SIGINT, on_interrupt)), terminal_(isatty(STDERR_FILENO) == 1) {
  // Who starts a program with interrupts ignored means it.
  if (handler_before_ == SIG_IGN) std::signal(SIGINT, SIG_IGN);
}

SamplingProgress::~SamplingProgress() {
  if (terminal_ && shown_) std::fputs("\r\033[K", stderr);
  std::signal(SIGINT, handler_before_);
}

SampleSettings SamplingProgress::watched(SampleSettings settings) {
  settings.progress = [this](std::uint64_t sampled) { at(sampled); };
  settings.stop = stop_.get_token();
  return settings;
}

void SamplingProgress::at(std::uint64_t sampled) {
  if (interrupted != 0) stop_.request_stop();
  if (sampled < sampled_) before_ += sampled_;
  sampled_ = sampled;
  const Clock::time_point now = Clock::now();
  if (now - shown_at_ < (terminal_ ? kOnTerminal : kElsewhere)) return;
  shown_at_ = now;
  shown_ = true;
  std::fprintf(stderr, "%s%.1f million handles sampled (Ctrl+C stops)%s", terminal_ ? "\r" : "",
               static_cast<double>(before_ + sampled_) * 1e-6, terminal_ ? " " : "\n");
  std::fflush(stderr);
}

void end_by_interrupt() {
  std::signal(SIGINT, SIG_DFL);
  std::raise(SIGINT);
  std::_Exit(130);  // where interrupts are blocked
}

}  // namespace haftwright::command
