// A small project file with every kind of field, for spoiling.
#pragma once

#include <string>

namespace haftwright::test {

inline const std::string kGoodFile = R"({
  "haftwright": 2,
  "name": "Spatule à huîtres",
  "note": "first\nsecond",
  "units": "inch",
  "materials": [
    {"key": "driftwood", "name": "driftwood", "kind": "wood", "density_kg_m3": 640.5,
     "density_source": "weighed", "hazards": ["wood_dust", "oily_wood"],
     "colour": {"red": 0.5, "green": 0.25, "blue": 0.1}}
  ],
  "tang": {
    "outline": [
      {"x_mm": -8, "y_mm": -12}, {"x_mm": 100, "y_mm": -12, "bulge": 0.2}, {"x_mm": 100, "y_mm": 12},
      {"x_mm": -8, "y_mm": 12}
    ],
    "thickness_front_mm": "1/8 in", "thickness_butt_mm": 2, "material": "tool_steel", "hardened": true,
    "holes": [{"id": "rear", "name": "rear hole", "x_mm": 88, "y_mm": 0, "diameter_mm": 5.1}],
    "cutouts": [[{"x_mm": 40, "y_mm": 0, "bulge": 1}, {"x_mm": 46, "y_mm": 0, "bulge": 1}]]
  },
  "sides": {
    "left": {
      "liners": [{"material": "g10", "thickness_mm": 0.8}],
      "pieces": [
        {"id": "guard", "material": "driftwood", "blank": {"thickness_mm": 12, "width_mm": 35, "length_mm": 60},
         "grain": {"along_deg": 3, "dip_deg": 2, "rings_deg": 90}},
        {"material": "olive"}
      ],
      "joints": [
        {"id": "joint_1", "place_mm": 30, "slant_deg": 12, "rake_deg": 3,
         "spacers": [{"material": "copper", "thickness_mm": 0.5}]}
      ],
      "front": {"place_mm": 1, "slant_deg": 5, "rake_deg": 2},
      "butt_proud_mm": 0.5,
      "finish": {
        "thickness": [{"x_mm": 0, "thickness_mm": 8}, {"x_mm": 100, "thickness_mm": 9}],
        "crown_radius_mm": 60, "crest_y_mm": 1, "round_over_mm": 2
      }
    },
    "right": {"butt_proud_mm": 0, "joints": [{"place_mm": 30.1}]}
  },
  "pins": [
    {"id": "front", "name": "front pin", "x_mm": 15, "y_mm": 0,
     "stock": {"nominal_mm": 5, "measured_mm": 4.98, "bore_mm": 3, "material": "copper"},
     "scale_hole": {"drill": "5.1 mm", "diameter_mm": 5.12},
     "liner_hole": {"diameter_mm": 5.2}, "tang_hole": {"drill": "13/64"}},
    {"name": "rear", "x_mm": 88, "y_mm": 0, "stock": {"nominal_mm": 5},
     "scale_hole": {"drill": "5.1 mm"}, "liner_hole": {"drill": "5.1 mm"}, "existing_tang_hole": "rear"}
  ],
  "adhesive": {"mix_by": "weight", "resin_parts": 100, "hardener_parts": 47},
  "guide": {"bushing_outside_mm": 10},
  "rules": {"edge_wall_mm": 2.5},
  "dry_fit": [{"joint": "joint_1", "from_pin": "front", "reading_mm": 14.2}],
  "hand_places": [
    {"side": "right", "piece": "guard", "offcut": "old_thwart", "copy": 2, "x_mm": 60.25, "y_mm": "1 in",
     "turn_deg": -3.5, "face": "lower", "cut": "book"}
  ]
}
)";

}  // namespace haftwright::test
