#include <stdexcept>

#include "haftwright/alignment/ways.hpp"

namespace haftwright {
namespace {

constexpr WayRow kRows[] = {
    {DrillWay::by_eye, "by_eye", "each scale by eye, through the tang",
     "Each scale is clamped to the tang by eye and drilled through the tang's holes."},
    {DrillWay::to_first, "to_first", "second scale against the first",
     "The first scale is drilled through the tang and pinned on; the second is lined up with it over the "
     "spine and "
     "drilled through it."},
    {DrillWay::taped, "taped", "both taped together, drilled as one",
     "The scales are taped inner face to inner face, line to line, and drilled in one go."},
    {DrillWay::guide, "guide", "through the drill guide",
     "Each scale sits on the guide's fences with its joint lines at the sight windows and is drilled through "
     "the same "
     "bores."},
    {DrillWay::guide_pinned, "guide_pinned", "drill guide, onto a pinned tang",
     "Drilled through the guide; the pins are fixed in the tang first and each scale is set onto them."},
};

}  // namespace

std::span<const WayRow> way_rows() {
  return kRows;
}

const WayRow& way_row(DrillWay way) {
  for (const WayRow& row : kRows)
    if (row.way == way) return row;
  throw std::logic_error("a way of drilling has no row in the table");
}

}  // namespace haftwright
