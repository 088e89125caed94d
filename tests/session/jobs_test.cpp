#include <atomic>
#include <catch2/catch.hpp>
#include <condition_variable>
#include <mutex>
#include <set>
#include <thread>

#include "haftwright/design/validate.hpp"
#include "haftwright/files/safe_write.hpp"
#include "haftwright/session/jobs.hpp"
#include "support/designs.hpp"

namespace haftwright {
namespace {

using namespace std::chrono_literals;

/// Wakes whoever waits; counts.
class Bell {
 public:
  void ring() {
    const std::lock_guard lock(mutex_);
    ++rings_;
    rung_.notify_all();
  }
  /// True once `done()` holds; looked at on every ring.
  template <class Done>
  bool wait(Done&& done) {
    const auto until = std::chrono::steady_clock::now() + 20s;
    std::unique_lock lock(mutex_);
    while (true) {
      lock.unlock();
      if (done()) return true;
      lock.lock();
      if (std::chrono::steady_clock::now() > until) return false;
      rung_.wait_for(lock, 2ms);
    }
  }
  int rings() const {
    const std::lock_guard lock(mutex_);
    return rings_;
  }

 private:
  mutable std::mutex mutex_;
  std::condition_variable rung_;
  int rings_ = 0;
};

/// Work that stands still until it is let go or cancelled, as a long solid would.
class Stage {
 public:
  JobOutcome run(const JobRequest& request, const JobContext& context) {
    const int at_once = ++inside_;
    if (at_once > 1) overlapped_ = true;
    ++begun_;
    context.progress(0.25, request.product_name);
    while (!open_ && !context.stop.stop_requested()) std::this_thread::sleep_for(200us);
    --inside_;
    if (context.stop.stop_requested() && heeds_cancel_) throw Cancelled{};
    return FileWritten{request.path, 1, {}, false};
  }
  Jobs::Work work() {
    return [this](const JobRequest& request, const JobContext& context) { return run(request, context); };
  }
  void open() { open_ = true; }
  void ignore_cancel() { heeds_cancel_ = false; }
  int begun() const { return begun_; }
  bool overlapped() const { return overlapped_; }

 private:
  std::atomic<bool> open_ = false, heeds_cancel_ = true, overlapped_ = false;
  std::atomic<int> begun_ = 0, inside_ = 0;
};

JobRequest request(JobKind kind, const std::string& name) {
  static const auto design = std::make_shared<const Design>(test::starter());
  return {kind, design, "/tmp/" + name, name};
}
const auto handle = [](const std::string& name) { return request(JobKind::handle_step, name); };
const auto guide = [](const std::string& name) { return request(JobKind::guide_step, name); };

struct Bench {
  Bell bell;
  Stage stage;
  Jobs jobs{[this] { bell.ring(); }, stage.work()};

