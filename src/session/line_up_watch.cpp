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

/// What can be asked, most urgent first; a newer design lets the own way come to its end, so that an answer
/// comes now and then all through a long drag.
constexpr std::size_t kOwnWay = 0, kWhole = 1, kLanes = 2;

/// The project's own way alone.
LineUpAnswer own_way(std::shared_ptr<const Design> design, const SampleSettings& settings) {
  LineUpAnswer answer = begun(std::move(design), settings);
  const Handle handle = lay_out(*answer.design);
  answer.report.ways.push_back(assess_own_way(*answer.design, handle, settings));
  const WayReport& way = answer.report.ways.front();
  if (way.problem.empty()) answer.report.worst = worst_measure(way);
  answer.findings = line_up_findings(*answer.design, way);
  return answer;
}

LineUpAnswer whole(std::shared_ptr<const Design> design, const SampleSettings& settings) {
  LineUpAnswer answer = begun(std::move(design), settings);
  const Handle handle = lay_out(*answer.design);
  answer.report = assess(*answer.design, handle, settings);
  answer.findings = line_up_findings(*answer.design, answer.report.ways[answer.report.chosen]);
  answer.dry_fit = read_dry_fit(*answer.design, handle);
  answer.unused_readings = unused_readings(*answer.design, handle);
  answer.whole = true;
  return answer;
}

}  // namespace

LineUpWatch::LineUpWatch(std::function<void()> wake, SampleSettings settings)
    : settings_(settings), worker_(kLanes, std::move(wake)) {}

void LineUpWatch::want(std::shared_ptr<const Design> design, bool moving) {
  const std::lock_guard lock(mutex_);
  const Asked asked{std::move(design), moving};
  if (asked == last_) return;
  last_ = asked;
  compute(kOwnWay, own_way, asked.design, project_);
  if (moving)
    worker_.cancel(kWhole);
  else
    compute(kWhole, whole, asked.design, project_);
}

void LineUpWatch::compute(std::size_t lane, Answer make_answer, std::shared_ptr<const Design> design,
                          unsigned project) {
  const auto work = [this, make_answer, design, project](std::uint64_t, const JobContext& context) {
    SampleSettings settings = settings_;
    settings.stop = context.stop;
    try {
      publish(make_answer(design, settings), project);
    } catch (const SamplingStopped&) {
      return;  // something newer was asked
    } catch (const std::exception& error) {
      LineUpAnswer failed = begun(design, settings_);
      failed.problem = error.what();
      publish(std::move(failed), project);
    }
  };
  worker_.start(lane, work, lane == kOwnWay ? WhileRunning::let_it_end : WhileRunning::stop_it);
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
  worker_.cancel(kOwnWay);
  worker_.cancel(kWhole);
  last_ = {};
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

void LineUpWatch::publish(LineUpAnswer answer, unsigned project) {
  const std::lock_guard lock(mutex_);
  if (project != project_) return;
  answer_ = std::make_shared<const LineUpAnswer>(std::move(answer));
  if (answer_->whole) whole_answer_ = answer_;
}

}  // namespace haftwright
