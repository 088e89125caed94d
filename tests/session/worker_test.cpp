#include "haftwright/session/worker.hpp"

#include <atomic>
#include <catch2/catch.hpp>
#include <chrono>
#include <thread>

namespace haftwright {
namespace {

using namespace std::chrono_literals;

template <class Done>
bool in_time(Done done) {
  const auto until = std::chrono::steady_clock::now() + 20s;
  while (!done()) {
    if (std::chrono::steady_clock::now() > until) return false;
    std::this_thread::sleep_for(200us);
  }
  return true;
}

/// Work that stands still until it is let go or told to stop.
struct Gate {
  std::atomic<bool> open = false;
  std::atomic<int> begun = 0, ended = 0, stopped = 0;
  Worker::Work work() {
    return [this](std::uint64_t, const JobContext& context) {
      ++begun;
      context.progress(2, "standing");
      while (!open && !context.stop.stop_requested()) std::this_thread::sleep_for(200us);
      if (context.stop.stop_requested()) ++stopped;
      ++ended;
    };
  }
};

}  // namespace

TEST_CASE("newer work of a lane stops what runs there, or lets it come to its end") {
  for (const WhileRunning newer : {WhileRunning::stop_it, WhileRunning::let_it_end}) {
    Gate first, second;
    second.open = true;
    Worker worker(1, [] {});
    worker.start(0, first.work());
    REQUIRE(in_time([&] { return first.begun == 1; }));
    worker.start(0, second.work(), newer);
    if (newer == WhileRunning::let_it_end) {
      std::this_thread::sleep_for(5ms);
      CHECK(first.ended == 0);
      first.open = true;
    }
    REQUIRE(in_time([&] { return second.ended == 1; }));
    CHECK(first.stopped == (newer == WhileRunning::stop_it ? 1 : 0));
  }
}

TEST_CASE("a lane's newer work leaves other lanes alone; cancel says whether something waited") {
  Gate runs, dropped, waits;
  waits.open = true;
  Worker worker(3, nullptr);
  const auto number = worker.start(2, runs.work());
  REQUIRE(in_time([&] { return runs.begun == 1; }));
  worker.start(1, dropped.work());
  worker.start(0, waits.work());
  REQUIRE(in_time([&] { return worker.progress().front().share == 1; }));
  const auto progress = worker.progress();
  REQUIRE(progress.size() == 3);
  CHECK((progress[0].running && progress[0].lane == 2 && progress[0].number == number));
  CHECK(progress[0].step == "standing");
  CHECK((progress[1].lane == 0 && progress[2].lane == 1));
  CHECK(worker.cancel(1));
  CHECK_FALSE(worker.cancel(1));
  CHECK_FALSE(worker.cancel(2));
  REQUIRE(in_time([&] { return worker.progress().empty(); }));
  CHECK((runs.stopped == 1 && waits.ended == 1 && dropped.begun == 0));
}

TEST_CASE("the end of a worker stops what runs and drops what waits") {
  Gate runs, waits;
  {
    Worker worker(2, [] {});
    worker.start(0, runs.work());
    REQUIRE(in_time([&] { return runs.begun == 1; }));
    worker.start(1, waits.work());
  }
  CHECK((runs.stopped == 1 && waits.begun == 0));
}

}  // namespace haftwright
