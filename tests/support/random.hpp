// Random numbers that are the same on every machine: the standard library's distributions are not.
#pragma once

#include <cstddef>
#include <cstdint>
#include <span>

namespace haftwright::test {

/// SplitMix64 (Steele, Lea and Flood, OOPSLA 2014, 453-472).
class Random {
 public:
  explicit Random(std::uint64_t seed) : state_(seed) {}

  std::uint64_t bits() {
    state_ += 0x9E3779B97F4A7C15u;
    std::uint64_t z = state_;
    z = (z ^ (z >> 30)) * 0xBF58476D1CE4E5B9u;
    z = (z ^ (z >> 27)) * 0x94D049BB133111EBu;
    return z ^ (z >> 31);
  }
  /// From `low` up to, not including, `high`.
  double between(double low, double high) {
    return low + (high - low) * (static_cast<double>(bits() >> 11) * 0x1p-53);
  }
  /// One of `count` indices, count > 0. The bias for small counts is under 1e-17.
  std::size_t index(std::size_t count) { return static_cast<std::size_t>(bits() % count); }
  std::size_t count(std::size_t least, std::size_t most) { return least + index(most - least + 1); }
  bool chance(double share) { return between(0, 1) < share; }
  template <class T>
  const T& pick(std::span<const T> from) {
    return from[index(from.size())];
  }

 private:
  std::uint64_t state_;
};

}  // namespace haftwright::test
