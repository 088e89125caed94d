// Every answer the program has for a design, asked for one after the other, and what is wrong with its
// figures.
#pragma once

#include <string>
#include <vector>

#include "haftwright/design/design.hpp"

namespace haftwright::test {

struct Answers {
  bool laid_out = false;              ///< else `refusals` holds the reason
  std::vector<std::string> refusals;  ///< "field: what" of every InputError on the way
  std::vector<std::string> bad;       ///< figures that are not finite, amounts less than nothing, by name
};

/// Layout, volumes, checks, epoxy, guide with its mesh, line-up (few samples), mesh of the handle. Anything
/// thrown but InputError passes through.
Answers every_answer(const Design& design);

}  // namespace haftwright::test
