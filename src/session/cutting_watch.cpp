#include "haftwright/session/cutting_watch.hpp"

#include <condition_variable>
#include <exception>
#include <utility>

#include "haftwright/cutting/findings.hpp"
#include "haftwright/design/validate.hpp"
#include "haftwright/handle/lay_out.hpp"

namespace haftwright {

namespace {

constexpr std::size_t kLane = 0;
/// Of the whole work: looking for plans; the rest is why things have no place.
constexpr double kPlanShare = 0.7;
/// Finer progress than this is not seen, and each step of it costs a frame.
constexpr double kProgressStep = 0.01;

/// False when it was told to stop before the time was over.
bool rested(const std::stop_token& stop, std::chrono::milliseconds rest) {
  std::mutex mutex;
  std::condition_variable_any never;
  std::unique_lock lock(mutex);
  never.wait_for(lock, stop, rest, [] { return false; });
  return !stop.stop_requested();
}

/// Tells progress in steps that can be seen.
std::function<void(double)> stepwise(const JobContext& context, double from, double to) {
  return [&context, from, to, told = from](double share) mutable {
    const double now = from + (to - from) * share;
    if (now < told + kProgressStep) return;
    told = now;
    context.progress(now, "");
  };
}

nesting::Running running(const JobContext& context, double from, double to) {
  nesting::Running running;
  running.stop = context.stop;
  running.progress = stepwise(context, from, to);
  return running;
}

CuttingAnswer planned(const CuttingQuestion& question, const JobContext& context) {
  CuttingAnswer answer{.asked = question};
  const Design& design = *question.design;
  answer.plans =
      plan_cutting(design, lay_out(design), *question.bin, question.wishes, running(context, 0, kPlanShare));
  for (const CuttingPlan& plan : answer.plans.plans) {
    std::vector<Finding> findings =
        sides_together(cutting_findings(design, answer.plans.needs, plan, *question.bin));
    sort_worst_first(findings);
    answer.findings.push_back(std::move(findings));
  }
  return answer;
}

}  // namespace

CuttingWatch::CuttingWatch(std::function<void()> wake, std::chrono::milliseconds rest)
    : rest_(rest), worker_(1, std::move(wake)) {}

void CuttingWatch::want(CuttingQuestion question) {
  const std::lock_guard lock(mutex_);
  if (question == last_) return;
  last_ = std::move(question);
  begin(last_, ++number_);
}

void CuttingWatch::again() {
  const std::lock_guard lock(mutex_);
  if (last_.design) begin(last_, ++number_);
}

void CuttingWatch::begin(const CuttingQuestion& question, unsigned number) {
  busy_ = true;
  stopped_ = false;
  worker_.start(kLane, [this, question, number](std::uint64_t, const JobContext& context) {
    work(question, number, context);
  });
}

void CuttingWatch::work(const CuttingQuestion& question, unsigned number, const JobContext& context) {
  if (!rested(context.stop, rest_)) return;
  CuttingAnswer answer{.asked = question};
  try {
    answer = planned(question, context);
    if (context.stop.stop_requested()) return;
    publish(answer, number, false);
    context.progress(kPlanShare, "");
    answer.reasons = why_not(*question.design, *question.bin, question.wishes, answer.plans,
                             running(context, kPlanShare, 1));
    if (context.stop.stop_requested()) return;
    answer.reasons_known = true;
  } catch (const InputError& error) {
    answer.problem = error.what();
  } catch (const std::exception& error) {
    answer.problem = std::string("no plan could be made: ") + error.what();
  }
  publish(std::move(answer), number, true);
}

void CuttingWatch::publish(CuttingAnswer answer, unsigned number, bool last) {
  const std::lock_guard lock(mutex_);
  if (number != number_ || stopped_) return;
  answer_ = std::make_shared<const CuttingAnswer>(std::move(answer));
  if (last) busy_ = false;
}

void CuttingWatch::stop() {
  const std::lock_guard lock(mutex_);
  if (!busy_) return;
  busy_ = false;
  stopped_ = true;
  worker_.cancel(kLane);
}

void CuttingWatch::forget() {
  const std::lock_guard lock(mutex_);
  last_ = {};
  ++number_;
  busy_ = stopped_ = false;
  answer_.reset();
  worker_.cancel(kLane);
}

std::shared_ptr<const CuttingAnswer> CuttingWatch::answer() const {
  const std::lock_guard lock(mutex_);
  return answer_;
}

CuttingQuestion CuttingWatch::question() const {
  const std::lock_guard lock(mutex_);
  return last_;
}

bool CuttingWatch::busy() const {
  const std::lock_guard lock(mutex_);
  return busy_;
}

bool CuttingWatch::stopped() const {
  const std::lock_guard lock(mutex_);
  return stopped_;
}

double CuttingWatch::share() const {
  for (const WorkProgress& progress : worker_.progress())
    if (progress.running) return progress.share;
  return 0;
}

}  // namespace haftwright
