// The kernel for any machine.
#include "sample_kernel_body.hpp"

namespace haftwright::tolerance {

const SampleKernel plain_kernel{.sample_strip = sample_strip, .count_strip = count_strip};

}  // namespace haftwright::tolerance
