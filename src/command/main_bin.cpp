#include "main_bin.hpp"

namespace haftwright::command {
namespace {

constexpr const char* kExitCodes =
    "Exit codes: 0 good; 1 check misses a picture or can't square one up; 2 the bin or the command line is "
    "wrong; 3 the bin can't "
    "be "
    "written, or was changed by somebody else meanwhile.";
constexpr const char* kId = "what it is called by in the bin";

/// One action, with what all of them take.
CLI::App* action(CLI::App& bin, BinOptions& options, const char* name, const char* what) {
  CLI::App* verb = bin.add_subcommand(name, what);
  verb->add_option("--bin", options.bin, "another bin file than your own");
  verb->add_flag("--json", options.json, "print what there is as JSON, in millimetres and degrees");
  verb->footer(kExitCodes);
  verb->final_callback([&options, name] { options.action = name; });
  return verb;
}

void add_names(CLI::App* verb, BinOptions& options, const char* word, const char* what, bool many) {
  CLI::Option* names = verb->add_option(word, options.names, what)->required();
  if (!many) names->expected(1);
}

void add_text_fields(CLI::App* verb, BinOptions& options) {
  verb->add_option("--name", options.name, "what people call it");
  verb->add_option("--material", options.material,
                   "key or plain name of a material; 'haftwright list materials'");
  verb->add_option("--alike", options.alike, "how many there are, each as described");
  verb->add_option("--kept-at", options.kept_at, "where it lies");
  verb->add_option("--note", options.note, "anything worth keeping with it");
}

void add_flat_fields(CLI::App* verb, BinOptions& options) {
  verb->add_option("--length", options.length, "along x, such as \"120 mm\" or \"4 3/8 in\"");
  verb->add_option("--width", options.width, "along y, of a rectangle");
  verb->add_option("--outline", options.outline,
                   "any other shape: \"X,Y; X,Y,BULGE; X,Y\", or a file with such a point in each line");
  verb->add_option("--thickness", options.thickness, "how thick it is");
}

void add_wood_fields(CLI::App* verb, BinOptions& options) {
  verb->add_option("--grain", options.grain, "direction of the fibre in degrees, from x toward y");
  verb->add_option("--dip", options.dip, "how far the fibre dips out of the face, in degrees");
  verb->add_option("--rings", options.rings, "how the growth rings are turned about the fibre, in degrees");
  verb->add_option("--faces", options.faces, "faces that may be seen: upper,lower or one of them, or none");
  verb->add_option("--set", options.set, "name that all slices of one block share");
  verb->add_option("--slice", options.slice, "its place in that block, from 1");
  verb->add_option("--moisture", options.moisture, "water in per cent of the dry weight, or none");
}

void add_rod_fields(CLI::App* verb, BinOptions& options) {
  verb->add_option("--diameter", options.diameter, "of a rod, as bought");
  verb->add_option("--measured", options.measured, "of a rod, as measured, or none");
  verb->add_option("--bore", options.bore, "of a tube; 0 is solid");
}

void add_looks(CLI::App& bin, BinOptions& options) {
  CLI::App* list = action(bin, options, "list", "list what there is, with its size and where it is kept");
  list->add_option("--material", options.material, "only of this material");
  list->add_option("--least", options.least,
                   "only what measures at least LENGTHxWIDTHxTHICKNESS along, across the grain and through; "
                   "later ones may be left out");
  list->add_flag("--all", options.all, "also what projects have reserved");
  CLI::App* show = action(bin, options, "show", "show all details of one or several");
  add_names(show, options, "ID", kId, true);
  action(bin, options, "check", "validate the whole bin and name missing pictures");
}

void add_additions(CLI::App& bin, BinOptions& options) {
  CLI::App* add = action(bin, options, "add", "put an offcut into the bin");
  add->add_option("--id", options.id, "what to call it by; without it, made of its name");
  add_text_fields(add, options);
  add_flat_fields(add, options);
  add_wood_fields(add, options);
  CLI::App* sheet = action(bin, options, "add-sheet", "put a sheet for liners and spacers into the bin");
  sheet->add_option("--id", options.id, "what to call it by; without it, made of its name");
  add_text_fields(sheet, options);
  add_flat_fields(sheet, options);
  CLI::App* rod = action(bin, options, "add-rod", "put a rod or tube for pins into the bin");
  rod->add_option("--id", options.id, "what to call it by; without it, made of its name");
  add_text_fields(rod, options);
  rod->add_option("--length", options.length, "how long it is, such as \"300 mm\" or \"12 in\"");
  add_rod_fields(rod, options);
}

void add_marks(CLI::App* verb, BinOptions& options) {
  verb->add_option("--file", options.file, "picture; it is copied into the folder beside the bin");
  verb->add_option("--face", options.face, "which face it shows")->check(CLI::IsMember({"upper", "lower"}));
  verb->add_option(
          "--mark", options.marks,
          "PX,PY=X,Y: a place in the picture, in pixels from its upper left corner, and on the offcut; "
          "at least four times, for all marks anew")
      ->take_all()
      ->expected(1);
}

void add_camera(CLI::App* verb, BinOptions& options) {
  verb->add_option("--above", options.above, "how much nearer to the camera the face lies than the marks");
  verb->add_option("--camera-height", options.camera_height, "from the lens square down to the marks");
  verb->add_option("--lens-k1", options.lens_k1, "bow of the lens, where it is known");
}

void add_traces(CLI::App& bin, BinOptions& options) {
  CLI::App* frame = action(bin, options, "frame", "draw the frame to print and lay round an offcut");
  frame->add_option("--paper", options.paper, "what it is printed on; without it a4")
      ->check(CLI::IsMember({"a5", "a4", "a3", "letter"}));
  frame->add_option("-o,--output", options.output, "file to write, ending in .pdf, .svg or .png")->required();

  CLI::App* trace = action(bin, options, "trace", "take an offcut's outline from a photo of it");
  add_marks(trace, options);
  add_camera(trace, options);
  trace->add_flag("--frame", options.frame, "the printed frame lies round it");
  trace->add_option("--printed-line", options.printed_line,
                    "how long the frame's line of 100 mm came out of the printer");
  trace->add_option("--sheet", options.sheet, "WIDTHxHEIGHT: a sheet or card of that size lies under it");
  trace->add_option("--seed", options.seed, "X,Y: a place on it in the picture, in pixels");
  trace->add_option("--id", options.id, "which offcut gets this outline; a new one is called by it");
  trace->add_option("--thickness", options.thickness, "how thick it is");
  add_text_fields(trace, options);
  add_wood_fields(trace, options);
  trace->add_option("-o,--output", options.output, "write what was traced, from square above, as PNG");
}

void add_changes(CLI::App& bin, BinOptions& options) {
  CLI::App* change = action(bin, options, "change", "change what was measured or noted; all else stays");
  add_names(change, options, "ID", kId, false);
  add_text_fields(change, options);
  add_flat_fields(change, options);
  add_wood_fields(change, options);
  add_rod_fields(change, options);

  CLI::App* defect = action(bin, options, "defect", "mark a place of an offcut that no piece may have in it");
  add_names(defect, options, "ID", kId, false);
  defect->add_option("--kind", options.kind, "what it is")
      ->check(CLI::IsMember({"knot", "check", "hole", "sapwood", "other"}));
  defect->add_option("--circle", options.circle, "where it is: X,Y,DIAMETER");
  defect->add_option("--polygon", options.polygon, "or where it is: \"X,Y; X,Y; X,Y\", or a file of that");
  defect->add_option("--note", options.note, "anything worth keeping with it");
  CLI::Option* take =
      defect->add_option("--remove", options.remove, "take away the one of this number, from 1");
  defect->add_option("--move", options.move, "move one: NUMBER:X,Y")->excludes(take);

  CLI::App* photo = action(bin, options, "photo", "keep a picture of an offcut, and where it shows what");
  add_names(photo, options, "ID", kId, false);
  add_marks(photo, options);
  add_camera(photo, options);
  photo->add_option("--remove", options.remove, "forget the one of this number, from 1; its file stays");

  add_traces(bin, options);

  CLI::App* units =
      action(bin, options, "units", "choose what lengths are shown in, and bare numbers are in");
  units->add_option("UNITS", options.names, "mm, inch or inch_fraction")
      ->required()
      ->expected(1)
      ->check(CLI::IsMember({"mm", "inch", "inch_fraction"}));

  CLI::App* remove = action(bin, options, "remove", "take one or several out of the bin");
  add_names(remove, options, "ID", kId, true);
}

void add_uses(CLI::App& bin, BinOptions& options) {
  CLI::App* cut = action(bin, options, "cut", "note that one was cut up, and what is left of it");
  add_names(cut, options, "ID", kId, false);
  cut->add_option(
         "--left", options.left,
         "outline of a leftover in the frame of what was cut, \"X,Y; X,Y; X,Y\" or a file of that; may be "
         "repeated")
      ->take_all()
      ->expected(1);
  cut->add_option("--used", options.used, "of a rod: how much is used up, saw cuts included");
  cut->add_option("--project", options.project, "for this project, which reserves it no longer");
  CLI::App* reserve = action(bin, options, "reserve", "note that a project means to take from it");
  add_names(reserve, options, "ID", kId, false);
  reserve->add_option("--project", options.project, "what the project is called")->required();
  reserve->add_option("--piece", options.piece, "for which piece, in words");
  CLI::App* release = action(bin, options, "release", "release everything that a project has reserved");
  add_names(release, options, "PROJECT", "what the project is called", false);
}

}  // namespace

void add_bin(CLI::App& app, BinOptions& options) {
  CLI::App* bin =
      app.add_subcommand("bin", "what offcuts, sheets and rods there are: list, add, change and check them");
  bin->require_subcommand(1);
  bin->footer("'haftwright bin ACTION --help' describes each. " + std::string(kExitCodes));
  add_looks(*bin, options);
  add_additions(*bin, options);
  add_changes(*bin, options);
  add_uses(*bin, options);
}

}  // namespace haftwright::command
