#include "import.hpp"
#include "text_shapes.hpp"

namespace haftwright::command {
namespace {

using namespace intake;

constexpr std::size_t kMostLines = 200;

std::string count(std::size_t n, const std::string& what, const std::string& many = "") {
  return std::to_string(n) + " " + (n == 1 ? what : many.empty() ? what + "s" : many);
}

std::string size_words(const Outline& outline, LengthUnit unit) {
  const Vec2 size = outline.bounds().size();
  return format_length(size.x, unit) + " x " + format_length(size.y, unit);
}

std::string loop_line(const Loops& loops, std::size_t i, LengthUnit unit) {
  const Loop& loop = loops.loops[i];
  std::string line = "  " + right_aligned(std::to_string(i + 1), 4) + "  ";
  line += padded(loop.round ? "round, " + format_length(loop.round->diameter_mm, unit) + " across"
                            : size_words(loop.outline, unit),
                 30);
  line += loop.inside ? "inside " + std::to_string(*loop.inside + 1) : loop.round ? "" : "may be the tang";
  if (!loop.layer.empty()) line += ", layer " + loop.layer;
  return line + ", line " + std::to_string(loop.line) + "\n";
}

std::string layers_text(const Sketch& sketch) {
  std::string text;
  std::size_t told = 0;
  for (const Layer& layer : sketch.layers) {
    if (layer.entities == 0 && layer.shown) continue;
    if (++told > kMostLines) continue;
    text += "  " + padded(layer.name.empty() ? "(no layer)" : layer.name, 30) +
            (layer.shown ? count(layer.entities, "entity", "entities") : "off or frozen") + "\n";
  }
  if (told > kMostLines) text += "  and " + std::to_string(told - kMostLines) + " more\n";
  return text.empty() ? "" : "Layers:\n" + text;
}

std::string left_out(const Sketch& sketch) {
  std::string text;
  for (const auto& [kind, number] : sketch.ignored)
    text += (text.empty() ? "" : ", ") + kind + " " + std::to_string(number);
  if (sketch.hidden > 0)
    text += (text.empty() ? "" : ", ") + std::to_string(sketch.hidden) + " that are not shown";
  return text.empty() ? "" : "Left out: " + text + ".\n";
}

std::string loose_text(const Loops& loops, LengthUnit unit) {
  if (loops.loose.empty()) return "";
  const LooseEnds& longest = loops.loose.front();
  return "Open lines left out: " + std::to_string(loops.loose.size()) + ", the longest " +
         format_length(longest.length_mm, unit) + " (line " + std::to_string(longest.line) + ").\n";
}

}  // namespace

std::string drawing_text(const Sketch& sketch, const Loops& loops, LengthUnit unit) {
  std::string text = sketch.format == FileFormat::dxf ? "DXF" : "SVG";
  text += sketch.mm_per_unit
              ? "; unit: " + sketch.unit_words + " (" + shortest_number(*sketch.mm_per_unit) + " mm)\n"
              : "; it names no unit: lengths below are as if it were the millimetre; say --unit\n";
  text += layers_text(sketch) + "Closed loops, largest first:\n";
  if (loops.loops.empty()) text += "  none\n";
  for (std::size_t i = 0; i < loops.loops.size() && i < kMostLines; ++i) text += loop_line(loops, i, unit);
  if (loops.loops.size() > kMostLines)
    text += "  and " + std::to_string(loops.loops.size() - kMostLines) + " more\n";
  for (std::size_t i = 0; i < loops.spoilt.size() && i < kMostLines; ++i)
    text +=
        "  can't be used: line " + std::to_string(loops.spoilt[i].line) + ": " + loops.spoilt[i].what + "\n";
  return text;
}

std::string intake_notes(const Sketch& sketch, const Loops& loops, const ReadOptions& read, LengthUnit unit) {
  std::string text;
  if (sketch.mm_per_unit)
    text += "Unit: " + sketch.unit_words + " (" + shortest_number(*sketch.mm_per_unit) + " mm).\n";
  for (const std::string& note : sketch.notes) text += wrapped(note, "");
  text += left_out(sketch) + loose_text(loops, unit);
  if (loops.doubles > 0) text += "Drawn twice and dropped: " + std::to_string(loops.doubles) + ".\n";
  if (loops.gaps > 0)
    text += "Gaps closed: " + std::to_string(loops.gaps) + ", the largest " +
            format_number(loops.largest_gap_mm, 4) + " mm.\n";
  if (loops.largest_deviation_mm > 0)
    text += "Curves became lines and arcs that leave them by at most " +
            format_number(loops.largest_deviation_mm, 4) + " mm; " + format_number(read.tolerance_mm, 4) +
            " mm was allowed.\n";
  if (loops.out_of_round_mm > 1e-4)
    text += "Holes taken for round are out of round by at most " + format_number(loops.out_of_round_mm, 4) +
            " mm.\n";
  return text;
}

}  // namespace haftwright::command
