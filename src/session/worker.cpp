#include "haftwright/session/worker.hpp"

#include <algorithm>
#include <condition_variable>
#include <mutex>
#include <optional>
#include <stop_token>
#include <thread>
#include <utility>

namespace haftwright {

struct Worker::State {
  struct Entry {
    WorkProgress progress;
    Work work;
    std::stop_source stop;
  };

  void run(const std::stop_token& end);
  std::optional<Entry> next_waiting();

  std::function<void()> wake;
  mutable std::mutex mutex;  // guards all below but the thread
  std::condition_variable_any work_came;
  std::vector<std::optional<Entry>> waiting;  ///< one place for each lane
  std::optional<WorkProgress> running;
  std::stop_source stop_running;
  std::uint64_t last_number = 0;
  std::jthread thread;
};

std::optional<Worker::State::Entry> Worker::State::next_waiting() {
  for (std::optional<Entry>& place : waiting)
    if (place) return std::exchange(place, std::nullopt);
  return std::nullopt;
}

void Worker::State::run(const std::stop_token& end) {
  const auto any = [this] { return std::ranges::any_of(waiting, [](const auto& place) { return !!place; }); };
  while (true) {
    std::optional<Entry> entry;
    {
      std::unique_lock lock(mutex);
      if (!work_came.wait(lock, end, any) || end.stop_requested()) return;
      entry = next_waiting();
      running = entry->progress;
      running->running = true;
      stop_running = entry->stop;
    }
    JobContext context;
    context.stop = entry->stop.get_token();
    context.progress = [this](double share, const std::string& step) {
      {
        const std::lock_guard lock(mutex);
        running->share = std::clamp(share, 0.0, 1.0);
        running->step = step;
      }
      wake();
    };
    entry->work(entry->progress.number, context);
    {
      const std::lock_guard lock(mutex);
      running.reset();
    }
    wake();
  }
}

Worker::Worker(std::size_t lanes, std::function<void()> wake) : state_(std::make_unique<State>()) {
  state_->wake = wake ? std::move(wake) : [] {};
  state_->waiting.resize(lanes);
  state_->thread = std::jthread([state = state_.get()](const std::stop_token& end) { state->run(end); });
}

Worker::~Worker() {
  {
    const std::lock_guard lock(state_->mutex);
    for (auto& place : state_->waiting) place.reset();
    if (state_->running) state_->stop_running.request_stop();
  }
  state_->thread.request_stop();
  state_->thread.join();
}

std::uint64_t Worker::start(std::size_t lane, Work work, WhileRunning newer) {
  std::uint64_t number = 0;
  {
    const std::lock_guard lock(state_->mutex);
    number = ++state_->last_number;
    const bool runs = state_->running && state_->running->lane == lane;
    if (runs && newer == WhileRunning::stop_it) state_->stop_running.request_stop();
    State::Entry entry;
    entry.progress.lane = lane;
    entry.progress.number = number;
    entry.work = std::move(work);
    state_->waiting.at(lane) = std::move(entry);
  }
  state_->work_came.notify_one();
  return number;
}

bool Worker::cancel(std::size_t lane) {
  const std::lock_guard lock(state_->mutex);
  if (state_->running && state_->running->lane == lane) state_->stop_running.request_stop();
  return std::exchange(state_->waiting.at(lane), std::nullopt).has_value();
}

std::vector<WorkProgress> Worker::progress() const {
  const std::lock_guard lock(state_->mutex);
  std::vector<WorkProgress> all;
  if (state_->running) all.push_back(*state_->running);
  for (const auto& place : state_->waiting)
    if (place) all.push_back(place->progress);
  return all;
}

}  // namespace haftwright
