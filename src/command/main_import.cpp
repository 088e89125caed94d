#include "main_import.hpp"

namespace haftwright::command {

void add_import(CLI::App& app, ImportOptions& options) {
  CLI::App* verb = app.add_subcommand("import", "start a project from a tang drawn as DXF or SVG");
  verb->add_option("DRAWING", options.drawing, "DXF (ASCII) or SVG file")->required();
  verb->add_option("-o,--output", options.output,
                   "project file to write; without it DRAWING.json in the current folder");
  verb->add_flag("--list", options.list, "print what the drawing holds and write nothing");
  verb->add_option("--unit", options.unit, "what one unit of the drawing is, whatever the file says")
      ->check(CLI::IsMember(intake::unit_words()));
  verb->add_option("--layer", options.layers, "only what lies on this layer; may be repeated")
      ->take_all()
      ->expected(1);
  verb->add_option("--loop", options.loop, "number of the loop that is the tang, as --list shows them")
      ->check(CLI::Range(1, 1'000'000));
  verb->add_option("--tolerance", options.tolerance,
                   "how far lines and arcs may leave other curves; 0.02 mm if left out");
  verb->add_option("--gap", options.gap, "ends that are so near are joined; 0.05 mm if left out");
  CLI::Option* axis = verb->add_option(
      "--axis", options.axis,
      "direction from front to butt in the drawing: degrees, or two places in its units, \"X,Y; X,Y\"");
  CLI::Option* turn =
      verb->add_option("--turn", options.turn_deg, "turn the drawing by so many degrees, counter-clockwise")
          ->check(CLI::Range(-360.0, 360.0))
          ->excludes(axis);
  turn->each([&options](const std::string&) { options.turned = true; });
  verb->add_flag("--mirror", options.mirror, "the drawing shows the right side: change top and bottom");
  verb->add_option("--front-end", options.front_end, "which end is the front, as the drawing then lies")
      ->check(CLI::IsMember({"left", "right"}))
      ->excludes(axis)
      ->capture_default_str();
  verb->add_option("--front", options.front,
                   "from the front end of the outline to the front face; 0 if left out");
  verb->add_option("--thickness", options.thickness, "thickness of the steel");
  verb->add_option("--units", options.units, "units to show, and for bare numbers: mm, inch or inch_fraction")
      ->check(CLI::IsMember({"mm", "inch", "inch_fraction"}))
      ->capture_default_str();
  verb->add_option("--shop", options.shop, "another shop file than your own");
  verb->add_flag("--replace", options.replace, "write over a file of that name");
  verb->footer(
      "Exit codes: 0 good; 2 the drawing or the command line is wrong, or there is more than one loop to "
      "choose from; 3 the output can't be written.");
}

}  // namespace haftwright::command
