// Whether the search is to go on.
#pragma once

#include <atomic>
#include <chrono>

#include "haftwright/nesting/plan.hpp"

namespace haftwright::nesting::inner {

class Watch {
 public:
  explicit Watch(const Running& running)
      : stop_(running.stop),
        end_(std::chrono::steady_clock::now() + std::chrono::microseconds(static_cast<std::int64_t>(
                                                    std::min(running.time_limit_s, 1e6) * 1e6))) {}
  bool over() const {
    if (over_) return true;
    if (!stop_.stop_requested() && std::chrono::steady_clock::now() < end_) return false;
    over_ = true;
    return true;
  }
  bool stopped() const { return stop_.stop_requested(); }

 private:
  std::stop_token stop_;
  std::chrono::steady_clock::time_point end_;
  mutable std::atomic<bool> over_ = false;
};

}  // namespace haftwright::nesting::inner
