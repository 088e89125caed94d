// A small bin of offcuts with every kind of field, for spoiling.
#pragma once

#include <string>

namespace haftwright::test {

inline const std::string kGoodBin = R"({
  "haftwright_bin": 1,
  "note": "invented",
  "units": "inch",
  "materials": [{"key": "driftwood", "name": "driftwood", "kind": "wood", "density_kg_m3": 640.5}],
  "offcuts": [
    {"id": "thwart", "name": "Old thwart", "material": "black_walnut",
     "size": {"length_mm": "5 in", "width_mm": 40}, "thickness_mm": 22,
     "grain": {"along_deg": 4, "dip_deg": 1},
     "defects": [{"kind": "knot", "outline": [{"x_mm": 57, "y_mm": 20, "bulge": 1}, {"x_mm": 63, "y_mm": 20, "bulge": 1}],
                  "note": "loose"}],
     "moisture_percent": 8.5,
     "photos": [{"file": "thwart.jpg", "marks": [
        {"x_px": 200, "y_px": 1000, "x_mm": 0, "y_mm": 0}, {"x_px": 1800, "y_px": 1010, "x_mm": 127, "y_mm": 0},
        {"x_px": 1800, "y_px": 300, "x_mm": 127, "y_mm": 40}, {"x_px": 205, "y_px": 305, "x_mm": 0, "y_mm": 40}],
        "face_above_marks_mm": 22, "lens_k1": -0.01, "camera_height_mm": 450}],
     "kept_at": "box 3", "reserved": [{"project": "shucking knife", "piece": "left rear"}]},
    {"name": "Lignum end", "material": "driftwood", "thickness_mm": 30, "show_faces": ["upper"], "alike": 2,
     "outline": [{"x_mm": 0, "y_mm": 0}, {"x_mm": 90, "y_mm": 0, "bulge": 0.1}, {"x_mm": 10, "y_mm": 45}]},
    {"material": "olive", "thickness_mm": 9, "size": {"length_mm": 130, "width_mm": 35},
     "matched_set": "olive block", "slice": 2}
  ],
  "sheets": [{"id": "red", "material": "g10", "thickness_mm": 0.8, "size": {"length_mm": 200, "width_mm": 100}}],
  "rods": [{"id": "brass", "stock": {"nominal_mm": "1/8 in"}, "length_mm": 300, "alike": 2}]
}
)";

}  // namespace haftwright::test
