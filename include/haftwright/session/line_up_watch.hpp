// Whether both sides line up, computed beside the window: in a thread of its own, the newest design first.
//
// Sampling thousands of handles for every way of drilling and every change takes some tenths of a second, too
// long for a frame. So the project's own way is sampled at once, for every frame of a drag that the thread
// can follow, and the rest when the design has come to rest; that stops as soon as something newer is asked.
#pragma once

#include <functional>
#include <memory>
#include <mutex>
#include <optional>
#include <string>

#include "haftwright/alignment/assess.hpp"
#include "haftwright/alignment/dry_fit.hpp"
#include "haftwright/alignment/findings.hpp"
#include "haftwright/session/worker.hpp"

namespace haftwright {

struct LineUpAnswer {
  std::shared_ptr<const Design> design;  ///< what the rest is about
  std::string problem;                   ///< why there is no report; empty when there is one
  /// With `whole` false only the project's own way is in it, without shares and changes.
  LineUpReport report;
  std::vector<Finding> findings;  ///< of the project's own way
  bool whole = false;
  SampleSettings settings;
  std::optional<DryFit> dry_fit;  ///< only when `whole`
  std::vector<UnusedReading> unused_readings;
};

class LineUpWatch {
 public:
  /// `wake` is called from the thread whenever there is a new answer: post an empty event there.
  explicit LineUpWatch(std::function<void()> wake, SampleSettings settings = {.samples = 20'000});
  /// Asks for `design`; a design that still waits is dropped. `moving`: a newer one comes in a moment, so
  /// that its own way is enough. Nothing is done for what was asked for last.
  void want(std::shared_ptr<const Design> design, bool moving = false);
  /// Asks for the project's own way, unless `design` was asked for last anyway.
  void want_own_way(std::shared_ptr<const Design> design);
  /// Another project: no answer to what was asked before comes any more.
  void forget();
  /// The newest answer, of LineUpAnswer::design; null before the first. The same pointer until there is a
  /// newer one.
  std::shared_ptr<const LineUpAnswer> answer() const;
  /// The newest one that is whole, maybe of an older design; null before the first.
  std::shared_ptr<const LineUpAnswer> whole_answer() const;
  /// True while what was asked for last has no answer yet.
  bool busy() const;

 private:
  using Answer = LineUpAnswer (*)(std::shared_ptr<const Design>, const SampleSettings&);
  struct Asked {
    std::shared_ptr<const Design> design;  ///< null: nothing
    bool moving = false;
    bool operator==(const Asked&) const = default;
  };
  void compute(std::size_t lane, Answer make_answer, std::shared_ptr<const Design> design, unsigned project);
  void publish(LineUpAnswer answer, unsigned project);

  SampleSettings settings_;
  mutable std::mutex mutex_;  // guards all below but the worker, whose own lock is always taken second
  Asked last_;                ///< asked for last
  unsigned project_ = 0;      ///< grows when what was asked before is forgotten
  std::shared_ptr<const LineUpAnswer> answer_;
  std::shared_ptr<const LineUpAnswer> whole_answer_;
  Worker worker_;  // last: its thread uses all the others
};

}  // namespace haftwright
