#include "haftwright/session/line_up_watch.hpp"

#include <exception>
#include <utility>

#include "haftwright/design/validate.hpp"
#include "haftwright/handle/lay_out.hpp"

namespace haftwright {
namespace {

LineUpAnswer begun(std::shared_ptr<const Design> design, const SampleSettings& settings) {
  LineUpAnswer answer;
  answer.design = std::move(design);
  answer.settings = settings;
  return answer;
}

/// The project's own way alone.
LineUpAnswer quick(std::shared_ptr<const Design> design, const Handle& handle,
                   const SampleSettings& settings) {
  LineUpAnswer answer = begun(std::move(design), settings);
  answer.report.ways.push_back(assess_own_way(*answer.design, handle, settings));
  const WayReport& way = answer.report.ways.front();
  if (way.problem.empty()) answer.report.worst = worst_measure(way);
  answer.findings = line_up_findings(*answer.design, way);
  return answer;
}

LineUpAnswer whole(std::shared_ptr<const Design> design, const Handle& handle,
                   const SampleSettings& settings) {
  LineUpAnswer answer = begun(std::move(design), settings);
  answer.report = assess(*answer.design, handle, settings);
  answer.findings = line_up_findings(*answer.design, answer.report.ways[answer.report.chosen]);
  answer.dry_fit = read_dry_fit(*answer.design, handle);
  answer.unused_readings = unused_readings(*answer.design, handle);
  answer.whole = true;
  return answer;
}

}  // namespace

LineUpWatch::LineUpWatch(std::function<void()> wake, SampleSettings settings)
    : wake_(std::move(wake)), settings_(settings), thread_([this] { work(); }) {}

LineUpWatch::~LineUpWatch() {
  {
    const std::lock_guard lock(mutex_);
    ending_ = true;
  }
  wanted_.notify_all();
  thread_.join();
}

void LineUpWatch::want(std::shared_ptr<const Design> design, bool moving) {
  {
    const std::lock_guard lock(mutex_);
    const Asked asked{std::move(design), moving};
    if (asked == last_) return;
    last_ = waiting_ = asked;
  }
  wanted_.notify_all();
}

void LineUpWatch::want_own_way(std::shared_ptr<const Design> design) {
  {
    const std::lock_guard lock(mutex_);
    if (design == last_.design) return;
  }
  want(std::move(design), true);
}

void LineUpWatch::forget() {
  const std::lock_guard lock(mutex_);
  ++project_;
  last_ = waiting_ = {};
  answer_ = whole_answer_ = nullptr;
}

std::shared_ptr<const LineUpAnswer> LineUpWatch::answer() const {
  const std::lock_guard lock(mutex_);
  return answer_;
}

std::shared_ptr<const LineUpAnswer> LineUpWatch::whole_answer() const {
  const std::lock_guard lock(mutex_);
  return whole_answer_;
}

bool LineUpWatch::busy() const {
  const std::lock_guard lock(mutex_);
  if (!last_.design) return false;
  if (!answer_ || answer_->design != last_.design) return true;
  return !answer_->whole && !last_.moving && answer_->problem.empty();
}

bool LineUpWatch::overtaken() const {
  const std::lock_guard lock(mutex_);
  return ending_ || waiting_.design;
}

void LineUpWatch::publish(LineUpAnswer answer, unsigned project) {
  {
    const std::lock_guard lock(mutex_);
    if (project != project_) return;
    answer_ = std::make_shared<const LineUpAnswer>(std::move(answer));
    if (answer_->whole) whole_answer_ = answer_;
  }
  if (wake_) wake_();
}

void LineUpWatch::reckon(const Asked& asked, unsigned project) {
  try {
    const Handle handle = lay_out(*asked.design);
    publish(quick(asked.design, handle, settings_), project);
    if (!asked.moving && !overtaken()) publish(whole(asked.design, handle, settings_), project);
  } catch (const std::exception& error) {
    LineUpAnswer failed = begun(asked.design, settings_);
    failed.problem = error.what();
    publish(std::move(failed), project);
  }
}

void LineUpWatch::work() {
  for (;;) {
    Asked asked;
    unsigned project = 0;
    {
      std::unique_lock lock(mutex_);
      wanted_.wait(lock, [this] { return ending_ || waiting_.design; });
      if (ending_) return;
      asked = std::exchange(waiting_, {});
      project = project_;
    }
    reckon(asked, project);
  }
}

}  // namespace haftwright
