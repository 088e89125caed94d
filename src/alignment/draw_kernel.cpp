// The kernel for any machine.
#include "draw_kernel_body.hpp"

namespace haftwright::alignment {

const DrawKernel plain_kernel{.draw_strip = draw_strip, .count_strip = count_strip};

}  // namespace haftwright::alignment
