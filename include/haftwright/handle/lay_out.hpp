// Design -> Handle: the one pure function everything after it stands on.
#pragma once

#include "haftwright/handle/handle.hpp"

namespace haftwright {

/// Lays the handle out. The Design must have passed validate(). Throws InputError for what only the layout
/// can tell: joints that cross inside the handle, pieces or spacers that vanish, a front face that leaves no
/// handle, a round-over that eats the side wall or the liners, a surface that dips below the liners.
Handle lay_out(const Design& design);

}  // namespace haftwright
