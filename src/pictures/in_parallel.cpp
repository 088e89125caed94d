#include "in_parallel.hpp"

#include <algorithm>
#include <atomic>
#include <system_error>
#include <thread>
#include <vector>

namespace haftwright::pictures {

void in_parallel(int count, unsigned threads, const std::function<void(int)>& work) {
  if (threads == 0) threads = std::max(1u, std::thread::hardware_concurrency());
  threads = std::min(threads, static_cast<unsigned>(std::max(1, count)));
  std::atomic<int> next{0};
  const auto take_turns = [&] {
    for (int i = next++; i < count; i = next++) work(i);
  };
  std::vector<std::jthread> others;
  try {
    while (others.size() + 1 < threads) others.emplace_back(take_turns);
  } catch (const std::system_error&) {
    // No more threads to be had: those that there are do all the work.
  }
  take_turns();
}

}  // namespace haftwright::pictures
