// The edits a maker makes by hand, each a pure function: Design in, new Design or refusal out.
//
// Fields without a rule of their own (names, adhesive, guide, tang thickness ...) need no function here: copy
// the Design, set the field, hand it to the Document. The functions of this room know what belongs together:
// linked sides, a joint with its piece, a pin with the tang hole it goes through. Indices that are out of
// range are refused, never undefined.
#pragma once

#include "haftwright/edits/build_up.hpp"
#include "haftwright/edits/corrections.hpp"
#include "haftwright/edits/edited.hpp"
#include "haftwright/edits/finish.hpp"
#include "haftwright/edits/pins.hpp"
#include "haftwright/edits/shop.hpp"
#include "haftwright/edits/shop_values.hpp"
#include "haftwright/edits/sides.hpp"
#include "haftwright/edits/tang.hpp"
