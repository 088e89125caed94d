// A coverage-guided fuzzer for drawings, DXF and SVG: what the readers take becomes loops and placed parts
// that are sound outlines within the stated deviation, or is refused with words; anything else aborts.
// tests/fuzz/run.sh builds it with coverage and runs it.
#include <cstdint>
#include <cstdio>
#include <cstdlib>
#include <string>

#include "haftwright/intake/placing.hpp"

using namespace haftwright;
using namespace haftwright::intake;

namespace {

constexpr std::size_t kMostBytes = 40'000;

void need(bool good, const char* what) {
  if (good) return;
  std::fprintf(stderr, "%s\n", what);
  std::abort();
}

/// Small, so that an input that asks for much is over soon.
constexpr Limits kLimits{.entities = 2000, .points = 20'000, .curve_points = 10'000, .loops = 200};

void lay_out(const Loops& loops, std::size_t chosen, const Placing& placing) {
  try {
    const PlacedPart part = place(loops, chosen, placing);
    need(part.outline.size() >= 2, "a part without an outline");
    need(part.length_mm > 0 && part.height_mm > 0, "a part without a size");
  } catch (const IntakeError& error) {
    need(error.what()[0] != '\0', "refused without a reason");
  }
}

}  // namespace

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  if (size > kMostBytes) return 0;
  const ReadOptions options{.tolerance_mm = 0.05, .limits = kLimits};
  try {
    const Sketch sketch = read_drawing({reinterpret_cast<const char*>(data), size}, options);
    for (const Path& path : sketch.paths) {
      need(path.nodes.size() >= 2, "a path without an edge");
      need(path.deviation_mm <= options.tolerance_mm, "lines and arcs leave their curve too far");
      need(path.layer < sketch.layers.size(), "a path without a layer");
    }
    const Loops loops = find_loops(sketch, 0.05, options.tolerance_mm, kLimits);
    for (std::size_t i = 0; i < loops.loops.size(); ++i) {
      const Loop& loop = loops.loops[i];
      need(!find_fault(loop.outline.nodes()), "a loop that is no outline");
      need(!loop.inside || *loop.inside < i, "a loop inside a smaller one");
    }
    need(loops.largest_gap_mm <= 0.05, "a gap was closed that is too wide");
    for (std::size_t i = 0; i < loops.loops.size() && i < 3; ++i) {
      lay_out(loops, i, {});
      lay_out(loops, i, {.mirror = true, .turn_deg = 33, .front_right = true, .front_mm = 1});
    }
  } catch (const IntakeError& error) {
    need(error.what()[0] != '\0', "refused without a reason");
  }
  return 0;
}
