// Eight lanes of random numbers: the part of the sampling that is the same for every stack.
//
// Everything here is inlined and has no linkage: the file is compiled for more than one instruction set, and
// the linker must not mix the copies. For the same reason it includes no standard header with code in it.
#pragma once

#include <cstdint>

#include "sample_kernel.hpp"
#if defined(__AVX2__) || defined(__SSE2__)
#include <immintrin.h>
#endif

// How lanes are passed between functions does not matter where every function is inlined.
#pragma GCC diagnostic ignored "-Wpsabi"
#define HAFTWRIGHT_LANES static inline __attribute__((always_inline))

namespace haftwright::tolerance {

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
#elif defined(__SSE2__)
  __m128 half[2];
  __builtin_memcpy(half, &x, sizeof x);
  for (__m128& y : half) y = _mm_sqrt_ps(y);
  __builtin_memcpy(&x, half, sizeof x);
  return x;
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
#elif defined(__SSE2__)
  __m128 half[2];
  __builtin_memcpy(half, &holds, sizeof holds);
  return static_cast<unsigned>(_mm_movemask_ps(half[0]) | _mm_movemask_ps(half[1]) << 4);
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
#elif defined(__SSE2__)
  const __m128i factor = _mm_set1_epi32(static_cast<int>(b));
  __m128i half[2], halves_low[2], halves_high[2];
  __builtin_memcpy(half, &a, sizeof a);
  const __m128i odd_lanes = _mm_set_epi32(-1, 0, -1, 0);
  for (int i = 0; i < 2; ++i) {
    const __m128i even = _mm_mul_epu32(half[i], factor);
    const __m128i odd = _mm_mul_epu32(_mm_srli_epi64(half[i], 32), factor);
    halves_low[i] = _mm_or_si128(_mm_andnot_si128(odd_lanes, even), _mm_slli_epi64(odd, 32));
    halves_high[i] = _mm_or_si128(_mm_srli_epi64(even, 32), _mm_and_si128(odd_lanes, odd));
  }
  __builtin_memcpy(&low, halves_low, sizeof low);
  __builtin_memcpy(&high, halves_high, sizeof high);
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
/// 2, 3", SC11 (2011). 128 random bits from a 128-bit counter and a 64-bit key; in place. Several at once
/// keep the machine busy while each waits for its own last product.
template <int count>
HAFTWRIGHT_LANES void philox(Words (&words)[count], std::uint64_t key) {
  std::uint32_t key_low = static_cast<std::uint32_t>(key);
  std::uint32_t key_high = static_cast<std::uint32_t>(key >> 32);
#pragma GCC unroll 10
  for (int round = 0; round < 10; ++round) {
#pragma GCC unroll 4
    for (int i = 0; i < count; ++i) {
      U8(&word)[4] = words[i].word;
      U8 high_0, low_0, high_2, low_2;
      multiply(word[0], 0xD2511F53u, high_0, low_0);
      multiply(word[2], 0xCD9E8D57u, high_2, low_2);
      word[0] = high_2 ^ word[1] ^ all(key_low);
      word[1] = low_2;
      word[2] = high_0 ^ word[3] ^ all(key_high);
      word[3] = low_0;
    }
    key_low += 0x9E3779B9u;
    key_high += 0xBB67AE85u;
  }
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
  const F8 series = (1.0f + q * (1 / 3.0f)) + (q * q) * ((1 / 5.0f + q * (1 / 7.0f)) + (q * q) * (1 / 9.0f));
  return __builtin_convertvector(exponent, F8) * 0.69314718f + 2.0f * s * series;
}

/// c[0] + c[1] x + ... + c[8] x^8, in pairs: a third of the steps that wait for one another.
HAFTWRIGHT_LANES F8 polynomial(const float (&c)[9], F8 x) {
  const F8 x2 = x * x;
  const F8 x4 = x2 * x2;
  const F8 low = (c[0] + c[1] * x) + (c[2] + c[3] * x) * x2;
  const F8 high = (c[4] + c[5] * x) + (c[6] + c[7] * x) * x2;
  return low + (high + c[8] * x4) * x4;
}

/// Standard normal from a value even in one, by the inverse of its distribution: root 2 times the inverse
/// error function. Coefficients: M. Giles, "Approximating the erfinv function", GPU Computing Gems, Jade
/// edition (2011), chapter 10, single precision.
HAFTWRIGHT_LANES F8 normal_from(F8 x) {
  constexpr float middle[9] = {1.50140941f,     0.246640727f,    -0.00417768164f,
                               -0.00125372503f, 0.00021858087f,  -4.39150654e-06f,
                               -3.5233877e-06f, 3.43273939e-07f, 2.81022636e-08f};
  constexpr float tail[9] = {2.83297682f,    1.00167406f,     0.00943887047f,
                             -0.0076224613f, 0.00573950773f,  -0.00367342844f,
                             0.00134934322f, 0.000100950558f, -0.000200214257f};
  const F8 w = -logarithm((1.0f - x) * (1.0f + x));
  const F8 near = polynomial(middle, w - 2.5f);
  const I8 far = w >= 5.0f;
  if (bits_of(far) == 0) return near * x * 1.41421356f;  // as a rule: one in 300 lies out there
  return (far ? polynomial(tail, root(w) - 3.0f) : near) * x * 1.41421356f;
}

}  // namespace haftwright::tolerance
