// A project planned over a bin, for the verbs that show what comes of it.
#pragma once

#include <optional>

#include "haftwright/cutting/plan.hpp"
#include "haftwright/preview/wood_pictures.hpp"
#include "plan.hpp"
#include "project.hpp"

namespace haftwright::command {

/// The file meant: the one typed, or the person's own.
std::filesystem::path bin_of(const PlanOptions& options);

struct PlannedOver {
  Bin bin;
  CuttingWishes wishes;
  CuttingPlans plans;
};
/// None where the bin can't be read, which is told under its own name. Throws InputError for a plan to take
/// that there is none of, and for places typed for blanks that they can't have; the design of `project` is
/// the one with these places afterwards. `options.common.project` is the project's file.
std::optional<PlannedOver> plan_over_bin(const PlanOptions& options, Project& project);

/// The photos of the taken plan's wood; says on stderr of which pieces there is none, and why.
std::vector<WoodPicture> woods_of(const PlannedOver& planned, const PlanOptions& options,
                                  const Project& project);

}  // namespace haftwright::command
