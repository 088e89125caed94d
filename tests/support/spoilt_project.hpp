// Project files with values spoilt: most stay projects that could have been meant, some are refused.
#pragma once

#include <nlohmann/json.hpp>

#include "support/random.hpp"

namespace haftwright::test {

/// Changes one to three values or list entries of a project: numbers by a little, a lot, to the edge of what
/// a double holds or to another number of the same file; texts to another text of it; lists lose, double or
/// swap entries; keys go. A function of `file` and the state of `random` alone.
nlohmann::ordered_json spoilt_project(const nlohmann::ordered_json& file, Random& random);

}  // namespace haftwright::test
