#include "main_plan.hpp"

namespace haftwright::command {

void add_planning(CLI::App& verb, PlanOptions& options) {
  verb.add_option("--plans", options.plans, "how many plans to compare, at most")
      ->check(CLI::Range(1, 20))
      ->capture_default_str();
  verb.add_option("--take", options.take, "which of them is shown whole and drawn")
      ->check(CLI::Range(1, 20))
      ->capture_default_str();
  verb.add_flag("--outside", options.outside, "books show the offcut's outer faces, not the sawn ones");
  verb.add_flag("--all-pieces", options.blanks_too,
                "plan pieces too whose blank is typed with length and width, which else counts as at hand");
}

void add_plan(CLI::App& app, PlanOptions& options) {
  CLI::App* verb = app.add_subcommand("plan", "plan which offcut each blank is sawn from, and how");
  verb->add_option("PROJECT", options.common.project, "project file (JSON, see projects/FORMAT.md)")
      ->required();
  verb->add_option("--bin", options.bin, "bin file; left out: your own");
  verb->add_option("-o,--output", options.common.output, "draw the plan at true size into this SVG file");
  add_planning(*verb, options);
  verb->add_option("--fix", options.fix,
                   "lay a blank by hand and plan the rest round it: \"left front\" where the plan has it, or "
                   "\"left front=OFFCUT@X,Y,TURN\" with the middle of the blank there; may be repeated")
      ->take_all()
      ->expected(1);
  verb->add_option("--free", options.free, "take a blank's place by hand away, or all; may be repeated")
      ->take_all()
      ->expected(1);
  verb->add_flag("--keep", options.keep, "write these places into the project");
  verb->add_option("--order", options.order,
                   "what counts among plans that place as much, the most important first: small, leftover, "
                   "cuts, grain");
  verb->add_flag("--reserve", options.reserve, "note in the bin what the plan takes, for this project");
  verb->add_flag("--cut", options.cut, "it has been sawn: take it out of the bin and put back what is left");
  verb->add_flag("--incomplete", options.incomplete,
                 "with --cut: it has been sawn though some pieces have no place");
  verb->add_flag("--json", options.common.json, "print the plans as JSON, in millimetres and degrees");
  verb->footer(
      "Exit codes: 0 good; 1 something has no place, or a check of the plan fails; 2 the project, the bin or "
      "the "
      "command line is wrong; 3 a file can't be written, or somebody else has changed the bin meanwhile.");
}

}  // namespace haftwright::command
