// A drawing made by another program (DXF, SVG) as lines and arcs in millimetres.
//
// The readers are strict: a file is taken for hostile until it has been read, what they do not understand is
// counted and named, what they can't take without guessing is refused with its place. Lines and circular arcs
// stay what they are; every other curve is replaced by lines and arcs within a tolerance, and how far it is
// left at most is measured. x runs to the right, y up.
#pragma once

#include <cstddef>
#include <filesystem>
#include <map>
#include <optional>
#include <stdexcept>
#include <string>
#include <string_view>
#include <vector>

#include "haftwright/geometry/outline.hpp"

namespace haftwright::intake {

/// Why a drawing can't be used. what() is a sentence without the file's name.
class IntakeError : public std::runtime_error {
 public:
  /// `place`: "line 12", or empty for the file as a whole.
  IntakeError(std::string place, const std::string& what)
      : std::runtime_error(what), place_(std::move(place)) {}
  const std::string& place() const { return place_; }

 private:
  std::string place_;
};

/// The most that a drawing may ask for.
struct Limits {
  std::size_t file_bytes = std::size_t{32} << 20;
  std::size_t entities = 200'000;      ///< with those of blocks and symbols, each as often as it is used
  std::size_t points = 1'000'000;      ///< corners of lines and arcs, and places along other curves
  std::size_t curve_points = 400'000;  ///< places along curves that are neither lines nor arcs
  std::size_t block_depth = 16;        ///< blocks in blocks, uses in uses
  std::size_t element_depth = 128;     ///< groups in groups
  std::size_t loops = 5'000;
  double coordinate_mm = 100'000;  ///< |x|, |y| of anything that is read
};

struct ReadOptions {
  /// What one unit of the drawing means; none: what the file says. Above 0.
  std::optional<double> mm_per_unit;
  /// How far lines and arcs may leave a curve that is neither; above 0.
  double tolerance_mm = 0.02;
  /// Only what lies on these layers (compared without case); empty: every layer that is shown.
  std::vector<std::string> layers;
  Limits limits;
};

enum class FileFormat { dxf, svg };

/// One line of edges, as it stands in the file.
struct Path {
  /// The edge that leaves a node has its bulge. In an open path the last node's bulge means nothing.
  std::vector<Node> nodes;
  bool closed = false;
  std::size_t layer = 0;
  std::size_t line = 0;     ///< of the file, where the entity begins
  double deviation_mm = 0;  ///< how far the nodes' edges leave the curve that they stand for, at most
};

struct Layer {
  std::string name;
  bool shown = true;
  std::size_t entities = 0;  ///< drawn on it, of the kinds that are read
};

struct Sketch {
  FileFormat format = FileFormat::dxf;
  std::vector<Path> paths;
  std::vector<Layer> layers;
  std::map<std::string, std::size_t> ignored;  ///< "TEXT", "HATCH": kinds that are no outline, and how many
  std::size_t hidden = 0;                      ///< left out as hidden, off, frozen or on paper space
  /// What one unit of the drawing was taken for; none: the file does not say and nobody else did, so that all
  /// lengths are in units of the drawing.
  std::optional<double> mm_per_unit;
  std::string unit_words;          ///< "inches, as the file says"; empty where it says nothing
  std::vector<std::string> notes;  ///< for the maker: what was taken for what
};

/// Reads the bytes of a DXF or SVG file; which of them it is shows from the content. Throws IntakeError.
Sketch read_drawing(std::string_view bytes, const ReadOptions& options = {});
/// Reads the file. Throws IntakeError with an empty place where it can't be read or is too large.
Sketch read_drawing_file(const std::filesystem::path& path, const ReadOptions& options = {});

/// "mm", "cm", "m", "in", "ft", "px96", "px90", "px72" and what they mean in millimetres; none for another
/// word.
std::optional<double> unit_named(std::string_view word);
/// The words that unit_named knows.
std::vector<std::string> unit_words();

}  // namespace haftwright::intake
