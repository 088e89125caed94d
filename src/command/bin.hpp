// The verb bin: what lies in the shop to make handles of, listed, added to, changed and checked.
#pragma once

#include <filesystem>
#include <optional>
#include <string>
#include <vector>

namespace haftwright::command {

/// As typed. What is none was not typed, and stays as it is or at its default.
struct BinOptions {
  using Typed = std::optional<std::string>;

  std::string action;
  std::filesystem::path bin;  ///< bin file; empty: the person's own
  bool json = false;
  std::vector<std::string> names;  ///< ids, or the project that "release" is about

  // What is looked for.
  bool all = false;
  Typed least;  ///< LENGTHxWIDTH or LENGTHxWIDTHxTHICKNESS

  // Fields of an offcut, a sheet or a rod.
  Typed id, name, material, outline, length, width, thickness, grain, dip, rings, faces, alike, set, slice,
      moisture, kept_at, note, diameter, measured, bore;

  // A defect, a photo.
  Typed kind, circle, polygon, remove, move, file, face, above, lens_k1, camera_height;
  std::vector<std::string> marks;  ///< each "PX,PY=X,Y"

  // A frame to print, an outline from a photo.
  bool frame = false;
  Typed paper, printed_line, sheet, seed;
  std::filesystem::path output;

  // Reservations and cuts.
  Typed project, piece, used;
  std::vector<std::string> left;  ///< outlines of leftovers
};

/// One of the actions of the verb. Errors go to stderr; the exit code is one of ExitCode.
int bin(const BinOptions& options);

}  // namespace haftwright::command
