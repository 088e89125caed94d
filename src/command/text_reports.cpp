#include <algorithm>
#include <cmath>

#include "haftwright/design/units.hpp"
#include "haftwright/handle/measures.hpp"
#include "haftwright/handle/volumes.hpp"
#include "reports.hpp"
#include "text_shapes.hpp"

namespace haftwright::command {
namespace {

std::string measured(const Finding& finding, LengthUnit unit) {
  const char* sense = finding.sense == Sense::at_least ? "at least " : "at most ";
  return amount_words(finding.value, finding.unit, unit) + ", wanted " + sense +
         amount_words(finding.limit, finding.unit, unit);
}

std::string in_full(const Design& design, const Finding& finding) {
  const LengthUnit unit = design.shown_unit;
  const std::string mark = finding.status == Status::fail ? "FAIL  " : "NEAR  ";
  return mark + finding.id + ": " + where_words(design, finding.where) + "\n      " +
         measured(finding, unit) + "\n" + wrapped(finding.why, "      ") +
         wrapped("Basis: " + finding.basis, "      ");
}

/// Where a joint's first line runs, as a caliper reads it and as it was drawn.
std::string joint_text(const SideLayout& side, const JointLayout& joint, LengthUnit unit) {
  const JointLine& line = joint.lines.front();
  const auto at = [&](HandleEdge edge) {
    const CaliperReach reach = caliper_from_front(side, line, edge);
    return std::string(name_of(edge)) + " " + format_length(reach.inner_mm, unit) + " (surface " +
           format_length(reach.surface_mm, unit) + ")";
  };
  const auto x_of = [&](const char* edge, const LineEnd& end) {
    return std::string(edge) + " " + format_length(end.inner.x, unit) + " (surface " +
           format_length(end.outer.x, unit) + ")";
  };
  const std::string strips = joint.lines.size() > 1 ? ", front of the strips" : "";
  return "  " + std::string(name_of(side.which)) + " joint " + std::to_string(joint.joint + 1) + strips +
         ", by caliper from the front face's end at the same edge:\n    " + at(HandleEdge::spine) + ", " +
         at(HandleEdge::belly) + "\n    x: " + x_of("spine", line.spine) + ", " + x_of("belly", line.belly) +
         "\n";
}

std::string volume(double mm3) {
  return format_number(mm3 / 1000, 2) + " cm3";
}

}  // namespace

std::string findings_text(const Design& design, std::vector<Finding> findings) {
  findings = sides_together(std::move(findings));
  sort_worst_first(findings);
  std::string out;
  std::vector<std::string> good;
  std::size_t width = 0;
  for (const Finding& finding : findings) {
    if (finding.status != Status::pass) {
      out += in_full(design, finding) + "\n";
      continue;
    }
    good.push_back(finding.id + ": " + where_words(design, finding.where));
    width = std::max(width, good.back().size());
  }
  constexpr std::size_t kWidest = 76;
  auto words = good.begin();
  for (const Finding& finding : findings)
    if (finding.status == Status::pass)
      out += "ok    " + padded(*words++, std::min(width, kWidest)) + "  " +
             measured(finding, design.shown_unit) + "\n";
  return out;
}

std::string summary_line(const std::vector<Finding>& findings) {
  const auto count = [&](Status status) {
    return std::to_string(std::count_if(findings.begin(), findings.end(),
                                        [&](const Finding& finding) { return finding.status == status; }));
  };
  return count(Status::fail) + " fail, " + count(Status::near) + " near, " + count(Status::pass) + " good\n";
}

std::string overview_text(const Design& design, const Handle& handle) {
  const LengthUnit unit = design.shown_unit;
  const Bounds& plan = handle.left.finished.bounds();
  std::string out = (design.name.empty() ? std::string("Handle") : design.name) + "\n";
  out += "  handle " + format_length(plan.size().x, unit) + " long, " + format_length(plan.size().y, unit) +
         " high; tang " + format_length(handle.tang_thickness_mm(0), unit);
  if (handle.tang_slope != 0)
    out += " tapering to " + format_length(handle.tang_thickness_mm(handle.tang.bounds().high.x), unit);
  out += design.mirrored() ? "; both sides alike\n" : "; the right side differs\n";
  for (Which which : {Which::left, Which::right}) {
    const SideLayout& side = handle.side(which);
    for (const JointLayout& joint : side.joints) out += joint_text(side, joint, unit);
  }
  return out;
}

std::string parts_text(const Design& design, const Handle& handle) {
  const HandleVolumes volumes = volumes_of(design, handle);
  std::string out;
  for (Which which : {Which::left, Which::right}) {
    const std::vector<Part>& parts = handle.side(which).parts;
    for (std::size_t i = 0; i < parts.size(); ++i) {
      const Part& part = parts[i];
      const Material* material = design.material(part.material);
      const double net = volumes.side(which).parts[i].left_mm3();
      const std::string wood = material ? material->name : part.material;
      const std::string mass = material ? format_number(net * material->density_kg_m3 * 1e-6, 1) + " g" : "";
      out += "  " + padded(part.name, 28) + padded(wood, 26) + right_aligned(volume(net), 11) +
             right_aligned(mass, 10) + "\n";
    }
  }
  return out;
}

std::string cautions_text(const Design& design) {
  std::string out = "Take care\n";
  for (const std::string& caution : cautions(design)) out += wrapped(caution, "  ");
  return out;
}

std::string epoxy_text(const Design& design, const EpoxyEstimate& estimate) {
  const auto ml = [](double value) { return right_aligned(format_number(value, 2), 8) + " ml\n"; };
  const int decimals = decimals_of_step(design.adhesive.scale_step_g);
  std::string out = "Epoxy for " + (design.name.empty() ? std::string("this handle") : design.name) + "\n";
  for (const EpoxyEstimate::Line& line : estimate.lines)
    out += "  " + padded(line.name, 44) + ml(line.volume_ml);
  out += "  " + padded("together", 44) + ml(estimate.net_ml);
  out += "  " + padded("squeeze-out", 44) + ml(estimate.squeeze_out_ml);
  out += "  " + padded("left in the cup", 44) + ml(estimate.cup_loss_ml);
  out += "  " + padded("needed", 44) + ml(estimate.total_ml);
  out += "Mix " + format_number(estimate.resin_g, decimals) + " g resin and " +
         format_number(estimate.hardener_g, decimals) + " g hardener (" +
         format_number(estimate.resin_ml, 1) + " ml and " + format_number(estimate.hardener_ml, 1) + " ml)";
  if (estimate.least_batch_rules) out += ", the smallest batch that can be weighed well";
  out += ".\n";
  out += wrapped("Ratio by weight 100 : " + format_number(estimate.hardener_per_resin_by_weight * 100, 1) +
                     "; whole steps of the scale move it by " +
                     format_number(estimate.ratio_error_share * 100, 1) +
                     " %. The adhesive's own data sheet overrides every figure here.",
                 "");
  return out;
}

std::string guide_text(const Design& design, const DrillGuide& guide) {
  const LengthUnit unit = design.shown_unit;
  std::string out = "Drill guide: plate " + plate_words(guide, unit) + "\n";
  for (const GuideBore& bore : guide.bores)
    out += "  bore for pin " + std::to_string(bore.pin + 1) + " at x " + format_length(bore.at.x, unit) +
           ", y " + format_length(bore.at.y, unit) + ": " + fine_length(bore.diameter_mm, unit) +
           (bore.for_bushing ? " for the bushing\n" : "\n");
  return out;
}

std::string work_text(const std::vector<WorkStep>& steps) {
  std::string out = "Order of work\n";
  const std::string lines = order_of_work_text(steps);
  for (std::size_t from = 0; from < lines.size();) {
    const std::size_t end = lines.find('\n', from);
    out += wrapped(lines.substr(from, end - from), "  ");
    from = end + 1;
  }
  return out;
}

}  // namespace haftwright::command
