// Long work beside the window: a thread of its own, with progress and a way to stop it.
//
// Work goes into lanes, one for each kind of it; the newest of a lane wins: what waits there is replaced, and
// what runs is told to stop unless it is to come to its end. What waits is begun in order of the lanes. All
// that takes longer than a frame goes through here; whoever must not wait for another's work has a Worker of
// its own.
#pragma once

#include <cstddef>
#include <cstdint>
#include <functional>
#include <memory>
#include <string>
#include <vector>

#include "haftwright/solids/solids.hpp"

namespace haftwright {

/// What newer work of a lane does to the one that runs.
enum class WhileRunning { stop_it, let_it_end };

struct WorkProgress {
  std::size_t lane = 0;
  std::uint64_t number = 0;
  bool running = false;  ///< else it waits
  double share = 0;      ///< 0 to 1
  std::string step;      ///< "left front piece"
};

class Worker {
 public:
  /// Given its own number and what to ask between steps. Must not throw.
  using Work = std::function<void(std::uint64_t number, const JobContext&)>;

  /// `wake` is called from the worker's thread whenever there is progress or some work has ended.
  Worker(std::size_t lanes, std::function<void()> wake);
  /// Drops what waits, tells the running work to stop and waits for it.
  ~Worker();
  Worker(const Worker&) = delete;
  Worker& operator=(const Worker&) = delete;

  /// Returns at once with the work's number, which no other of this Worker ever has.
  std::uint64_t start(std::size_t lane, Work work, WhileRunning newer = WhileRunning::stop_it);
  /// Tells the lane's running work to stop and drops what waits there. Returns true when something waited.
  bool cancel(std::size_t lane);
  /// Running first, then waiting, in order of the lanes.
  std::vector<WorkProgress> progress() const;

 private:
  struct State;
  std::unique_ptr<State> state_;
};

}  // namespace haftwright
