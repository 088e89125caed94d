// The random numbers against published values and against the standard library.
#include <catch2/catch.hpp>
#include <cmath>
#include <cstdint>
#include <numbers>

#include "sample_lanes.hpp"

using namespace haftwright;
using namespace haftwright::tolerance;

TEST_CASE("Philox gives its published known answers") {
  // Random123, tests/kat_vectors, the three lines "philox4x32 10": counter, key, answer.
  struct Known {
    std::uint32_t counter[4];
    std::uint32_t key[2];
    std::uint32_t answer[4];
  };
  constexpr Known known[] = {{{0, 0, 0, 0}, {0, 0}, {0x6627e8d5, 0xe169c58d, 0xbc57ac4c, 0x9b00dbd8}},
                             {{0xffffffff, 0xffffffff, 0xffffffff, 0xffffffff},
                              {0xffffffff, 0xffffffff},
                              {0x408f276d, 0x41c83b0e, 0xa20bc7c6, 0x6d5451fd}},
                             {{0x243f6a88, 0x85a308d3, 0x13198a2e, 0x03707344},
                              {0xa4093822, 0x299f31d0},
                              {0xd16cfe09, 0x94fdcceb, 0x5001e420, 0x24126ea1}}};
  // Every other lane is given the line, the others not, so that lanes can't be mixed up unseen.
  for (unsigned shift = 0; shift < 3; ++shift) {
    const Known& keyed = known[shift];
    Words words[2] = {};
    for (unsigned lane = 0; lane < lanes; ++lane)
      for (unsigned w = 0; w < 4; ++w)
        for (unsigned i = 0; i < 2; ++i)
          words[i].word[w][lane] = keyed.counter[w] + (lane % 2 == i ? 0 : lane + 8);
    philox(words, keyed.key[0] | std::uint64_t{keyed.key[1]} << 32);
    for (unsigned lane = 0; lane < lanes; ++lane)
      for (unsigned w = 0; w < 4; ++w)
        for (unsigned i = 0; i < 2; ++i)
          CHECK((words[i].word[w][lane] == keyed.answer[w]) == (lane % 2 == i));
  }
}

TEST_CASE("an even number lies between -1 and 1, exactly as often on either side") {
  const U8 bits{0, 0xffffffff, 0x80000000, 0x7fffffff, 0x1ff, 0x200, 0xdeadbeef, ~0xdeadbeef};
  const F8 x = even_in_one(bits);
  CHECK(x[0] == -1 + 0x1p-23f);
  CHECK(x[1] == 1 - 0x1p-23f);
  CHECK(x[2] == 0x1p-23f);
  CHECK(x[3] == -0x1p-23f);
  CHECK(x[4] == x[0]);
  CHECK(x[5] == -1 + 3 * 0x1p-23f);
  CHECK(x[6] == -x[7]);
}

TEST_CASE("the normal numbers are the inverse of the standard library's error function") {
  double worst = 0;
  for (std::int32_t odd = 1; odd < 1 << 23; odd += odd < 1 << 22 ? 254 : odd < (1 << 23) - 4096 ? 62 : 2) {
    const float x = static_cast<float>(odd) * 0x1p-23f;
    const float z = normal_from(all(x))[0];
    REQUIRE(normal_from(all(-x))[0] == -z);
    // One step of Newton's rule from z, with the small side of the error function, gives the true inverse far
    // more closely than a float can hold.
    const double beyond =
        std::erfc(static_cast<double>(z) / std::numbers::sqrt2) - (1 - static_cast<double>(x));
    const double slope = std::sqrt(2 / std::numbers::pi) * std::exp(-0.5 * z * static_cast<double>(z));
    worst = std::max(worst, std::abs(beyond / slope) / std::max(1.0, static_cast<double>(z)));
  }
  CHECK(worst < 2e-6);
  CHECK(normal_from(all(1 - 0x1p-23f))[0] == Approx(5.2944).epsilon(1e-3));
}
