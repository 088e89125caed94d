#include <atomic>
#include <catch2/catch.hpp>
#include <condition_variable>
#include <mutex>
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
    while (!open_ && !context.cancelled()) std::this_thread::sleep_for(200us);
    --inside_;
    if (context.cancelled() && heeds_cancel_) throw Cancelled{};
    if (request.kind == JobKind::handle_facts) return FactsFound{{{request.product_name, "", 1, true}}};
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
const auto facts = [](const std::string& name) { return request(JobKind::handle_facts, name); };
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
  jobs.start(facts("any"));
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
  bench.jobs.start(facts("first"));
  REQUIRE(bench.begun(1));
  std::uint64_t last = 0;
  for (int i = 0; i < 50; ++i) last = bench.jobs.start(facts("facts " + std::to_string(i)));
  bench.stage.open();
  const auto results = bench.results();
  REQUIRE(results.size() == 1);
  CHECK(results[0].number == last);
  CHECK(std::get<FactsFound>(results[0].outcome).bodies[0].name == "facts 49");
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

TEST_CASE("an overtaken job that does not heed its cancel is dropped by its number") {
  Bench bench;
  bench.stage.ignore_cancel();
  bench.jobs.start(facts("old"));
  REQUIRE(bench.begun(1));
  const auto newest = bench.jobs.start(facts("new"));
  bench.stage.open();
  const auto results = bench.results();
  REQUIRE(results.size() == 1);
  CHECK(results[0].number == newest);
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
  const auto waits = bench.jobs.start(request(JobKind::handle_step, "waits"));
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
  bench.jobs.cancel(JobKind::handle_facts);
  const auto results = bench.results();
  REQUIRE(results.size() == 2);
  for (const JobResult& result : results) CHECK(std::holds_alternative<JobStopped>(result.outcome));
  CHECK(results[0].number == waits);
  CHECK(results[1].number == runs);
}

TEST_CASE("an export sends a measurement back to the queue, a measurement never stops an export") {
  Bench bench;
  const auto measured = bench.jobs.start(facts("measured"));
  REQUIRE(bench.begun(1));
  const auto exported = bench.jobs.start(guide("exported"));
  REQUIRE(bench.begun(2));
  const auto progress = bench.jobs.progress();
  REQUIRE(progress.size() == 2);
  CHECK(progress[0].number == exported);
  CHECK(progress[1].number == measured);
  bench.stage.open();
  auto results = bench.results();
  REQUIRE(results.size() == 2);
  CHECK(results[0].number == exported);
  CHECK(std::holds_alternative<FileWritten>(results[0].outcome));
  CHECK(results[1].number == measured);
  CHECK(std::holds_alternative<FactsFound>(results[1].outcome));
}

TEST_CASE("a measurement asked for during an export waits for it") {
  Bench bench;
  const auto exported = bench.jobs.start(guide("exported"));
  REQUIRE(bench.begun(1));
  const auto measured = bench.jobs.start(facts("measured"));
  std::this_thread::sleep_for(5ms);
  CHECK(bench.stage.begun() == 1);
  bench.stage.open();
  const auto results = bench.results();
  REQUIRE(results.size() == 2);
  CHECK(results[0].number == exported);
  CHECK(results[1].number == measured);
}

TEST_CASE("a measurement sent back that comes to its end all the same, is cancelled or replaced ends once") {
  enum class Then { nothing, cancelled, replaced };
  for (const Then then : {Then::nothing, Then::cancelled, Then::replaced}) {
    Bench bench;
    bench.stage.ignore_cancel();
    auto last = bench.jobs.start(facts("sent back"));
    REQUIRE(bench.begun(1));
    bench.jobs.start(guide("exported"));
    if (then == Then::replaced) last = bench.jobs.start(facts("newer"));
    if (then == Then::cancelled) bench.jobs.cancel(JobKind::handle_facts);
    bench.stage.open();
    const auto results = bench.results();
    REQUIRE(results.size() == 2);
    std::vector<std::uint64_t> of_facts;
    for (const JobResult& result : results)
      if (result.request.kind == JobKind::handle_facts) of_facts.push_back(result.number);
    CHECK(of_facts == std::vector<std::uint64_t>{last});
    CHECK(bench.stage.begun() == (then == Then::replaced ? 3 : 2));
  }
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
  bench.jobs.start(facts("any"));
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
    jobs.start(request(JobKind::handle_step, "waits"));
    jobs.start(facts("waits too"));
  }
  CHECK(stage.begun() == 1);
  Jobs never_used([] {}, stage.work());
}

TEST_CASE("requests from a busy window keep every promise") {
  Bench bench;
  bench.stage.open();
  std::uint64_t last_facts = 0;
  std::vector<JobResult> results;
  const auto collect = [&] {
    while (auto result = bench.jobs.take_result()) results.push_back(std::move(*result));
  };
  for (int i = 0; i < 2000; ++i) {
    if (i % 7 == 0) bench.jobs.start(guide("guide"));
    if (i % 11 == 0) bench.jobs.cancel(JobKind::handle_facts);
    last_facts = bench.jobs.start(facts("facts"));
    for (const JobProgress& progress : bench.jobs.progress()) CHECK(progress.share <= 1);
    collect();
  }
  REQUIRE(bench.idle());
  collect();
  CHECK_FALSE(bench.stage.overlapped());
  std::uint64_t before = 0;
  for (const JobResult& result : results)
    if (result.request.kind == JobKind::handle_facts) {
      CHECK(result.number > before);
      before = result.number;
    }
  CHECK(before == last_facts);
}

}  // namespace haftwright
