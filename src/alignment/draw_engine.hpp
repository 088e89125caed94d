// Drawing with a kernel of one's choice, for tests and benchmarks.
#pragma once

#include "draw_kernel.hpp"
#include "haftwright/alignment/draws.hpp"

namespace haftwright::alignment {

Draws draw_with(const DrawKernel& kernel, const Chain& chain, const DrawSettings& settings);

/// A coordinate and the share of draws below it, linear between the edges of the bins.
class CountedSpread {
 public:
  CountedSpread(const Counts& counts, const FineBins& fine, std::uint64_t draws);
  /// The value that a share of the draws is below.
  double quantile(double share) const;
  /// The least t for which `share` of the draws have |middle + value| <= t.
  double size(double middle, double share) const;

 private:
  double below(double x) const;
  double edge(int bin) const;

  const Counts& counts_;
  const FineBins& fine_;
  double least_;
  double greatest_;
  std::vector<std::uint64_t> before_;  ///< draws below each bin
};

}  // namespace haftwright::alignment
