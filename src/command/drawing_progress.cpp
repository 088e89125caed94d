#include "drawing_progress.hpp"

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

DrawingProgress::DrawingProgress()
    : handler_before_(std::signal(SIGINT, on_interrupt)), terminal_(isatty(STDERR_FILENO) == 1) {
  // Who starts a program with interrupts ignored means it.
  if (handler_before_ == SIG_IGN) std::signal(SIGINT, SIG_IGN);
}

DrawingProgress::~DrawingProgress() {
  if (terminal_ && shown_) std::fputs("\r\033[K", stderr);
  std::signal(SIGINT, handler_before_);
}

DrawSettings DrawingProgress::watched(DrawSettings settings) {
  settings.progress = [this](std::uint64_t drawn) { at(drawn); };
  settings.stop = stop_.get_token();
  return settings;
}

void DrawingProgress::at(std::uint64_t drawn) {
  if (interrupted != 0) stop_.request_stop();
  if (drawn < drawn_) before_ += drawn_;
  drawn_ = drawn;
  const Clock::time_point now = Clock::now();
  if (now - shown_at_ < (terminal_ ? kOnTerminal : kElsewhere)) return;
  shown_at_ = now;
  shown_ = true;
  std::fprintf(stderr, "%s%.1f million handles drawn (Ctrl+C stops)%s", terminal_ ? "\r" : "",
               static_cast<double>(before_ + drawn_) * 1e-6, terminal_ ? " " : "\n");
  std::fflush(stderr);
}

void end_by_interrupt() {
  std::signal(SIGINT, SIG_DFL);
  std::raise(SIGINT);
  std::_Exit(130);  // where interrupts are blocked
}

}  // namespace haftwright::command
