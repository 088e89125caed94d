// How many random cases a long test tries, and from which seed on.
#pragma once

#include <cstdint>
#include <cstdlib>
#include <sstream>

namespace haftwright::test {

struct Seeds {
  std::uint64_t count = 0;
  std::uint64_t first = 0;
};

struct Counts {
  std::uint64_t few;  ///< HAFTWRIGHT_SHORT in the environment: sanitizers make each slow
  std::uint64_t usual;
  std::uint64_t all;  ///< HAFTWRIGHT_LONG
};

/// `variable` in the environment, "COUNT FIRST", asks for a share of its own, so that several processes can
/// divide the work.
inline Seeds seeds_to_try(const char* variable, const Counts& counts, std::uint64_t first) {
  Seeds seeds{counts.usual, first};
  if (std::getenv("HAFTWRIGHT_SHORT")) seeds.count = counts.few;
  if (std::getenv("HAFTWRIGHT_LONG")) seeds.count = counts.all;
  if (const char* asked = std::getenv(variable)) std::istringstream(asked) >> seeds.count >> seeds.first;
  return seeds;
}

}  // namespace haftwright::test
