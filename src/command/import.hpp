// The verb import: a project out of a drawing.
#pragma once

#include "haftwright/design/units.hpp"
#include "haftwright/intake/placing.hpp"
#include "verbs.hpp"

namespace haftwright::command {

/// As typed; empty ones are left out.
struct ImportOptions {
  std::filesystem::path drawing;
  std::filesystem::path output;  ///< empty: named after the drawing, in the current folder
  bool list = false;
  std::string unit;  ///< of the drawing, one of intake::unit_words()
  std::vector<std::string> layers;
  std::size_t loop = 0;  ///< as --list numbers them; 0: the only one there is
  std::string tolerance;
  std::string gap;
  std::string axis;  ///< "30" or "X,Y; X,Y"
  double turn_deg = 0;
  bool turned = false;  ///< whether turn_deg was typed
  bool mirror = false;
  std::string front_end = "left";
  std::string front;
  std::string thickness;
  std::string units = "mm";
  std::filesystem::path shop;
  bool replace = false;
};

int import_drawing(const ImportOptions& options);

/// What a file holds: kind, unit, layers, what was left out, the loops with their sizes.
std::string drawing_text(const intake::Sketch& sketch, const intake::Loops& loops, LengthUnit unit);
/// What was taken for what while it was read, a line each.
std::string intake_notes(const intake::Sketch& sketch, const intake::Loops& loops,
                         const intake::ReadOptions& read, LengthUnit unit);
}  // namespace haftwright::command
