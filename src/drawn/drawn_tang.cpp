#include "haftwright/drawn/drawn_tang.hpp"

#include "haftwright/design/limits.hpp"
#include "haftwright/design/starters.hpp"
#include "haftwright/design/validate.hpp"

namespace haftwright {

using namespace intake;
namespace {

std::string size_words(const Outline& outline, LengthUnit unit) {
  const Vec2 size = outline.bounds().size();
  return format_length(size.x, unit) + " x " + format_length(size.y, unit);
}

std::string candidates_text(const Loops& loops, const std::vector<std::size_t>& candidates, LengthUnit unit) {
  constexpr std::size_t kMostNamed = 12;
  std::string text;
  for (std::size_t i = 0; i < candidates.size() && i < kMostNamed; ++i)
    text += (i > 0 ? "; " : "") + std::to_string(candidates[i] + 1) + " is " +
            size_words(loops.loops[candidates[i]].outline, unit);
  if (candidates.size() > kMostNamed)
    text += "; and " + std::to_string(candidates.size() - kMostNamed) + " more, which --list shows";
  return text;
}

}  // namespace

std::size_t only_tang_loop(const Loops& loops, LengthUnit unit) {
  const std::vector<std::size_t> candidates = outermost(loops);
  if (candidates.size() == 1) return candidates.front();
  if (candidates.size() > 1)
    throw InputError("--loop", "several loops may be the tang; choose one by its number: " +
                                   candidates_text(loops, candidates, unit));
  if (!loops.spoilt.empty())
    throw InputError("line " + std::to_string(loops.spoilt.front().line),
                     "the closed line that begins here can't be used: " + loops.spoilt.front().what);
  if (loops.loose.empty())
    throw InputError("", "the drawing holds no closed outline; --list shows what it holds");
  const LooseEnds& loose = loops.loose.front();
  throw InputError("line " + std::to_string(loose.line),
                   "the drawing holds no closed outline. The longest line, " +
                       format_length(loose.length_mm, unit) + ", ends open; the nearest other end is " +
                       format_length(loose.nearest_mm.value_or(0), unit) +
                       " away: close it in the drawing, or give --gap more than that");
}

void require_unit(const Sketch& sketch, const Loops& loops, std::size_t chosen) {
  if (sketch.mm_per_unit) return;
  const double length =
      glm::max(loops.loops[chosen].outline.bounds().size().x, loops.loops[chosen].outline.bounds().size().y);
  throw InputError("--unit", "the drawing does not say what its unit is; say it. The tang would be " +
                                 format_number(length, 2) + " mm long with --unit mm, and " +
                                 format_number(length * kMmPerInch, 2) + " mm with --unit in");
}

Tang tang_of(const PlacedPart& part, double thickness_mm) {
  Tang tang;
  tang.outline = part.outline;
  tang.cutouts = part.cutouts;
  tang.thickness_front_mm = tang.thickness_butt_mm = thickness_mm;
  for (const Round& hole : part.holes)
    tang.holes.push_back(
        {"", hole.centre, hole.diameter_mm, "hole " + std::to_string(tang.holes.size() + 1)});
  const auto most = [](std::size_t count, std::size_t limit, const char* field, const char* what) {
    if (count > limit)
      throw InputError(field, "the drawing has " + std::to_string(count) + " " + what + ", but at most " +
                                  std::to_string(limit) +
                                  " are possible; a larger --tolerance makes fewer "
                                  "corners, --layer leaves things out");
  };
  most(tang.outline.size(), limits::kOutlineNodes, "tang.outline", "corners");
  most(tang.holes.size(), limits::kTangHoles, "tang.holes", "round holes in the tang");
  most(tang.cutouts.size(), limits::kCutouts, "tang.cutouts", "cutouts");
  for (const auto& cutout : tang.cutouts)
    most(cutout.size(), limits::kCutoutNodes, "tang.cutouts", "corners in one cutout");
  return tang;
}

Design design_of_drawing(const std::filesystem::path& drawing, const ShopRules& rules, LengthUnit unit) {
  try {
    const Sketch sketch = read_drawing_file(drawing, {.tolerance_mm = kDrawnToleranceMm});
    const Loops loops = find_loops(sketch, kDrawnGapMm, kDrawnToleranceMm);
    const std::size_t chosen = only_tang_loop(loops, unit);
    require_unit(sketch, loops, chosen);
    const Tang tang = tang_of(place(loops, chosen, {}), Tang{}.thickness_front_mm);
    return starter_design(tang, rules, unit);
  } catch (const IntakeError& error) {
    throw InputError(error.place(), error.what());
  }
}

}  // namespace haftwright
