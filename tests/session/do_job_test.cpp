#include <atomic>
#include <catch2/catch.hpp>
#include <chrono>
#include <map>
#include <thread>

#include "haftwright/design/validate.hpp"
#include "haftwright/files/safe_write.hpp"
#include "haftwright/session/jobs.hpp"
#include "support/designs.hpp"
#include "temporary_folder.hpp"

namespace haftwright {
namespace {

JobRequest request(JobKind kind, const std::filesystem::path& path, const Design& design = test::starter()) {
  return {kind, std::make_shared<const Design>(design), path, "starter"};
}

}  // namespace

TEST_CASE("a job makes the STEP file that was asked for and tells how far it is") {
  const test::TemporaryFolder folder;
  for (const JobKind kind : {JobKind::guide_step, JobKind::handle_step}) {
    const auto path = folder / name_of(kind);
    double last = 0;
    bool forward = true;
    JobContext context;
    context.progress = [&](double share, const std::string& step) {
      forward = forward && share >= last && share <= 1 && !step.empty();
      last = share;
    };
    const FileWritten written = do_job(request(kind, path), context);
    CHECK(forward);
    CHECK(last > 0.9);
    const std::string text = test::bytes_of(path);
    CHECK(text.size() == written.bytes);
    CHECK(text.starts_with("ISO-10303-21;"));
    CHECK(written.bodies.size() == (kind == JobKind::guide_step ? 1 : written.bodies.size()));
    for (const BodyFacts& body : written.bodies) CHECK(body.closed_and_valid);
  }
}

TEST_CASE("a job cancelled at any of its steps leaves no file") {
  const test::TemporaryFolder folder;
  for (const JobKind kind : {JobKind::guide_step, JobKind::handle_step}) {
    int steps = 0;
    for (int at = 1;; ++at) {
      int begun = 0;
      std::stop_source stop;
      JobContext context;
      context.stop = stop.get_token();
      context.progress = [&](double, const std::string&) {
        if (++begun >= at) stop.request_stop();
      };
      try {
        do_job(request(kind, folder / "file.step"), context);
        break;
      } catch (const Cancelled&) {
        ++steps;
        CHECK(test::entries_in(folder.path()) == 0);
      }
      if (at > 3) at += at / 2;
    }
    CHECK(steps >= 3);
    CHECK(test::entries_in(folder.path()) == 1);
    std::filesystem::remove(folder / "file.step");
  }
}

TEST_CASE("what is wrong with the design or the place comes out as it is") {
  const test::TemporaryFolder folder;
  Design no_pins = test::starter();
  no_pins.pins.clear();
  CHECK_THROWS_AS(do_job(request(JobKind::guide_step, folder / "a", no_pins), {}), InputError);
  CHECK_THROWS_AS(do_job(request(JobKind::handle_step, folder / "a", test::crossing_joints()), {}),
                  InputError);
  Design senseless = test::starter();
  senseless.left.pieces.clear();
  CHECK_THROWS_AS(do_job(request(JobKind::handle_step, folder / "a", senseless), {}), InputError);
  CHECK_THROWS_AS(do_job(request(JobKind::guide_step, folder / "nowhere/a"), {}), OutputError);
  CHECK(test::entries_in(folder.path()) == 0);
}

TEST_CASE("the real work in its thread: overtaken, cancelled, and done at last") {
  const test::TemporaryFolder folder;
  std::atomic<int> wakes = 0;
  Jobs jobs([&] { ++wakes; });
  jobs.start(request(JobKind::guide_step, folder / "overtaken.step"));
  const auto guide = jobs.start(request(JobKind::guide_step, folder / "guide.step"));
  const auto stopped = jobs.start(request(JobKind::handle_step, folder / "stopped.step"));
  jobs.cancel(JobKind::handle_step);
  const auto handle = jobs.start(request(JobKind::handle_step, folder / "handle.step"));
  const auto until = std::chrono::steady_clock::now() + std::chrono::minutes(2);
  while (jobs.busy() && std::chrono::steady_clock::now() < until)
    std::this_thread::sleep_for(std::chrono::milliseconds(1));
  std::map<std::uint64_t, JobOutcome> outcomes;
  while (auto result = jobs.take_result()) outcomes.emplace(result->number, result->outcome);
  REQUIRE(outcomes.size() == 3);
  // Tang, 3 pins, and on each side a liner, two pieces and a strip.
  CHECK(std::get<FileWritten>(outcomes.at(handle)).bodies.size() == 12);
  CHECK(std::holds_alternative<JobStopped>(outcomes.at(stopped)));
  CHECK(std::get<FileWritten>(outcomes.at(guide)).path == folder / "guide.step");
  CHECK(test::entries_in(folder.path()) == 2);
  CHECK(wakes > 3);
}

}  // namespace haftwright
