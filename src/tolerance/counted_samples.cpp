// Quantiles out of bins.
#include <algorithm>
#include <cmath>

#include "sample_engine.hpp"

namespace haftwright::tolerance {

CountedSpread::CountedSpread(const Counts& counts, const FineBins& fine, std::uint64_t samples)
    : counts_(counts), fine_(fine), least_(counts.least), greatest_(counts.greatest) {
  std::uint64_t sum = 0;
  for (const std::uint32_t in_bin : counts.bins) {
    before_.push_back(sum);
    sum += in_bin;
  }
  before_.push_back(samples);
}

/// The open bins end at the least and the greatest value sampled.
double CountedSpread::edge(int bin) const {
  if (bin == 0) return least_;
  if (bin == fine_bins) return greatest_;
  return std::clamp(fine_.from + bin / static_cast<double>(fine_.in_one_mm), least_, greatest_);
}

double CountedSpread::quantile(double share) const {
  const double wanted = share * static_cast<double>(before_.back());
  const auto after = std::upper_bound(before_.begin(), before_.end(), static_cast<std::uint64_t>(wanted));
  const int bin = std::clamp(static_cast<int>(after - before_.begin()) - 1, 0, fine_bins - 1);
  const auto count = counts_.bins[bin];
  const double part =
      count == 0 ? 0
                 : std::clamp((wanted - static_cast<double>(before_[static_cast<std::size_t>(bin)])) / count,
                              0.0, 1.0);
  return edge(bin) + part * (edge(bin + 1) - edge(bin));
}

double CountedSpread::below(double x) const {
  if (x < least_) return 0;
  if (x >= greatest_) return static_cast<double>(before_.back());
  const int bin =
      std::clamp(static_cast<int>(std::floor((x - fine_.from) * fine_.in_one_mm)), 0, fine_bins - 1);
  const double low = edge(bin);
  const double high = edge(bin + 1);
  const double part = high > low ? std::clamp((x - low) / (high - low), 0.0, 1.0) : 1;
  return static_cast<double>(before_[static_cast<std::size_t>(bin)]) + part * counts_.bins[bin];
}

double CountedSpread::size(double middle, double share) const {
  double high = std::max(std::abs(middle + least_), std::abs(middle + greatest_));
  if (least_ == greatest_) return high;
  double low = 0;
  const double wanted = share * static_cast<double>(before_.back());
  for (int i = 0; i < 60; ++i) {
    const double t = 0.5 * (low + high);
    (below(t - middle) - below(-t - middle) >= wanted ? high : low) = t;
  }
  return high;
}

}  // namespace haftwright::tolerance
