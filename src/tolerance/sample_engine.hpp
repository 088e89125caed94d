// Drawing with a kernel of one's choice, for tests and benchmarks.
#pragma once

#include "haftwright/tolerance/sampling.hpp"
#include "sample_kernel.hpp"

namespace haftwright::tolerance {

Samples sample_with(const SampleKernel& kernel, const ToleranceStack& stack, const SampleSettings& settings);

/// A coordinate and the share of samples below it, linear between the edges of the bins.
class CountedSpread {
 public:
  CountedSpread(const Counts& counts, const FineBins& fine, std::uint64_t samples);
  /// The value that a share of the samples is below.
  double quantile(double share) const;
  /// The least t for which `share` of the samples have |middle + value| <= t.
  double size(double middle, double share) const;

 private:
  double below(double x) const;
  double edge(int bin) const;

  const Counts& counts_;
  const FineBins& fine_;
  double least_;
  double greatest_;
  std::vector<std::uint64_t> before_;  ///< samples below each bin
};

}  // namespace haftwright::tolerance
