// Plans as others see them: which demand each part serves, cuts and leftovers.
#pragma once

#include "assignment.hpp"

namespace haftwright::nesting::inner {

struct Prepared {
  std::vector<ReadyStock> stocks;
  std::vector<Patterns> patterns;
};

Plan told(const Problem& problem, const Tasks& tasks, const Prepared& prepared,
          const std::vector<Offer>& offers, const Chosen& chosen);

}  // namespace haftwright::nesting::inner
