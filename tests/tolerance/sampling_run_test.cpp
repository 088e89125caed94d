// How sampling runs: its progress, how it is stopped, and what it does where no thread can be started.
#include <algorithm>
#include <catch2/catch.hpp>
#include <cstddef>
#include <stop_token>
#include <system_error>
#include <thread>
#include <vector>
#ifdef __GLIBC__
#include <pthread.h>
#endif

#include "haftwright/tolerance/sampling.hpp"
#include "tolerance/random_stack.hpp"

using namespace haftwright;
using namespace haftwright::test;

TEST_CASE("progress is reported on the calling thread, rises, and ends with the last sample") {
  for (const unsigned threads : {1u, 4u}) {
    std::vector<std::uint64_t> seen;
    const auto here = std::this_thread::get_id();
    const auto progress = [&](std::uint64_t sampled) {
      CHECK(std::this_thread::get_id() == here);
      seen.push_back(sampled);
    };
    const Samples samples =
        sample(random_stack(3), {.samples = 100'001, .seed = 3, .threads = threads, .progress = progress});
    CHECK(same_bits(samples, sample(random_stack(3), {.samples = 100'001, .seed = 3, .threads = threads})));
    CHECK(std::ranges::is_sorted(seen));
    if (threads == 1) REQUIRE(seen.size() > 20);
    if (threads == 1) CHECK(seen.back() == 100'001);
    for (const std::uint64_t sampled : seen) CHECK(sampled <= 100'001);
  }
}

TEST_CASE("a requested stop ends the sampling of any number of handles soon") {
  std::stop_source stop;
  std::uint64_t last = 0;
  // 4e9 samples would take hours.
  SampleSettings settings{.samples = 4'000'000'000, .threads = 2, .stop = stop.get_token()};
  settings.progress = [&](std::uint64_t sampled) {
    last = sampled;
    if (sampled > 20'000) stop.request_stop();
  };
  CHECK_THROWS_AS(sample(random_stack(3), settings), SamplingStopped);
  CHECK(last < 1'000'000);
  settings.samples = 1000;
  CHECK_THROWS_AS(sample(random_stack(3), settings), SamplingStopped);
  CHECK_THROWS_AS(interference_of(random_stack(3), settings), SamplingStopped);
}

#ifdef __GLIBC__
namespace {

/// Asks for stacks so large that no thread can be started.
class NoThreads {
 public:
  NoThreads() {
    pthread_getattr_default_np(&before_);
    pthread_attr_t huge;
    pthread_attr_init(&huge);
    pthread_attr_setstacksize(&huge, std::size_t{1} << 46);
    pthread_setattr_default_np(&huge);
    pthread_attr_destroy(&huge);
  }
  ~NoThreads() {
    pthread_setattr_default_np(&before_);
    pthread_attr_destroy(&before_);
  }
  NoThreads(const NoThreads&) = delete;
  NoThreads& operator=(const NoThreads&) = delete;

 private:
  pthread_attr_t before_;
};

}  // namespace

TEST_CASE("where no thread can be started the calling one samples alone, the same bits") {
  const SampleSettings settings{.samples = 50'000, .seed = 3, .threads = 8};
  const Samples usual = sample(random_stack(3), settings);
  const NoThreads none;
  REQUIRE_THROWS_AS(std::thread([] {}), std::system_error);
  CHECK(same_bits(sample(random_stack(3), settings), usual));
}
#endif
