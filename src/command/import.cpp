#include "import.hpp"

#include "bin_typed.hpp"
#include "haftwright/design/limits.hpp"
#include "haftwright/design/starters.hpp"
#include "haftwright/design/validate.hpp"
#include "haftwright/drawn/drawn_tang.hpp"
#include "new_project.hpp"
#include "shop_place.hpp"
#include "terminal.hpp"

namespace haftwright::command {
namespace {

using namespace intake;

/// A typed length above 0, or the usual one.
double length_or(const std::string& option, const std::string& typed, LengthUnit unit, double usual_mm) {
  if (typed.empty()) return usual_mm;
  const TypedReader reader(option, unit);
  const double length = reader.length_mm(typed);
  if (!(length > 0 && length <= limits::kCoordinateMm)) reader.refuse("must be more than 0");
  return length;
}

ReadOptions read_options(const ImportOptions& options, LengthUnit unit) {
  ReadOptions read;
  read.tolerance_mm = length_or("--tolerance", options.tolerance, unit, kDrawnToleranceMm);
  read.layers = options.layers;
  if (!options.unit.empty()) read.mm_per_unit = unit_named(options.unit);
  return read;
}

/// Places are those of the drawing, in its own unit.
Placing placing_of(const ImportOptions& options, double mm_per_unit, LengthUnit unit) {
  Placing placing;
  placing.mirror = options.mirror;
  placing.front_right = options.front_end == "right";
  if (options.turned) placing.turn_deg = options.turn_deg;
  if (!options.front.empty()) {
    const TypedReader reader("--front", unit);
    placing.front_mm = reader.length_mm(options.front);
    if (placing.front_mm < 0) reader.refuse("must not be negative: it counts from the front end of the tang");
  }
  if (options.axis.empty()) return placing;
  const TypedReader reader("--axis", LengthUnit::millimetre);
  const auto points = parted(options.axis, ';');
  if (points.size() == 1 && points[0].find(',') == std::string_view::npos) {
    // Mirrored first, it points the other way round.
    placing.turn_deg = (options.mirror ? 1 : -1) * reader.number(points[0]);
    return placing;
  }
  const auto place = [&](std::string_view text) {
    const auto numbers = parted(text, ',');
    if (numbers.size() != 2) reader.refuse("must be an angle, or two places such as \"0,0; 110,4\"");
    return Vec2{reader.number(numbers[0]), reader.number(numbers[1])} * mm_per_unit;
  };
  if (points.size() != 2) reader.refuse("must be an angle, or two places such as \"0,0; 110,4\"");
  placing.axis = AxisPoints{place(points[0]), place(points[1])};
  return placing;
}

std::size_t chosen_loop(const ImportOptions& options, const Loops& loops, LengthUnit unit) {
  if (options.loop > 0) {
    if (options.loop > loops.loops.size())
      throw InputError("--loop", "there are only " + std::to_string(loops.loops.size()) +
                                     " closed loops; --list shows them");
    return options.loop - 1;
  }
  return only_tang_loop(loops, unit);
}

std::string placed_text(const PlacedPart& part, const Placing& placing, const Design& design) {
  const LengthUnit unit = design.shown_unit;
  const auto count = [](std::size_t n, const std::string& what) {
    return std::to_string(n) + " " + what + (n == 1 ? "" : "s");
  };
  std::string text = "Tang: " + format_length(part.length_mm, unit) + " from the front face to the butt, " +
                     format_length(part.height_mm, unit) + " high; " +
                     count(part.holes.size(), "round hole") + ", " + count(part.cutouts.size(), "cutout") +
                     ".\n";
  std::string laid = placing.mirror ? "mirrored top to bottom" : "";
  if (part.turned_deg != 0)
    laid += std::string(laid.empty() ? "" : ", then ") + "turned by " + format_number(part.turned_deg, 2) +
            " degrees, counter-clockwise";
  text += "Laid out: " + (laid.empty() ? "as drawn" : laid) + "; front face " +
          format_length(placing.front_mm, unit) + " behind the front end.\n";
  if (part.islands > 0) text += "Left out: " + count(part.islands, "loop") + " inside holes and cutouts.\n";
  std::size_t through = 0;
  for (const Pin& pin : design.pins) through += pin.existing_tang_hole.empty() ? 0 : 1;
  text += through > 0
              ? "Pins: " + std::to_string(through) +
                    " through the drawn holes, each a little thinner; put in the stock that you have.\n"
              : "Pins: " + std::to_string(design.pins.size()) +
                    " to start from, along the middle; no hole of the drawing is meant for one.\n";
  return text;
}

/// Where the front face is at fault, the option that moves it is named too.
void write_with_hint(const Design& design, const Shop& shop, const std::filesystem::path& project,
                     bool replace) {
  try {
    write_new_project(design, shop, project, replace);
  } catch (const InputError& error) {
    std::vector<Problem> problems = error.problems();
    for (Problem& problem : problems)
      if (problem.field.starts_with("sides.left.front")) problem.what += "; --front says where it is";
    throw InputError(std::move(problems));
  }
}

int import_with(const ImportOptions& options, const Shop* shop) {
  const LengthUnit unit = length_unit_named(options.units);
  const ReadOptions read = read_options(options, unit);
  const double gap_mm = length_or("--gap", options.gap, unit, kDrawnGapMm);
  const Sketch sketch = read_drawing_file(options.drawing, read);
  const Loops loops = find_loops(sketch, gap_mm, read.tolerance_mm, read.limits);
  if (options.list) {
    print(drawing_text(sketch, loops, unit) + intake_notes(sketch, loops, read, unit));
    return good;
  }
  const std::size_t chosen = chosen_loop(options, loops, unit);
  require_unit(sketch, loops, chosen);
  const Placing placing = placing_of(options, *sketch.mm_per_unit, unit);
  const PlacedPart part = place(loops, chosen, placing);
  const double thickness = length_or("--thickness", options.thickness, unit, Tang{}.thickness_front_mm);
  const Design design = starter_design(tang_of(part, thickness), shop->rules, unit);
  std::filesystem::path project = options.output;
  if (project.empty()) project = options.drawing.stem().string() + ".json";
  const std::string told = intake_notes(sketch, loops, read, unit) + placed_text(part, placing, design);
  write_with_hint(design, *shop, project, options.replace);
  print(told + "Written: " + project.string() + "\n");
  return good;
}

/// What is wrong with the drawing goes by its name and line.
int import_told(const ImportOptions& options, const Shop* shop) {
  return guarded(options.drawing, [&] {
    try {
      return import_with(options, shop);
    } catch (const IntakeError& error) {
      throw InputError(error.place(), error.what());
    }
  });
}

}  // namespace

int import_drawing(const ImportOptions& options) {
  if (options.list) return import_told(options, nullptr);
  return with_shop_place(options.shop, Missing::refused,
                         [&](const ShopPlace& place) { return import_told(options, &place.shop); });
}

}  // namespace haftwright::command
