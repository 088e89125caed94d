// What one strip of samples adds to the counts; see sample_lanes.hpp for why nothing here has linkage.
#pragma once

#include "sample_lanes.hpp"

namespace haftwright::tolerance {
namespace {

/// Sums go lane by lane, so that their bits do not depend on the instruction set.
HAFTWRIGHT_LANES void count_one(const Strip& strip, int samples, const FineBins& fine, Counts& counts,
                                Sums& sums) {
  F8 sum = all(0.0f);
  F8 squares = all(0.0f);
  F8 low = all(counts.least);
  F8 high = all(counts.greatest);
  for (int k = 0; k * lanes < samples; ++k) {
    F8 x = strip.at[k];
    F8 bin = (x - fine.from) * fine.in_one_mm;
    bin = least(greatest(bin, all(0.0f)), all(fine_bins - 0.5f));
    const I8 bins = __builtin_convertvector(bin, I8);
    const int here = samples - k * lanes < lanes ? samples - k * lanes : lanes;
    for (int i = here; i < lanes; ++i) x[i] = 0;
    sum += x;
    squares += x * x;
    for (int i = here; i < lanes; ++i) x[i] = x[0];
    low = least(low, x);
    high = greatest(high, x);
    for (int i = 0; i < here; ++i) ++counts.bins[bins[i]];
  }
  for (int i = 0; i < lanes; ++i) {
    sums.sum += sum[i];
    sums.squares += squares[i];
    counts.least = low[i] < counts.least ? low[i] : counts.least;
    counts.greatest = high[i] > counts.greatest ? high[i] : counts.greatest;
  }
}

HAFTWRIGHT_LANES void count(const SampledStack& stack, const StripRoom& room, int samples, Tally& tally,
                            Sums* sums) {
  const std::uint64_t counted =
      samples == strip_samples ? ~std::uint64_t{0} : (std::uint64_t{1} << samples) - 1;
  std::uint64_t any = 0;
  for (std::uint32_t m = 0; m < stack.measures.count; ++m) {
    const SampledMeasure& measure = stack.measures.first[m];
    std::uint64_t shows = 0;
    for (int k = 0; k < strip_lanes; ++k) {
      const F8 x = room.added[m].at[k];
      shows |= std::uint64_t{bits_of((x > measure.shows_above) | (x < measure.shows_below))} << (k * lanes);
    }
    shows &= counted;
    any |= shows;
    tally.counts[m].shows += static_cast<std::uint64_t>(__builtin_popcountll(shows));
  }
  for (std::uint32_t m = 0; m <= stack.measures.count; ++m)
    count_one(room.added[m], samples, tally.fine[m], tally.counts[m], sums[m]);
  tally.any_shows += static_cast<std::uint64_t>(__builtin_popcountll(any));
  tally.no_fit += static_cast<std::uint64_t>(__builtin_popcountll(room.no_fit & counted));
}

void count_strip(const SampledStack& stack, const StripRoom& room, int samples, Tally& tally, Sums* sums) {
  if (samples == strip_samples)
    count(stack, room, strip_samples, tally, sums);
  else
    count(stack, room, samples, tally, sums);
}

}  // namespace
}  // namespace haftwright::tolerance