  bool begun(int count) {
    return bell.wait([&] { return stage.begun() >= count; });
  }
  bool idle() {
    return bell.wait([&] { return !jobs.busy(); });
  }
  std::vector<JobResult> results() {
    REQUIRE(idle());
    std::vector<JobResult> all;
    while (auto result = jobs.take_result()) all.push_back(std::move(*result));
    return all;
  }
};

/// What one job's work ends with.
JobOutcome outcome_of(const std::function<JobOutcome()>& work) {
  Bell bell;
  Jobs jobs([&] { bell.ring(); }, [&](const JobRequest&, const JobContext&) { return work(); });
  jobs.start(handle("any"));
  std::optional<JobResult> result;
  REQUIRE(bell.wait([&] { return (result = jobs.take_result()).has_value(); }));
  return result->outcome;
}
std::string failure_of(const std::function<JobOutcome()>& work) {
  const JobOutcome outcome = outcome_of(work);
  REQUIRE(std::holds_alternative<JobFailed>(outcome));
  return std::get<JobFailed>(outcome).why;
}

}  // namespace

TEST_CASE("of many requests of a kind the newest wins and the others leave no result") {
  Bench bench;
  bench.jobs.start(handle("first"));
  REQUIRE(bench.begun(1));
  std::uint64_t last = 0;
  for (int i = 0; i < 50; ++i) last = bench.jobs.start(handle("handle " + std::to_string(i)));
  bench.stage.open();
  const auto results = bench.results();
  REQUIRE(results.size() == 1);
  CHECK(results[0].number == last);
  CHECK(std::get<FileWritten>(results[0].outcome).path == "/tmp/handle 49");
  CHECK(bench.stage.begun() <= 3);
  CHECK_FALSE(bench.stage.overlapped());
}

TEST_CASE("a newer request of its kind stops the running one") {
  Bench bench;
  bench.jobs.start(guide("old"));
  REQUIRE(bench.begun(1));
  bench.jobs.start(guide("new"));
  CHECK(bench.begun(2));
}

TEST_CASE("an overtaken job that fails leaves no result") {
  Bell bell;
  std::atomic<bool> open = false;
  std::atomic<int> begun = 0;
  Jobs jobs([&] { bell.ring(); },
            [&](const JobRequest& request, const JobContext&) -> JobOutcome {
              ++begun;
              while (!open) std::this_thread::sleep_for(200us);
              return JobFailed{request.product_name};
            });
  jobs.start(handle("old"));
  REQUIRE(bell.wait([&] { return begun == 1; }));
  jobs.start(handle("new"));
  open = true;
  REQUIRE(bell.wait([&] { return !jobs.busy(); }));
  const auto result = jobs.take_result();
  REQUIRE(result);
  CHECK(std::get<JobFailed>(result->outcome).why == "new");
  CHECK_FALSE(jobs.take_result());
}

TEST_CASE("a file that was written is told of even when it was overtaken") {
  Bench bench;
  bench.stage.ignore_cancel();
  bench.jobs.start(guide("old"));
  REQUIRE(bench.begun(1));
  bench.jobs.start(guide("new"));
  bench.stage.open();
  const auto results = bench.results();
  REQUIRE(results.size() == 2);
  CHECK(std::get<FileWritten>(results[0].outcome).path == "/tmp/old");
  CHECK(std::get<FileWritten>(results[1].outcome).path == "/tmp/new");
}

TEST_CASE("cancel stops the running job and drops the waiting one; both say so") {
  Bench bench;
  const auto runs = bench.jobs.start(guide("runs"));
  REQUIRE(bench.begun(1));
  const auto waits = bench.jobs.start(handle("waits"));
  auto progress = bench.jobs.progress();
  REQUIRE(progress.size() == 2);
  CHECK(progress[0].running);
  CHECK(progress[0].number == runs);
  CHECK(progress[0].share == 0.25);
  CHECK(progress[0].step == "runs");
  CHECK_FALSE(progress[1].running);
  CHECK(progress[1].number == waits);
  bench.jobs.cancel(JobKind::handle_step);
  bench.jobs.cancel(JobKind::guide_step);
  bench.jobs.cancel(JobKind::handle_step);
  const auto results = bench.results();
  REQUIRE(results.size() == 2);
  for (const JobResult& result : results) CHECK(std::holds_alternative<JobStopped>(result.outcome));
  CHECK(results[0].number == waits);
  CHECK(results[1].number == runs);
}

TEST_CASE("what waits is begun in order of kind, and the running job of another kind comes to its end") {
  Bench bench;
  const auto first = bench.jobs.start(handle("first"));
  REQUIRE(bench.begun(1));
  const auto second = bench.jobs.start(guide("second"));
  std::this_thread::sleep_for(5ms);
  CHECK(bench.stage.begun() == 1);
  bench.stage.open();
  const auto results = bench.results();
  REQUIRE(results.size() == 2);
  CHECK(results[0].number == first);
  CHECK(results[1].number == second);
  for (const JobResult& result : results) CHECK(std::holds_alternative<FileWritten>(result.outcome));
}

TEST_CASE("whatever a job throws comes back in words") {
  CHECK(failure_of([]() -> JobOutcome { throw InputError("pins", "there are none"); }) ==
        "pins: there are none");
  CHECK(failure_of([]() -> JobOutcome {
          throw InputError(std::vector<Problem>{{"a", "x"}, {"", "y"}});
        }) == "a: x\ny");
  CHECK(failure_of([]() -> JobOutcome { throw SolidError("left front piece"); }).find("left front piece") !=
        std::string::npos);
  CHECK(failure_of([]() -> JobOutcome { throw OutputError("the disk is full"); }) == "the disk is full");
  CHECK(failure_of([]() -> JobOutcome { throw std::bad_alloc(); }).size() > 10);
  CHECK(failure_of([]() -> JobOutcome { throw 7; }).size() > 10);
  CHECK(std::holds_alternative<JobStopped>(outcome_of([]() -> JobOutcome { throw Cancelled{}; })));
}

TEST_CASE("progress and results wake the window") {
  Bench bench;
  bench.jobs.start(handle("any"));
  REQUIRE(bench.begun(1));
  CHECK(bench.bell.wait([&] { return bench.bell.rings() >= 1; }));
  const int before = bench.bell.rings();
  bench.stage.open();
  CHECK(bench.bell.wait([&] { return bench.bell.rings() > before; }));
  CHECK(bench.results().size() == 1);
}

TEST_CASE("the end does not wait for jobs: the running one is stopped, waiting ones never begin") {
  Stage stage;
  {
    Jobs jobs([] {}, stage.work());
    jobs.start(guide("runs"));
    while (stage.begun() == 0) std::this_thread::sleep_for(200us);
    jobs.start(handle("waits"));
    jobs.start(handle("waits instead"));
  }
  CHECK(stage.begun() == 1);
  Jobs never_used([] {}, stage.work());
}

TEST_CASE("requests from a busy window keep every promise") {
  Bench bench;
  bench.stage.open();
  std::uint64_t last_handle = 0;
  std::vector<JobResult> results;
  const auto collect = [&] {
    while (auto result = bench.jobs.take_result()) results.push_back(std::move(*result));
  };
  for (int i = 0; i < 2000; ++i) {
    if (i % 7 == 0) bench.jobs.start(guide("guide"));
    if (i % 11 == 0) bench.jobs.cancel(JobKind::handle_step);
    last_handle = bench.jobs.start(handle("handle"));
    for (const JobProgress& progress : bench.jobs.progress()) CHECK(progress.share <= 1);
    collect();
  }
  REQUIRE(bench.idle());
  collect();
  CHECK_FALSE(bench.stage.overlapped());
  // A file that is written although it was overtaken may be reported after a newer one that was dropped.
  std::set<std::uint64_t> reported;
  for (const JobResult& result : results) CHECK(reported.insert(result.number).second);
  CHECK(reported.contains(last_handle));
}

}  // namespace haftwright
