#include "haftwright/tolerance/sampling.hpp"

#include <algorithm>
#include <atomic>
#include <cmath>
#include <limits>
#include <stdexcept>
#include <system_error>
#include <thread>

#include "sample_engine.hpp"
#include "sample_program.hpp"

namespace haftwright {

using namespace tolerance;
namespace {

/// Sums are added up within a run of samples, and runs in their order, so that rounding does not hang on
/// which thread did what.
constexpr std::uint64_t run_samples = 4096;
/// The bins are laid out by what the first samples come to: this many, and this many standard deviations
/// about their mean. A bin is then 12/2048 of a standard deviation, under 0.2 % of the spread that holds 95
/// of 100.
constexpr int trial_samples = 1024;
constexpr double binned_deviations = 6;
constexpr std::size_t shown_bins = 64;

struct Room {
  Room(Room&&) = default;  // the strips stay where they are
  explicit Room(const SampleProgram& program)
      : variables(program.stack().variables),
        added(program.stack().measures.count + 1),
        pins(3 * program.most_pins()),
        strip{.variables = variables.data(), .added = added.data(), .pins = pins.data()} {}
  std::vector<Strip> variables;
  std::vector<Strip> added;
  std::vector<Strip> pins;
  StripRoom strip;
};

Counts no_counts() {
  Counts counts{};
  counts.least = std::numeric_limits<float>::infinity();
  counts.greatest = -counts.least;
  return counts;
}

/// Everything one call has in common.
struct Drawing {
  const SampleKernel& kernel;
  const SampleProgram& program;
  const SampleSettings& settings;
  std::vector<FineBins> fine;
  std::vector<Sums> sums;  ///< of each run: one a measure, and one for the greatest step
  std::size_t columns() const { return program.stack().measures.count + std::size_t{1}; }
  std::uint64_t runs() const { return (settings.samples + run_samples - 1) / run_samples; }
};

/// What one thread works with; made before the thread, so that no thread can fail for want of memory.
struct Hand {
  explicit Hand(const Drawing& sampling) : room(sampling.program), counts(sampling.columns(), no_counts()) {}
  Room room;
  std::vector<Counts> counts;
  std::uint64_t any_shows = 0;
  std::uint64_t no_fit = 0;
};

std::vector<FineBins> lay_out_bins(const SampleKernel& kernel, const SampleProgram& program,
                                   std::uint64_t samples) {
  Room room(program);
  std::vector<Sums> sums(room.added.size());
  const auto trials = std::min<std::uint64_t>(samples, trial_samples);
  for (std::uint64_t first = 0; first < trials; first += strip_samples) {
    kernel.sample_strip(program.stack(), first, room.strip);
    for (std::size_t m = 0; m < sums.size(); ++m)
      for (std::uint64_t i = 0; i < std::min<std::uint64_t>(strip_samples, trials - first); ++i) {
        const double x = room.added[m].at[i / lanes][i % lanes];
        sums[m].sum += x;
        sums[m].squares += x * x;
      }
  }
  std::vector<FineBins> fine;
  for (const Sums& sum : sums) {
    const double n = static_cast<double>(trials);
    const double mean = sum.sum / n;
    const double deviation = std::sqrt(std::max(0.0, sum.squares / n - mean * mean));
    const double half = std::max(binned_deviations * deviation, 1e-6 + 1e-6 * std::abs(mean));
    fine.push_back(
        {.from = static_cast<float>(mean - half), .in_one_mm = static_cast<float>(fine_bins / (2 * half))});
  }
  return fine;
}

void sample_run(Drawing& sampling, std::uint64_t run, Room& room, Tally& tally) {
  Sums* sums = sampling.sums.data() + run * sampling.columns();
  const std::uint64_t end = std::min(sampling.settings.samples, (run + 1) * run_samples);
  for (std::uint64_t first = run * run_samples; first < end; first += strip_samples) {
    sampling.kernel.sample_strip(sampling.program.stack(), first, room.strip);
    const auto here = static_cast<int>(std::min<std::uint64_t>(strip_samples, end - first));
    sampling.kernel.count_strip(sampling.program.stack(), room.strip, here, tally, sums);
  }
}

/// Which run is next, and how many are done.
struct Runs {
  std::atomic<std::uint64_t> next = 0;
  std::atomic<std::uint64_t> done = 0;
};

template <class AfterRun>
void take_runs(Drawing& sampling, Runs& runs, Hand& hand, AfterRun after_run) {
  Tally tally{.fine = sampling.fine.data(), .counts = hand.counts.data()};
  for (std::uint64_t run = runs.next++; run < sampling.runs() && !sampling.settings.stop.stop_requested();
       run = runs.next++) {
    sample_run(sampling, run, hand.room, tally);
    ++runs.done;
    after_run();
  }
  hand.any_shows = tally.any_shows;
  hand.no_fit = tally.no_fit;
}

void add(Hand& to, const Hand& from) {
  for (std::size_t m = 0; m < to.counts.size(); ++m) {
    Counts& counts = to.counts[m];
    for (int i = 0; i < fine_bins; ++i) counts.bins[i] += from.counts[m].bins[i];
    counts.shows += from.counts[m].shows;
    counts.least = std::min(counts.least, from.counts[m].least);
    counts.greatest = std::max(counts.greatest, from.counts[m].greatest);
  }
  to.any_shows += from.any_shows;
  to.no_fit += from.no_fit;
}

/// Starts as many threads beside this one as the machine allows.
void start(std::vector<std::jthread>& threads, Drawing& sampling, Runs& runs, std::vector<Hand>& hands) {
  try {
    for (std::size_t i = 1; i < hands.size(); ++i)
      threads.emplace_back([&, i] { take_runs(sampling, runs, hands[i], [] {}); });
  } catch (const std::system_error&) {
    // The threads that did start take all runs; the result does not depend on how many they are.
  }
}

Hand sample_all(Drawing& sampling) {
  unsigned threads = sampling.settings.threads;
  if (threads == 0) threads = std::max(1u, std::thread::hardware_concurrency());
  threads = static_cast<unsigned>(std::min<std::uint64_t>(threads, sampling.runs()));
  std::vector<Hand> hands;
  hands.reserve(threads);
  for (unsigned i = 0; i < threads; ++i) hands.emplace_back(sampling);
  Runs runs;
  {
    std::vector<std::jthread> others;
    others.reserve(threads);
    start(others, sampling, runs, hands);
    const SampleSettings& settings = sampling.settings;
    take_runs(sampling, runs, hands[0], [&] {
      if (settings.progress) settings.progress(std::min(settings.samples, runs.done * run_samples));
    });
  }
  if (runs.done < sampling.runs()) throw SamplingStopped();
  for (unsigned i = 1; i < threads; ++i) add(hands[0], hands[i]);
  return std::move(hands[0]);
}

Sums total(const Drawing& sampling, std::size_t column) {
  Sums sums;
  for (std::uint64_t run = 0; run < sampling.runs(); ++run) {
    sums.sum += sampling.sums[run * sampling.columns() + column].sum;
    sums.squares += sampling.sums[run * sampling.columns() + column].squares;
  }
  return sums;
}

/// The bins that hold anything, so many put together that there are not too many to sample.
void show_bins(const Counts& counts, const FineBins& fine, double nominal, Distribution& to) {
  const auto holds = [](std::uint32_t count) { return count != 0; };
  const auto first = std::find_if(std::begin(counts.bins), std::end(counts.bins), holds) - counts.bins;
  const auto last =
      std::find_if(std::rbegin(counts.bins), std::rend(counts.bins), holds).base() - counts.bins;
  const auto used = static_cast<std::size_t>(last - first);
  const std::size_t together = (used + shown_bins - 1) / shown_bins;
  const double width = 1 / static_cast<double>(fine.in_one_mm);
  to.bins_from = nominal + fine.from + static_cast<double>(first) * width;
  to.bin_width = width * static_cast<double>(together);
  to.bins.assign((used + together - 1) / together, 0);
  for (std::size_t i = 0; i < used; ++i)
    to.bins[i / together] += counts.bins[static_cast<std::size_t>(first) + i];
}

Distribution summary(const Drawing& sampling, const Hand& hand, std::size_t m, double nominal,
                     double confidence) {
  const Counts& counts = hand.counts[m];
  const Sums sums = total(sampling, m);
  const double n = static_cast<double>(sampling.settings.samples);
  const CountedSpread spread(counts, sampling.fine[m], sampling.settings.samples);
  Distribution distribution{
      .mean = nominal + sums.sum / n,
      .deviation = std::sqrt(std::max(0.0, (sums.squares - sums.sum * sums.sum / n) / n)),
      .low_95 = nominal + spread.quantile(0.025),
      .high_95 = nominal + spread.quantile(0.975),
      .size_95 = spread.size(nominal, 0.95),
      .shows = chance_of(counts.shows, sampling.settings.samples, confidence)};
  show_bins(counts, sampling.fine[m], nominal, distribution);
  return distribution;
}

}  // namespace

Samples tolerance::sample_with(const SampleKernel& kernel, const ToleranceStack& stack,
                               const SampleSettings& settings) {
  if (settings.samples == 0 || settings.samples > std::numeric_limits<std::uint32_t>::max())
    throw std::invalid_argument("samples must be from 1 to 4294967295");
  const SampleProgram program(stack, settings.seed);
  Drawing sampling{.kernel = kernel,
                   .program = program,
                   .settings = settings,
                   .fine = lay_out_bins(kernel, program, settings.samples)};
  sampling.sums.resize(sampling.runs() * sampling.columns());
  const Hand hand = sample_all(sampling);
  Samples samples{.any_shows = chance_of(hand.any_shows, settings.samples, settings.confidence),
                  .no_fit = chance_of(hand.no_fit, settings.samples, settings.confidence)};
  const std::size_t count = stack.measures.size();
  for (std::size_t m = 0; m < count; ++m)
    samples.measures.push_back(summary(sampling, hand, m, stack.measures[m].nominal, settings.confidence));
  const CountedSpread greatest(hand.counts[count], sampling.fine[count], settings.samples);
  samples.any_size_95 = program.greatest_nominal() + greatest.quantile(0.95);
  return samples;
}

Samples sample(const ToleranceStack& stack, const SampleSettings& settings) {
  const SampleKernel* fast = avx2_kernel();
  return sample_with(fast != nullptr ? *fast : plain_kernel, stack, settings);
}

}  // namespace haftwright
