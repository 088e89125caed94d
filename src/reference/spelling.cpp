// The nearest word, for error messages that say what was probably meant.
#include <algorithm>
#include <numeric>
#include <vector>

#include "haftwright/reference/materials.hpp"

namespace haftwright {
namespace {

/// Least number of single characters to put in, take out or change (Levenshtein distance).
std::size_t edit_distance(std::string_view a, std::string_view b) {
  std::vector<std::size_t> row(b.size() + 1);
  std::iota(row.begin(), row.end(), std::size_t{0});
  for (std::size_t i = 1; i <= a.size(); ++i) {
    std::size_t diagonal = row[0];
    row[0] = i;
    for (std::size_t j = 1; j <= b.size(); ++j) {
      const std::size_t changed = diagonal + (a[i - 1] == b[j - 1] ? 0 : 1);
      diagonal = row[j];
      row[j] = std::min({changed, row[j] + 1, row[j - 1] + 1});
    }
  }
  return row[b.size()];
}

}  // namespace

std::string nearest_word(std::string_view word, std::span<const std::string> candidates) {
  // A third of the letters wrong is as far as a slip of the fingers goes; beyond that a guess misleads.
  const std::size_t most_edits = std::max<std::size_t>(1, word.size() / 3);
  constexpr std::size_t kLongestWord = 64;  // the word comes from a file and may be of any length
  if (word.empty() || word.size() > kLongestWord) return {};
  std::string best;
  std::size_t least = most_edits + 1;
  for (const auto& candidate : candidates) {
    const std::size_t edits = edit_distance(word, candidate);
    if (edits >= least) continue;
    least = edits;
    best = candidate;
  }
  return best;
}

}  // namespace haftwright
