#include "plan.hpp"

#include <nlohmann/json.hpp>

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
#include "planned_over.hpp"
#include "project.hpp"
#include "reports.hpp"
#include "terminal.hpp"

namespace haftwright::command {
namespace {

using Json = nlohmann::ordered_json;

/// A plan with gaps is sawn only by somebody who has seen them.
void require_whole(const Needs& needs, const CuttingPlan& plan) {
  if (plan.pieces_without.empty()) return;
  std::string names;
  for (const std::size_t i : plan.pieces_without) names += (names.empty() ? "" : ", ") + needs.pieces[i].name;
  throw InputError("--cut", "there is no place for: " + names +
                                "; the bin stays as it is. Give --incomplete as well if the rest has been "
                                "sawn without them");
}

/// Notes in the bin what the plan takes, or that it has been sawn; only if the bin is still the one planned
/// over.
void carry_over(const PlanOptions& options, const Project& project, const Bin& bin, const CuttingPlans& plans,
                const std::string& name) {
  const CuttingPlan& taken = plans.plans[options.take - 1];
  change_bin(bin_of(options), [&](const Bin& now) {
    if (now != bin)
      throw BinChanged(bin_of(options).string() + ": somebody has changed the bin meanwhile; plan again");
    const EditedBin edited = options.cut ? cut_as_planned(bin, plans.needs, taken, project.design.rules, name)
                                         : reserve_as_planned(bin, plans.needs, taken, name);
    if (!edited) throw OutputError(bin_of(options).string() + ": " + edited.refusal());
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
                 {"bin_file", bin_of(options).string()}};
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
  if (options.incomplete && !options.cut) throw InputError("--incomplete", "goes with --cut alone");
  if (options.keep && options.fix.empty() && options.free.empty())
    throw InputError("--keep", "there is nothing to keep: say with --fix or --free what is to be where");
  Project project = open(options.common.project);
  const std::optional<PlannedOver> planned = plan_over_bin(options, project);
  if (!planned) return bad_input;
  const auto& [bin, wishes, plans] = *planned;
  const CuttingPlan& taken = plans.plans[options.take - 1];
  if (options.cut && !options.incomplete) require_whole(plans.needs, taken);
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
