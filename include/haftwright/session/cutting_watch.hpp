// The cutting plan, computed beside the window: in a thread of its own, the newest question first.
//
// A plan takes from milliseconds to a minute. So it begins when what is asked has rested for a moment, and
// stops as soon as something newer is asked; the last answer stays until the new one is there. Why something
// has no place comes after the plan, in the same job.
#pragma once

#include <chrono>
#include <functional>
#include <memory>
#include <mutex>
#include <string>
#include <vector>

#include "haftwright/checks/finding.hpp"
#include "haftwright/cutting/plan.hpp"
#include "haftwright/cutting/why_not.hpp"
#include "haftwright/session/worker.hpp"

namespace haftwright {

/// What a plan is made from. Equal when both point at the same values.
struct CuttingQuestion {
  std::shared_ptr<const Design> design;  ///< null: nothing
  std::shared_ptr<const Bin> bin;
  CuttingWishes wishes;
  bool operator==(const CuttingQuestion&) const = default;
};

struct CuttingAnswer {
  CuttingQuestion asked;
  std::string problem;  ///< why there is no plan; empty when there is one
  CuttingPlans plans;   ///< such as differ in which piece comes from which offcut, or in the pairing of mates
  std::vector<std::vector<Finding>> findings;  ///< of each plan, worst first
  std::vector<WhyNot> reasons;                 ///< of the best plan, once `reasons_known`
  bool reasons_known = false;
};

class CuttingWatch {
 public:
  /// `wake` is called from the thread whenever there is progress or a new answer: post an empty event there.
  /// `rest`: so long must nothing newer be asked before the work begins.
  explicit CuttingWatch(std::function<void()> wake,
                        std::chrono::milliseconds rest = std::chrono::milliseconds(250));
  /// Nothing is done for what was asked for last, be it answered, under way or stopped.
  void want(CuttingQuestion question);
  /// Stops the work; what was there before stays. again() asks the same once more.
  void stop();
  void again();
  /// Another project: no answer to what was asked before comes any more, and none is kept.
  void forget();

  /// The newest answer, maybe to an older question; null before the first.
  std::shared_ptr<const CuttingAnswer> answer() const;
  /// What was asked for last.
  CuttingQuestion question() const;
  bool busy() const;
  bool stopped() const;
  /// 0 to 1, of the work under way.
  double share() const;

 private:
  void begin(const CuttingQuestion& question, unsigned number);
  void work(const CuttingQuestion& question, unsigned number, const JobContext& context);
  void publish(CuttingAnswer answer, unsigned number, bool last);

  std::chrono::milliseconds rest_;
  mutable std::mutex mutex_;  // guards all below but the worker, whose own lock is always taken second
  CuttingQuestion last_;      ///< asked for last
  unsigned number_ = 0;       ///< of what was asked for last; answers to others are dropped
  bool busy_ = false;
  bool stopped_ = false;
  std::shared_ptr<const CuttingAnswer> answer_;
  Worker worker_;  // last: its thread uses all the others
};

}  // namespace haftwright
