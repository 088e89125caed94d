// The solid modelling kernel behind the engine of solids/engine.hpp. The only room with the kernel's headers.
#pragma once

#include "haftwright/solids/engine.hpp"

namespace haftwright::kernel {

const SolidEngine& engine();

}  // namespace haftwright::kernel
