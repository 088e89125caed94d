// The kernel for machines with AVX2 instructions; empty when not built for them.
#include "draw_kernel_body.hpp"

namespace haftwright::alignment {

#if defined(__AVX2__)
const DrawKernel* avx2_kernel() {
  static constexpr DrawKernel kernel{.draw_strip = draw_strip, .count_strip = count_strip};
  return __builtin_cpu_supports("avx2") ? &kernel : nullptr;
}
#else
const DrawKernel* avx2_kernel() {
  return nullptr;
}
#endif

}  // namespace haftwright::alignment
