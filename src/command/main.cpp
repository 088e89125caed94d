#include <CLI/CLI.hpp>
#include <csignal>
#include <limits>

#include "haftwright/alignment/ways.hpp"
#include "haftwright/app/app.hpp"
#include "main_bin.hpp"
#include "main_import.hpp"
#include "main_plan.hpp"
#include "picture.hpp"
#include "verbs.hpp"
#include "whole_numbers.hpp"

namespace {

using namespace haftwright::command;

constexpr const char* kExitCodes =
    "Exit codes: 0 good; 1 some check fails (files are still written); 2 the project or the command line is "
    "wrong; "
    "3 the output can't be written.";

/// Takes 1e7 as well as 10000000.
class WholeNumber : public CLI::Validator {
 public:
  WholeNumber(std::uint64_t least, std::uint64_t most)
      : Validator("from " + std::to_string(least) + " to " + std::to_string(most)) {
    func_ = [least, most](std::string& text) {
      const auto number = whole_number(text);
      if (!number || *number < least || *number > most)
        return "must be a whole number from " + std::to_string(least) + " to " + std::to_string(most) +
               ", such as 250000 or 1e7";
      text = std::to_string(*number);
      return std::string();
    };
  }
};

void add_project(CLI::App& verb, VerbOptions& options) {
  verb.add_option("PROJECT", options.project, "project file (JSON, see projects/FORMAT.md)")->required();
  verb.add_flag("--json", options.json, "print the figures as JSON, in millimetres and degrees");
  verb.footer(kExitCodes);
}

void add_output(CLI::App& verb, VerbOptions& options, const std::string& fallback) {
  verb.add_option("-o,--output", options.output,
                  "file to write; without it " + fallback + " in the current folder");
}

void add_shop_file(CLI::App& verb, std::filesystem::path& path) {
  verb.add_option("--shop", path, "another shop file than your own");
}

void add_shop(CLI::App& app, ShopOptions& options) {
  CLI::App* verb = app.add_subcommand(
      "shop", "show what is the same in all your projects; hold a project against it, take values over");
  const std::vector<std::string> actions = shop_actions();
  verb->add_option("ACTION", options.action,
                   "init: write the shop file to start from; compare: tell where PROJECT differs; apply: "
                   "PROJECT takes the shop's values; learn: the shop takes PROJECT's; none: show the shop")
      ->check(CLI::IsMember(actions));
  verb->add_option("PROJECT", options.project, "project file (JSON, see projects/FORMAT.md)");
  add_shop_file(*verb, options.shop);
  verb->add_option("--only", options.only, "field or section to take over, such as rules; may be repeated")
      ->take_all()
      ->expected(1);
  verb->add_flag("--json", options.json, "print the values as JSON, in millimetres and degrees");
  verb->footer(
      "Exit codes: 0 good; 1 compare has found a difference; 2 the shop file, the project or the command "
      "line "
      "is wrong; 3 the output can't be written.");
}

void add_list(CLI::App& app, ListOptions& options) {
  CLI::App* verb = app.add_subcommand("list", "list the materials and drills that a project may name");
  const std::vector<std::string> kinds = listed_kinds();
  verb->add_option("WHAT", options.what, CLI::detail::join(kinds, ", "))
      ->required()
      ->check(CLI::IsMember(kinds));
  verb->add_flag("--json", options.json, "print them as JSON, with their sources");
  verb->footer(kExitCodes);
}

void add_new(CLI::App& app, NewOptions& options) {
  CLI::App* verb = app.add_subcommand("new", "start a project from a tang's measurements");
  verb->add_option("PROJECT", options.project, "project file to write")->required();
  verb->add_option("--tang", options.tang, "shape of the tang: straight or bowed")
      ->check(CLI::IsMember({"straight", "bowed"}))
      ->capture_default_str();
  verb->add_option("--length", options.length, "front face to butt, such as \"110 mm\" or \"4 3/8 in\"");
  verb->add_option("--front-height", options.front_height, "height of the tang at the front face");
  verb->add_option("--butt-height", options.butt_height, "height of the tang at the butt");
  verb->add_option("--thickness", options.thickness, "thickness of the steel");
  verb->add_option("--units", options.units, "units to show, and for bare numbers: mm, inch or inch_fraction")
      ->check(CLI::IsMember({"mm", "inch", "inch_fraction"}))
      ->capture_default_str();
  add_shop_file(*verb, options.shop);
  verb->add_flag("--replace", options.replace, "write over a file of that name");
  verb->footer(kExitCodes);
}

void add_align(CLI::App& app, AlignOptions& options) {
  CLI::App* verb =
      app.add_subcommand("align", "tell how far the joint lines of left and right may miss each other");
  add_project(*verb, options.common);
  std::vector<std::string> ways;
  for (const haftwright::WayRow& row : haftwright::way_rows()) ways.emplace_back(row.key);
  verb->add_option("--way", options.way, "drilled this way instead of the project's")
      ->check(CLI::IsMember(ways));
  verb->add_flag("--full", options.full,
                 "also every way of drilling, every place, what makes up the spread and every change");
  verb->add_option("--samples", options.samples, "handles to sample, such as 250000 or 1e7")
      ->transform(WholeNumber(100, 100'000'000))
      ->capture_default_str();
  verb->add_option("--seed", options.seed, "of the samples; the same seed gives the same figures")
      ->transform(WholeNumber(0, std::numeric_limits<std::uint64_t>::max()))
      ->capture_default_str();
}

void add_picture(CLI::App& app, PictureOptions& options) {
  CLI::App* verb =
      app.add_subcommand("picture", "draw the finished handle into a PNG file, without a display");
  verb->add_option("PROJECT", options.common.project, "project file (JSON, see projects/FORMAT.md)")
      ->required();
  add_output(*verb, options.common, "PROJECT-VIEW.png");
  verb->add_option("--view", options.view, "left, right, spine, belly, front, butt or three-quarter")
      ->check(CLI::IsMember({"left", "right", "spine", "belly", "front", "butt", "three-quarter"}))
      ->capture_default_str();
  verb->add_option("--size", options.size, "width x height in pixels")->capture_default_str();
  verb->add_option("--show", options.show,
                   "materials: as it will look; colours: the same without light; ghost: wood as if of glass; "
                   "mismatch: "
                   "the right side's joint lines over the left side's")
      ->check(CLI::IsMember({"materials", "colours", "ghost", "mismatch"}))
      ->capture_default_str();
  verb->add_option("--exploded", options.exploded, "how far the parts are drawn apart")
      ->check(CLI::Range(0.0, 1.0))
      ->capture_default_str();
  verb->add_option("--section", options.section,
                   "cut away what lies before a plane, such as \"y=0\" or \"x=2 in\"");
  verb->add_option("--backdrop", options.backdrop, "light or dark")
      ->check(CLI::IsMember({"light", "dark"}))
      ->capture_default_str();
  verb->add_flag("--transparent", options.transparent, "no backdrop at all");
  verb->add_flag("--no-shadow", options.no_shadow, "no shadows");
  verb->add_flag("--parallel", options.parallel, "without perspective: to scale all over");
  verb->add_option("--bin", options.woods.bin,
                   "plan over this bin as the verb plan does, and show each piece in the wood under its "
                   "place on the photo");
  add_planning(*verb, options.woods);
  verb->footer(kExitCodes);
}

}  // namespace

