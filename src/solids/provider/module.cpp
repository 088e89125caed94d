// The solid kernel as a module, which a program opens when it needs one.
#include "haftwright/kernel/kernel.hpp"

extern "C" __attribute__((visibility("default"))) const haftwright::SolidEngine* haftwright_solid_engine() {
  return &haftwright::kernel::engine();
}
