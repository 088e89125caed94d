#include "haftwright/session/jobs.hpp"

#include <array>
#include <deque>
#include <exception>
#include <mutex>
#include <utility>

#include "haftwright/design/validate.hpp"
#include "haftwright/files/safe_write.hpp"
#include "haftwright/session/worker.hpp"

namespace haftwright {
namespace {

std::size_t lane_of(JobKind kind) {
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
  struct Newest {
    std::uint64_t number = 0;
    JobRequest request;
    bool ended = true;
  };

  State(std::function<void()> wake, Work do_work)
      : work(std::move(do_work)), worker(kJobKinds, std::move(wake)) {}

  void do_one(std::uint64_t number, const JobRequest& request, const JobContext& context);

  const Work work;
  mutable std::mutex mutex;  // guards all below but the worker, whose own lock is always taken second
  std::array<Newest, kJobKinds> newest;
  std::deque<JobResult> results;
  Worker worker;  // last: its thread uses all the others
};

/// Keeps the result, unless nobody waits for it any longer.
void Jobs::State::do_one(std::uint64_t number, const JobRequest& request, const JobContext& context) {
  JobOutcome outcome = outcome_of(work, request, context);
  const std::lock_guard lock(mutex);
  Newest& last = newest[lane_of(request.kind)];
  const bool overtaken = last.number != number;
  if (overtaken && !std::holds_alternative<FileWritten>(outcome)) return;
  if (!overtaken) last.ended = true;
  results.push_back({number, request, std::move(outcome)});
}

Jobs::Jobs(std::function<void()> wake, Work work)
    : state_(std::make_unique<State>(std::move(wake), std::move(work))) {}

Jobs::~Jobs() = default;

std::uint64_t Jobs::start(JobRequest request) {
  const std::lock_guard lock(state_->mutex);
  const std::size_t lane = lane_of(request.kind);
  const std::uint64_t number = state_->worker.start(
      lane, [state = state_.get(), request](std::uint64_t own_number, const JobContext& context) {
        state->do_one(own_number, request, context);
      });
  state_->newest[lane] = {number, std::move(request), false};
  return number;
}

void Jobs::cancel(JobKind kind) {
  const std::lock_guard lock(state_->mutex);
  if (!state_->worker.cancel(lane_of(kind))) return;
  State::Newest& dropped = state_->newest[lane_of(kind)];
  dropped.ended = true;
  state_->results.push_back({dropped.number, dropped.request, JobStopped{}});
}

std::vector<JobProgress> Jobs::progress() const {
  const std::lock_guard lock(state_->mutex);
  std::vector<JobProgress> all;
  for (const WorkProgress& work : state_->worker.progress()) {
    const State::Newest& newest = state_->newest[work.lane];
    if (newest.number == work.number && !newest.ended)
      all.push_back({work.number, static_cast<JobKind>(work.lane), work.running, work.share, work.step});
  }
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