int main(int argc, char** argv) {
  // A file that grows past the limit must come back as an error, not end the program half-way.
  std::signal(SIGXFSZ, SIG_IGN);
  CLI::App app{"Haftwright: lay out two-sided knife and tool handles before cutting and drilling.",
               "haftwright"};
  app.set_version_flag("--version", std::string("haftwright ") + HAFTWRIGHT_VERSION);
  app.require_subcommand(0, 1);
  std::string window_project;
  app.add_option("PROJECT", window_project,
                 "without a verb: opens the window, on this project or on its start page");
  app.footer("'haftwright VERB --help' tells more of each verb. " + std::string(kExitCodes));

  VerbOptions options;
  JigOptions jig_options;
  NewOptions new_options;
  CLI::App* check_verb = app.add_subcommand("check", "measure every margin and say what fails, and why");
  add_project(*check_verb, options);
  CLI::App* jig_verb = app.add_subcommand("jig", "write the drill guide as STEP");
  add_project(*jig_verb, jig_options.common);
  add_output(*jig_verb, jig_options.common, "PROJECT-drill-guide.step");
  jig_verb->add_option("--steps", jig_options.steps, "write the order of work into this text file too");
  CLI::App* handle_verb = app.add_subcommand("handle", "write the finished handle, part by part, as STEP");
  add_project(*handle_verb, options);
  add_output(*handle_verb, options, "PROJECT-handle.step");
  CLI::App* glue_verb = app.add_subcommand("glue", "tell how much epoxy to mix");
  add_project(*glue_verb, options);
  AlignOptions align_options;
  add_align(app, align_options);
  add_new(app, new_options);
  ImportOptions import_options;
  add_import(app, import_options);
  ShopOptions shop_options;
  add_shop(app, shop_options);
  BinOptions bin_options;
  add_bin(app, bin_options);
  PlanOptions plan_options;
  add_plan(app, plan_options);
  ListOptions list_options;
  add_list(app, list_options);
  PictureOptions picture_options;
  add_picture(app, picture_options);

  try {
    app.parse(argc, argv);
  } catch (const CLI::ParseError& error) {
    return app.exit(error) == 0 ? good : bad_input;
  }
  if (check_verb->parsed()) return guarded(options.project, [&] { return check(options); });
  if (jig_verb->parsed()) return guarded(jig_options.common.project, [&] { return jig(jig_options); });
  if (handle_verb->parsed()) return guarded(options.project, [&] { return handle(options); });
  if (glue_verb->parsed()) return guarded(options.project, [&] { return glue(options); });
  if (app.got_subcommand("align"))
    return guarded(align_options.common.project, [&] { return align(align_options); });
  if (app.got_subcommand("picture"))
    return guarded(picture_options.common.project, [&] { return picture(picture_options); });
  if (app.got_subcommand("new")) return guarded(new_options.project, [&] { return make_new(new_options); });
  if (app.got_subcommand("import")) return import_drawing(import_options);
  if (app.got_subcommand("shop")) return guarded("shop", [&] { return shop(shop_options); });
  if (app.got_subcommand("plan"))
    return guarded(plan_options.common.project, [&] { return plan(plan_options); });
  if (app.got_subcommand("bin")) return bin(bin_options);
  if (app.got_subcommand("list")) return guarded("list", [&] { return list(list_options); });
  return guarded(window_project, [&] { return haftwright::run_window(window_project); });
}
