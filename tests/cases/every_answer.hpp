// Every answer the program has for a design, asked for one after the other, and what is wrong with its
// figures.
#pragma once

#include <string>
#include <vector>

#include "haftwright/design/design.hpp"
#include "haftwright/handle/handle.hpp"

namespace haftwright::test {

/// Areas, volumes and lengths that are not finite or negative, by name; empty when all is well.
std::vector<std::string> bad_figures(const Handle& handle);

struct Answers {
  bool laid_out = false;              ///< else `refusals` holds the reason
  std::vector<std::string> refusals;  ///< "field: what" of every InputError on the way
  std::vector<std::string> bad;       ///< figures as above, with those of findings, line-up, guide and meshes
};

/// Layout, checks, epoxy, guide with its mesh, line-up (few draws), mesh of the handle. Anything thrown but
/// InputError passes through.
/// InputError passes through.
Answers every_answer(const Design& design);

}  // namespace haftwright::test
