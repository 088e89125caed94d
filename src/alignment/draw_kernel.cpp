// The kernel for any machine.
#include "draw_kernel_body.hpp"

namespace haftwright {

const DrawKernel plain_kernel{.draw_strip = draw_strip, .count_strip = count_strip};

}  // namespace haftwright
