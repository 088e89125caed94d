// The solid kernel as a part of the program.
#include "haftwright/kernel/kernel.hpp"

namespace haftwright {

const SolidEngine& solid_engine() {
  return kernel::engine();
}

}  // namespace haftwright
