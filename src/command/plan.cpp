#include "plan.hpp"

#include <nlohmann/json.hpp>
#include <optional>

#include "haftwright/cutting/cutting_list.hpp"
#include "haftwright/cutting/findings.hpp"
#include "haftwright/cutting/take.hpp"
#include "haftwright/cutting/why_not.hpp"
#include "haftwright/design/validate.hpp"
#include "haftwright/drawing/svg.hpp"
#include "haftwright/files/bin_file.hpp"
#include "haftwright/files/project_file.hpp"
#include "haftwright/files/safe_write.hpp"
#include "plan_places.hpp"
#include "plan_reports.hpp"
#include "project.hpp"
#include "reports.hpp"
#include "terminal.hpp"

namespace haftwright::command {
namespace {

using Json = nlohmann::ordered_json;

std::filesystem::path bin_path(const PlanOptions& options) {
  return options.bin.empty() ? bin_file() : options.bin;
}

/// What is wrong with the bin is told under its own name; then there is none.
std::optional<Bin> bin_in_force(const PlanOptions& options) {
  const std::filesystem::path path = bin_path(options);
  std::optional<Bin> bin;
  guarded(path, [&] {
    std::error_code error;
    if (!std::filesystem::exists(path, error))
      throw InputError("", "there is no bin here; 'haftwright bin add' begins one");
    bin = read_bin(path);
    return good;
  });
  return bin;
}

/// By what all reservations of a project are known: its name, else its file's.
std::string project_name(const PlanOptions& options, const Design& design) {
  return design.name.empty() ? options.common.project.stem().string() : design.name;
}

/// Notes in the bin what the plan takes, or that it has been sawn; only if the bin is still the one planned
/// over.
void carry_over(const PlanOptions& options, const Project& project, const Bin& bin, const CuttingPlans& plans,
                const std::string& name) {
  const CuttingPlan& taken = plans.plans[options.take - 1];
  change_bin(bin_path(options), [&](const Bin& now) {
    if (now != bin)
      throw BinChanged(bin_path(options).string() + ": somebody has changed the bin meanwhile; plan again");
    const EditedBin edited = options.cut ? cut_as_planned(bin, plans.needs, taken, project.design.rules, name)
                                         : reserve_as_planned(bin, plans.needs, taken, name);
    if (!edited) throw OutputError(bin_path(options).string() + ": " + edited.refusal());
    return *edited;
  });
}

void report(const PlanOptions& options, const Project& project, const Bin& bin, const CuttingPlans& plans,
            const std::vector<Finding>& findings, const std::vector<WhyNot>& reasons) {
  const CuttingPlan& taken = plans.plans[options.take - 1];
  const std::vector<WorkStep> steps =
      cutting_steps(plans.needs, taken, bin, project.design.rules, project.design.shown_unit);
  if (options.common.json) {
    Json json = {{"program", "haftwright"},
                 {"version", HAFTWRIGHT_VERSION},
                 {"project", options.common.project.string()},
                 {"bin_file", bin_path(options).string()}};
    if (options.keep) json["file"] = options.common.project.string();
    json["hand_places"] = hand_places_json(project.design);
    json["needs"] = needs_json(plans.needs);
    json["plans"] = Json::array();
    for (const CuttingPlan& plan : plans.plans) json["plans"].push_back(plan_json(plans.needs, plan, bin));
    json["taken"] = options.take;
    json["why_not"] = why_not_json(plans.needs, bin, reasons);
    json["order_of_work"] = work_json(steps);
    json["findings"] = findings_json(project.design, findings);
    print_json(json);
    return;
  }
  print(plans_text(plans, bin, project.design.shown_unit) + "\n" + why_not_text(plans.needs, bin, reasons) +
        work_text(steps) + "\n" + findings_text(project.design, findings) + "\n" + summary_line(findings) +
        (options.keep ? "Written: " + options.common.project.string() + "\n" : ""));
}

}  // namespace

int plan(const PlanOptions& options) {
  if (options.reserve && options.cut)
    throw InputError("--cut", "the wood is either reserved or sawn: leave --reserve out");
  if (options.keep && options.fix.empty() && options.free.empty())
    throw InputError("--keep", "there is nothing to keep: say with --fix or --free what is to be where");
  Project project = open(options.common.project);
  const std::optional<Bin> in_force = bin_in_force(options);
  if (!in_force) return bad_input;
  const Bin& bin = *in_force;
  CuttingWishes wishes;
  wishes.plans = options.plans;
  wishes.project = project_name(options, project.design);
  wishes.book_shows_outside = options.outside;
  wishes.blanks_too = options.blanks_too;
  if (!options.order.empty()) wishes.order = typed_order(options.order);
  project.design = with_typed_places(options, project.design, bin, wishes);
  const CuttingPlans plans = plan_cutting(project.design, project.handle, bin, wishes);
  if (options.take > plans.plans.size())
    throw InputError("--take", "there are only " + std::to_string(plans.plans.size()) + " plans");
  const CuttingPlan& taken = plans.plans[options.take - 1];
  const std::vector<Finding> findings = cutting_findings(project.design, plans.needs, taken, bin);
  if (!options.common.output.empty()) {
    const Drawing drawing = cutting_drawing(plans.needs, taken, bin, project.design.shown_unit);
    if (drawing.items.empty())
      complain("nothing of the bin serves: no drawing was written.");
    else
      write_file_safely(options.common.output, to_svg(drawing, {.title = wishes.project + ": cutting plan"}));
  }
  if (options.keep) write_project(project.design, options.common.project);
  if (options.reserve || options.cut) carry_over(options, project, bin, plans, wishes.project);
  const std::vector<WhyNot> reasons =
      options.take == 1 ? why_not(project.design, bin, wishes, plans) : std::vector<WhyNot>{};
  report(options, project, bin, plans, findings, reasons);
  return verdict(findings, "");
}

}  // namespace haftwright::command
