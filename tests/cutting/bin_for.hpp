// Bins that a design may or may not be made from.
#pragma once

#include <cmath>

#include "haftwright/cutting/needs.hpp"
#include "haftwright/offcuts/bin.hpp"
#include "support/random.hpp"
#include "support/random_bin.hpp"

namespace haftwright::test {

/// Offcuts of the design's own woods, from too small to ample; some thick enough for a book, some in slices,
/// some odd, with knots, with a tilted fibre, with one good face, alike, or reserved by another project.
/// Sheets and rods of what its strips and pins are made of.
inline Bin bin_for(const Design& design, const Needs& needs, Random& random) {
  Bin bin;
  bin.own_materials = design.own_materials;
  int number = 0;
  const auto id = [&] { return "o" + std::to_string(++number); };
  for (const PieceNeed& need : needs.pieces) {
    const std::size_t count = random.count(0, 3);
    for (std::size_t k = 0; k < count; ++k) {
      Offcut offcut{id(), "", need.material, {}, 0};
      const double length = random.between(25, 160);
      const double width = random.between(20, 90);
      offcut.outline =
          random.chance(0.6) ? rectangle({length, width}) : random_outline(random, random.between(60, 160));
      offcut.thickness_mm = need.thickness_mm * random.between(0.8, random.chance(0.4) ? 3.0 : 1.4);
      if (random.chance(0.5)) offcut.grain = {random.between(-90, 90), random.between(-6, 6), 0};
      if (random.chance(0.3)) {
        const Vec2 at = Outline(offcut.outline).moments().centroid;
        offcut.defects.push_back({DefectKind::knot, {{at - Vec2{3, 0}, 1}, {at + Vec2{3, 0}, 1}}});
      }
      if (random.chance(0.3)) offcut.show_faces = upper_face;
      offcut.alike = static_cast<int>(random.count(1, 2));
      if (random.chance(0.1)) offcut.reserved.push_back({"another", "left rear"});
      bin.offcuts.push_back(offcut);
      if (offcut.alike == 1 && offcut.reserved.empty() && random.chance(0.3)) {
        bin.offcuts.back().matched_set = offcut.id;
        bin.offcuts.back().slice = 1;
        Offcut next = bin.offcuts.back();
        next.id = id();
        next.slice = 2;
        bin.offcuts.push_back(next);
      }
    }
  }
  for (const SheetNeed& need : needs.sheets)
    if (random.chance(0.5))
      bin.sheets.push_back({id(), "", need.material, need.thickness_mm,
                            rectangle({random.between(40, 300), random.between(10, 120)})});
  for (const PinNeed& need : needs.pins)
    if (random.chance(0.6)) bin.rods.push_back({id(), "", need.stock, random.between(10, 120)});
  return bin;
}

}  // namespace haftwright::test
