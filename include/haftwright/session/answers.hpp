// Everything the program can tell about a Design, derived whole.
#pragma once

#include <memory>
#include <mutex>
#include <string>
#include <vector>

#include "haftwright/checks/checks.hpp"
#include "haftwright/design/validate.hpp"
#include "haftwright/estimates/epoxy.hpp"
#include "haftwright/guide/drill_guide.hpp"
#include "haftwright/handle/handle.hpp"

namespace haftwright {

struct GuideAnswer {
  std::shared_ptr<const DrillGuide> plan;  ///< null when no guide can be made; its findings are inside
  std::vector<Problem> problems;           ///< why there is no plan
};

struct Answers {
  std::shared_ptr<const Design> design;  ///< what the rest is about; never null
  std::vector<Problem> problems;         ///< why there is no handle; empty when there is one
  bool valid = false;                    ///< passes validate(), so that it may be saved and read back

  std::shared_ptr<const Handle> handle;  ///< null when the Design can't be laid out; then all below is empty
  std::vector<Finding> findings;         ///< worst first
  EpoxyEstimate epoxy;
  std::vector<std::string> cautions;

  bool laid_out() const { return handle != nullptr; }
  /// The drill guide takes many times longer than all the rest, so it is laid out when it is first asked
  /// for; safe from any thread. In a drag ask Document::settled_answers() for it.
  const GuideAnswer& guide() const;

 private:
  struct Once {
    std::once_flag asked;
    GuideAnswer answer;
  };
  std::shared_ptr<Once> guide_ = std::make_shared<Once>();
};

/// Pure, and fast enough for every frame of a drag. Never throws for what a Design may hold: what goes wrong
/// is told in `problems`.
Answers derive(std::shared_ptr<const Design> design);

}  // namespace haftwright
