// One edit of any kind, as a restless maker would make it.
#pragma once

#include "haftwright/edits/edits.hpp"
#include "support/random.hpp"

namespace haftwright::test {

/// Most are good, some are refused by the edit itself, some make a Design that can't be laid out.
Edited random_edit(Random& random, const Design& design);

}  // namespace haftwright::test
