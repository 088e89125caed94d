// Waits for what a thread tells, with a deadline that only a hang reaches.
#pragma once

#include <chrono>
#include <condition_variable>
#include <mutex>

namespace haftwright::test {

class Bell {
 public:
  void ring() {
    const std::lock_guard lock(mutex_);
    rung_.notify_all();
  }
  template <class Condition>
  bool until(Condition condition) {
    const auto deadline = std::chrono::steady_clock::now() + std::chrono::minutes(2);
    std::unique_lock lock(mutex_);
    while (!condition()) {
      if (std::chrono::steady_clock::now() > deadline) return false;
      rung_.wait_for(lock, std::chrono::milliseconds(20));
    }
    return true;
  }

 private:
  std::mutex mutex_;
  std::condition_variable rung_;
};

}  // namespace haftwright::test
