#include <algorithm>
#include <string>

#include "haftwright/nesting/shortfalls.hpp"

namespace haftwright::nesting {

namespace {

enum class Together { placed, impossible, not_found };

/// Whether these demands can be placed when nobody asks for the others; what is fixed of others still lies
/// there.
Together try_together(const Problem& problem, const std::vector<std::size_t>& demands,
                      const Running& running) {
  Problem some = problem;
  for (std::size_t d = 0; d < some.demands.size(); ++d) {
    if (std::find(demands.begin(), demands.end(), d) != demands.end()) continue;
    for (Way& way : some.demands[d].ways)
      for (Part& part : way.parts) part.candidates.clear();
  }
  const Plans plans = plan(some, 1, running);
  if (plans.plans.empty()) return Together::not_found;
  const Plan& best = plans.plans[0];
  const auto is_placed = [&](std::size_t d) {
    return std::find(best.unplaced_demands.begin(), best.unplaced_demands.end(), d) ==
           best.unplaced_demands.end();
  };
  if (std::all_of(demands.begin(), demands.end(), is_placed)) return Together::placed;
  return best.proven_best ? Together::impossible : Together::not_found;
}

}  // namespace

Conflict minimal_conflict(const Problem& problem, std::span<const std::size_t> demands,
                          const Running& running) {
  check(problem);
  for (const std::size_t demand : demands)
    if (demand >= problem.demands.size())
      throw std::invalid_argument("demands: " + std::to_string(demand) + ", but there are only " +
                                  std::to_string(problem.demands.size()));
  Conflict conflict{{demands.begin(), demands.end()}, false};
  Together whole = try_together(problem, conflict.demands, running);
  if (whole == Together::placed) return {};
  conflict.proven = whole == Together::impossible;
  for (std::size_t i = 0; i < conflict.demands.size() && !running.stop.stop_requested();) {
    std::vector<std::size_t> fewer = conflict.demands;
    fewer.erase(fewer.begin() + static_cast<std::ptrdiff_t>(i));
    const Together rest = fewer.empty() ? Together::placed : try_together(problem, fewer, running);
    if (rest == Together::placed) {
      ++i;
      continue;
    }
    conflict.demands = std::move(fewer);
    conflict.proven = rest == Together::impossible;
  }
  return conflict;
}

}  // namespace haftwright::nesting
