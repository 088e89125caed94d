// What a thing of the fold view is in a drawing's terms.
#pragma once

#include "haftwright/preview/fold.hpp"

namespace haftwright::preview {

Role role_of(const FoldThing& thing);

}  // namespace haftwright::preview
