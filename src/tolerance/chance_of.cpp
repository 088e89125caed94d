// Wilson's score interval: E. B. Wilson, "Probable inference, the law of succession, and statistical
// inference", Journal of the American Statistical Association 22 (1927), 209-212.
#include <algorithm>
#include <cmath>
#include <numbers>
#include <stdexcept>

#include "haftwright/tolerance/sampling.hpp"

namespace haftwright {
namespace {

/// z for which a standard normal value lies within +-z with this probability: Newton's steps on the error
/// function, from below, where it is concave.
double half_width(double confidence) {
  double z = 0;
  for (int i = 0; i < 60; ++i) {
    const double slope = std::sqrt(2 / std::numbers::pi) * std::exp(-z * z / 2);
    const double step = (confidence - std::erf(z / std::numbers::sqrt2)) / slope;
    z += step;
    if (std::abs(step) < 1e-14) break;
  }
  return z;
}

}  // namespace

Chance chance_of(std::uint64_t hits, std::uint64_t samples, double confidence) {
  if (samples == 0 || hits > samples)
    throw std::invalid_argument("hits must be at most samples, and samples at least 1");
  if (!(confidence > 0 && confidence < 1)) throw std::invalid_argument("confidence must be between 0 and 1");
  const double n = static_cast<double>(samples);
  const double share = static_cast<double>(hits) / n;
  const double z = half_width(confidence);
  const double middle = (share + z * z / (2 * n)) / (1 + z * z / n);
  const double half = z / (1 + z * z / n) * std::sqrt(share * (1 - share) / n + z * z / (4 * n * n));
  return {.share = share,
          .low = hits == 0 ? 0 : std::max(0.0, middle - half),
          .high = hits == samples ? 1 : std::min(1.0, middle + half)};
}

}  // namespace haftwright
