// The kernel for machines with AVX2 instructions; empty when not built for them.
#include "sample_kernel_body.hpp"

namespace haftwright::tolerance {

#if defined(__AVX2__)
const SampleKernel* avx2_kernel() {
  static constexpr SampleKernel kernel{.sample_strip = sample_strip, .count_strip = count_strip};
  return __builtin_cpu_supports("avx2") ? &kernel : nullptr;
}
#else
const SampleKernel* avx2_kernel() {
  return nullptr;
}
#endif

}  // namespace haftwright::tolerance
