#include "haftwright/session/jobs.hpp"

#include <algorithm>
#include <atomic>
#include <condition_variable>
#include <deque>
#include <exception>
#include <mutex>
#include <thread>
#include <utility>

#include "haftwright/design/validate.hpp"
#include "haftwright/files/safe_write.hpp"

namespace haftwright {
namespace {

std::size_t place_of(JobKind kind) {
  return static_cast<std::size_t>(kind);
}

/// Runs the work; whatever it throws becomes an outcome.
JobOutcome outcome_of(const Jobs::Work& work, const JobRequest& request, const JobContext& context) {
  try {
    return work(request, context);
  } catch (const Cancelled&) {
    return JobStopped{};
  } catch (const InputError& error) {
    return JobFailed{error.what()};
  } catch (const SolidError& error) {
    return JobFailed{std::string("no exact solid: ") + error.what()};
  } catch (const OutputError& error) {
    return JobFailed{error.what()};
  } catch (const std::exception& error) {
    return JobFailed{std::string("something unforeseen went wrong: ") + error.what()};
  } catch (...) {
    return JobFailed{"something unforeseen went wrong while the solids were made"};
  }
}

}  // namespace

struct Jobs::State {
  struct Job {
    std::uint64_t number = 0;
    JobRequest request;
  };
  struct Running {
    Job job;
    std::atomic<bool> stop = false;
    bool sent_back = false;  ///< waits again, to be run anew after the export
    double share = 0;
    std::string step;
  };

  State(std::function<void()> wake_up, Work do_work) : wake(std::move(wake_up)), work(std::move(do_work)) {}

  void run(const std::stop_token& end);
  std::optional<Job> next_waiting();
  void do_one(const std::shared_ptr<Running>& current);
  void finish(const Running& ended, JobOutcome outcome);

  const std::function<void()> wake;
  const Work work;
  mutable std::mutex mutex;  // guards all below but the thread
  std::condition_variable_any work_came;
  std::array<std::optional<Job>, kJobKinds> waiting;
  std::array<std::uint64_t, kJobKinds> newest{};
  std::shared_ptr<Running> running;
  std::deque<JobResult> results;
  std::uint64_t last_number = 0;
  std::jthread thread;
};

std::optional<Jobs::State::Job> Jobs::State::next_waiting() {
  for (std::optional<Job>& place : waiting)
    if (place) return std::exchange(place, std::nullopt);
  return std::nullopt;
}

void Jobs::State::run(const std::stop_token& end) {
  while (true) {
    std::shared_ptr<Running> current;
    {
      std::unique_lock lock(mutex);
      const auto any = [this] { return std::ranges::any_of(waiting, [](const auto& w) { return !!w; }); };
      if (!work_came.wait(lock, end, any) || end.stop_requested()) return;
      current = std::make_shared<Running>();
      current->job = *next_waiting();
      running = current;
    }
    do_one(current);
    wake();
  }
}

void Jobs::State::do_one(const std::shared_ptr<Running>& current) {
  JobContext context;
  context.cancelled = [&current] { return current->stop.load(); };
  context.progress = [this, &current](double share, const std::string& step) {
    {
      const std::lock_guard lock(mutex);
      current->share = std::clamp(share, 0.0, 1.0);
      current->step = step;
    }
    wake();
  };
  JobOutcome outcome = outcome_of(work, current->job.request, context);
  const std::lock_guard lock(mutex);
  running.reset();
  finish(*current, std::move(outcome));
}

/// Keeps the result, unless nobody waits for it any longer. A file that was written is told of in any case.
void Jobs::State::finish(const Running& ended, JobOutcome outcome) {
  const std::uint64_t number = ended.job.number;
  const std::size_t place = place_of(ended.job.request.kind);
  const bool stopped = std::holds_alternative<JobStopped>(outcome);
  const bool overtaken = newest[place] != number;
  if (ended.sent_back && waiting[place] && waiting[place]->number == number) {
    if (stopped) return;
    waiting[place].reset();  // it came to its end all the same
  }
  if (overtaken && !std::holds_alternative<FileWritten>(outcome)) return;
  results.push_back({number, ended.job.request, std::move(outcome)});
}

Jobs::Jobs(std::function<void()> wake, Work work)
    : state_(std::make_unique<State>(std::move(wake), std::move(work))) {
  state_->thread = std::jthread([state = state_.get()](const std::stop_token& end) { state->run(end); });
}

Jobs::~Jobs() {
  {
    const std::lock_guard lock(state_->mutex);
    for (auto& place : state_->waiting) place.reset();
    if (state_->running) state_->running->stop = true;
  }
  state_->thread.request_stop();
  state_->thread.join();
}

std::uint64_t Jobs::start(JobRequest request) {
  std::uint64_t number = 0;
  {
    const std::lock_guard lock(state_->mutex);
    number = ++state_->last_number;
    const std::size_t place = place_of(request.kind);
    state_->newest[place] = number;
    if (State::Running* running = state_->running.get()) {
      const JobKind kind = running->job.request.kind;
      if (kind == request.kind) {
        running->stop = true;
      } else if (kind == JobKind::handle_facts && !running->stop) {
        running->stop = true;
        running->sent_back = true;
        state_->waiting[place_of(kind)] = running->job;
      }
    }
    state_->waiting[place] = State::Job{number, std::move(request)};
  }
  state_->work_came.notify_one();
  return number;
}

void Jobs::cancel(JobKind kind) {
  const std::lock_guard lock(state_->mutex);
  std::optional<State::Job>& place = state_->waiting[place_of(kind)];
  State::Running* running = state_->running.get();
  const bool runs = running && running->job.request.kind == kind;
  if (runs) running->stop = true;
  if (!place) return;
  // A job that was sent back is running out: its own end will be its result.
  if (!(runs && running->job.number == place->number))
    state_->results.push_back({place->number, std::move(place->request), JobStopped{}});
  place.reset();
}

std::vector<JobProgress> Jobs::progress() const {
  const std::lock_guard lock(state_->mutex);
  std::vector<JobProgress> all;
  const State::Running* running = state_->running.get();
  if (running && !running->sent_back &&
      state_->newest[place_of(running->job.request.kind)] == running->job.number)
    all.push_back({running->job.number, running->job.request.kind, true, running->share, running->step});
  for (const auto& place : state_->waiting)
    if (place) all.push_back({place->number, place->request.kind, false, 0, ""});
  return all;
}

std::optional<JobResult> Jobs::take_result() {
  const std::lock_guard lock(state_->mutex);
  if (state_->results.empty()) return std::nullopt;
  JobResult result = std::move(state_->results.front());
  state_->results.pop_front();
  return result;
}

}  // namespace haftwright
