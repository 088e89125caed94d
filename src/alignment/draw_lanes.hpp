// Eight lanes of random numbers: the part of the drawing that is the same for every chain.
//
// Everything here is inlined and has no linkage: the file is compiled for more than one instruction set, and
// the linker must not mix the copies. For the same reason it includes no standard header with code in it.
#pragma once

#include <cstdint>

#include "draw_kernel.hpp"
#if defined(__AVX2__) || defined(__SSE2__)
#include <immintrin.h>
#endif

// How lanes are passed between functions does not matter where every function is inlined.
#pragma GCC diagnostic ignored "-Wpsabi"
#define HAFTWRIGHT_LANES static inline __attribute__((always_inline))

namespace haftwright {

typedef std::int32_t I8 __attribute__((vector_size(32)));
typedef std::uint32_t U8 __attribute__((vector_size(32)));

HAFTWRIGHT_LANES F8 all(float x) {
  return F8{x, x, x, x, x, x, x, x};
}
HAFTWRIGHT_LANES U8 all(std::uint32_t x) {
  return U8{x, x, x, x, x, x, x, x};
}
HAFTWRIGHT_LANES F8 least(F8 a, F8 b) {
  return a < b ? a : b;
}
HAFTWRIGHT_LANES F8 greatest(F8 a, F8 b) {
  return a > b ? a : b;
}

HAFTWRIGHT_LANES F8 root(F8 x) {
#if defined(__AVX2__)
  return (F8)_mm256_sqrt_ps((__m256)x);
#else
  F8 y = x;
  for (int i = 0; i < lanes; ++i) y[i] = __builtin_sqrtf(x[i]);
  return y;
#endif
}

/// One bit a lane that holds.
HAFTWRIGHT_LANES unsigned bits_of(I8 holds) {
#if defined(__AVX2__)
  return static_cast<unsigned>(_mm256_movemask_ps((__m256)holds));
#else
  unsigned bits = 0;
  for (int i = 0; i < lanes; ++i) bits |= (holds[i] != 0 ? 1u : 0u) << i;
  return bits;
#endif
}

/// The 64 bits of a product, in two halves.
HAFTWRIGHT_LANES void multiply(U8 a, std::uint32_t b, U8& high, U8& low) {
#if defined(__AVX2__)
  const __m256i factor = _mm256_set1_epi32(static_cast<int>(b));
  const __m256i even = _mm256_mul_epu32((__m256i)a, factor);
  const __m256i odd = _mm256_mul_epu32(_mm256_srli_epi64((__m256i)a, 32), factor);
  low = (U8)_mm256_blend_epi32(even, _mm256_slli_epi64(odd, 32), 0xAA);
  high = (U8)_mm256_blend_epi32(_mm256_srli_epi64(even, 32), odd, 0xAA);
#else
  for (int i = 0; i < lanes; ++i) {
    const std::uint64_t product = std::uint64_t{a[i]} * b;
    high[i] = static_cast<std::uint32_t>(product >> 32);
    low[i] = static_cast<std::uint32_t>(product);
  }
#endif
}

struct Words {
  U8 word[4];
};

/// Philox4x32-10: J. K. Salmon, M. A. Moraes, R. O. Dror, D. E. Shaw, "Parallel random numbers: as easy as 1,
/// 2, 3", SC11 (2011). 128 random bits from a 128-bit counter and a 64-bit key.
HAFTWRIGHT_LANES Words philox(Words counter, std::uint64_t key) {
  std::uint32_t key_low = static_cast<std::uint32_t>(key);
  std::uint32_t key_high = static_cast<std::uint32_t>(key >> 32);
  U8 a = counter.word[0], b = counter.word[1], c = counter.word[2], d = counter.word[3];
#pragma GCC unroll 10
  for (int round = 0; round < 10; ++round) {
    U8 high_a, low_a, high_c, low_c;
    multiply(a, 0xD2511F53u, high_a, low_a);
    multiply(c, 0xCD9E8D57u, high_c, low_c);
    a = high_c ^ b ^ all(key_low);
    b = low_c;
    c = high_a ^ d ^ all(key_high);
    d = low_a;
    key_low += 0x9E3779B9u;
    key_high += 0xBB67AE85u;
  }
  return {{a, b, c, d}};
}

/// Even between -1 and 1: one of the 2^23 odd multiples of 2^-23, all exact in a float, so neither end and
/// as many above zero as below.
HAFTWRIGHT_LANES F8 even_in_one(U8 bits) {
  const I8 odd = (I8)((bits >> 8) | 1u) - (1 << 23);
  return __builtin_convertvector(odd, F8) * 0x1p-23f;
}

/// Natural logarithm of 0 < x <= 1 (no denormals): the series of the inverse hyperbolic tangent. With
/// x = m 2^k and m between root 1/2 and root 2, s = (m - 1)/(m + 1) is at most 0.172, and what follows s^9
/// adds less than 1e-9.
HAFTWRIGHT_LANES F8 logarithm(F8 x) {
  constexpr std::int32_t root_half = 0x3F3504F3;
  const I8 exponent = ((I8)x - root_half) >> 23;
  const F8 m = (F8)((I8)x - (exponent << 23));
  const F8 s = (m - 1.0f) / (m + 1.0f);
  const F8 q = s * s;
  const F8 series = 1.0f + q * (1 / 3.0f + q * (1 / 5.0f + q * (1 / 7.0f + q * (1 / 9.0f))));
  return __builtin_convertvector(exponent, F8) * 0.69314718f + 2.0f * s * series;
}

/// Standard normal from a value even in one, by the inverse of its distribution: root 2 times the inverse
/// error function. Coefficients: M. Giles, "Approximating the erfinv function", GPU Computing Gems, Jade
/// edition (2011), chapter 10, single precision.
HAFTWRIGHT_LANES F8 normal_from(F8 x) {
  const F8 w = -logarithm((1.0f - x) * (1.0f + x));
  const F8 v = w - 2.5f;
  F8 middle = all(2.81022636e-08f);
  middle = 3.43273939e-07f + middle * v;
  middle = -3.5233877e-06f + middle * v;
  middle = -4.39150654e-06f + middle * v;
  middle = 0.00021858087f + middle * v;
  middle = -0.00125372503f + middle * v;
  middle = -0.00417768164f + middle * v;
  middle = 0.246640727f + middle * v;
  middle = 1.50140941f + middle * v;
  const I8 far = w >= 5.0f;
  if (bits_of(far) == 0) return middle * x * 1.41421356f;  // as a rule: one in 300 lies out there
  const F8 u = root(w) - 3.0f;
  F8 tail = all(-0.000200214257f);
  tail = 0.000100950558f + tail * u;
  tail = 0.00134934322f + tail * u;
  tail = -0.00367342844f + tail * u;
  tail = 0.00573950773f + tail * u;
  tail = -0.0076224613f + tail * u;
  tail = 0.00943887047f + tail * u;
  tail = 1.00167406f + tail * u;
  tail = 2.83297682f + tail * u;
  return (far ? tail : middle) * x * 1.41421356f;
}

}  // namespace haftwright
