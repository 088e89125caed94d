#include "every_answer.hpp"

#include <cmath>
#include <functional>

#include "haftwright/alignment/assess.hpp"
#include "haftwright/checks/checks.hpp"
#include "haftwright/design/validate.hpp"
#include "haftwright/estimates/epoxy.hpp"
#include "haftwright/guide/drill_guide.hpp"
#include "haftwright/handle/lay_out.hpp"
#include "haftwright/handle/volumes.hpp"
#include "haftwright/preview/guide_mesh.hpp"
#include "haftwright/preview/meshes.hpp"

namespace haftwright::test {
namespace {

class Figures {
 public:
  void finite(const std::string& name, double value) {
    if (!std::isfinite(value)) bad_.push_back(name + " is " + std::to_string(value));
  }
  void finite(const std::string& name, Vec3 value) {
    for (const double part : {value.x, value.y, value.z}) finite(name, part);
  }
  /// Rounding may leave a hair below nothing.
  void amount(const std::string& name, double value) {
    if (!(value >= -1e-9 && value < 1e12)) bad_.push_back(name + " is " + std::to_string(value));
  }
  std::vector<std::string> bad() { return std::move(bad_); }

 private:
  std::vector<std::string> bad_;
};

void look_at_side(const SideLayout& side, Figures& figures) {
  for (const Part& part : side.parts) {
    figures.amount(part.name + " inner face", part.inner_face_area_mm2);
    figures.amount(part.name + " height", part.s_high_mm - part.s_low_mm);
    for (const Vec2 corner : {part.plan_bounds.low, part.plan_bounds.high})
      figures.finite(part.name + " bounds", Vec3(corner, 0));
  }
  for (const Bond& bond : side.bonds) figures.amount(bond.name, bond.area_mm2);
  for (const JointLayout& joint : side.joints)
    for (const JointLine& line : joint.lines) {
      figures.amount("joint face", line.face_area_mm2);
      figures.amount("joint face drilled", line.drilled_area_mm2);
      for (const LineEnd* end : {&line.spine, &line.belly}) {
        figures.finite("joint end", end->inner);
        figures.finite("joint end", end->outer);
      }
      for (const Vec3 place : line.on_surface) figures.finite("joint line", place);
    }
}

void look_at_volumes(const HandleVolumes& volumes, Figures& figures) {
  figures.amount("tang volume", volumes.tang_mm3);
  for (const SideVolumes* side : {&volumes.left, &volumes.right}) {
    figures.amount("scale volume", side->scale_mm3);
    for (std::size_t i = 0; i < side->parts.size(); ++i) {
      const std::string name = "part " + std::to_string(i + 1);
      figures.amount(name + " volume", side->parts[i].whole_mm3);
      figures.amount(name + " drilled", side->parts[i].drilled_mm3);
      figures.amount(name + " left of it", side->parts[i].left_mm3());
    }
  }
}

void look_at_mesh(const Preview& preview, Figures& figures) {
  for (const Body& body : preview.bodies) {
    figures.amount("mesh of " + body.name, mesh_volume_mm3(body));
    for (const Vertex& vertex : body.vertices)
      for (const float value : {vertex.position[0], vertex.position[1], vertex.position[2], vertex.normal[0],
                                vertex.normal[1], vertex.normal[2]})
        figures.finite("vertex of " + body.name, static_cast<double>(value));
  }
}

void look_at_findings(const std::vector<Finding>& findings, Figures& figures) {
  for (const Finding& finding : findings) {
    figures.finite(finding.id + ", " + where_words({}, finding.where), finding.value);
    figures.finite(finding.id + ", limit", finding.limit);
    if (finding.place) figures.finite(finding.id + ", place", *finding.place);
  }
}

void look_at_line_up(const LineUpReport& report, Figures& figures) {
  for (const WayReport& way : report.ways) {
    if (!way.problem.empty()) continue;
    for (const Distribution& measure : way.samples.measures) {
      figures.finite("line-up mean", measure.mean);
      figures.amount("line-up deviation", measure.deviation);
      figures.amount("line-up step", measure.size_95);
    }
  }
}

void look_at_epoxy(const EpoxyEstimate& estimate, Figures& figures) {
  for (const EpoxyEstimate::Line& line : estimate.lines) {
    figures.amount(line.name + " area", line.area_mm2);
    figures.amount(line.name + " volume", line.volume_ml);
  }
  figures.amount("resin", estimate.resin_g);
  figures.amount("hardener", estimate.hardener_g);
  figures.amount("epoxy", estimate.total_ml);
  figures.finite("ratio error", estimate.ratio_error_share);
}

void ask(Answers& answers, const std::function<void()>& question) {
  try {
    question();
  } catch (const InputError& error) {
    for (const Problem& problem : error.problems())
      answers.refusals.push_back(problem.field + ": " + problem.what);
  }
}

void look_at_handle(const Handle& handle, Figures& figures) {
  for (const SideLayout* side : {&handle.left, &handle.right}) look_at_side(*side, figures);
  for (const PinLayout& pin : handle.pins) figures.amount("pin length", pin.length_mm);
}

}  // namespace

Answers every_answer(const Design& design) {
  Answers answers;
  std::optional<Handle> handle;
  ask(answers, [&] { handle = lay_out(design); });
  if (!handle) return answers;
  answers.laid_out = true;
  Figures figures;
  look_at_handle(*handle, figures);
  look_at_volumes(volumes_of(design, *handle), figures);
  look_at_findings(run_checks(design, *handle), figures);
  look_at_epoxy(estimate_epoxy(design, *handle), figures);
  ask(answers, [&] {
    const DrillGuide guide = lay_out_guide(design, *handle);
    look_at_findings(guide.findings, figures);
    look_at_mesh(build_guide_preview(guide), figures);
  });
  ask(answers, [&] { look_at_line_up(assess(design, *handle, {.samples = 100, .threads = 1}), figures); });
  look_at_mesh(build_preview(design, *handle, MeshSettings::dragging(*handle)), figures);
  answers.bad = figures.bad();
  return answers;
}

}  // namespace haftwright::test
