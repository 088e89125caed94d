// What of the fold view panels ask for too.
#pragma once

#include <optional>

#include "haftwright/preview/fold_places.hpp"

namespace haftwright::app {

struct FoldShow {
  FoldAbout about = FoldAbout::spine;
  bool spread = false;                 ///< how far the joint lines may miss each other
  std::optional<FoldStretch> turn_to;  ///< both its ends come into sight, next frame
};

/// Of the switch for FoldShow::spread, in the menu and in the panel that tells of it.
inline constexpr const char* kSpreadTip =
    "Shows in the fold view where 95 of 100 handles drilled your way have their joint lines and, dashed, "
    "from "
    "where on a step shows. Each side's band is its line with the other side's held still. (L)";

}  // namespace haftwright::app
