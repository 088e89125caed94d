#include "verbs.hpp"

#include <filesystem>
#include <new>
#include <nlohmann/json.hpp>

#include "align_reports.hpp"
#include "haftwright/alignment/findings.hpp"
#include "haftwright/design/validate.hpp"
#include "haftwright/files/safe_write.hpp"
#include "haftwright/guide/order_of_work.hpp"
#include "haftwright/solids/engine.hpp"
#include "project.hpp"
#include "reports.hpp"
#include "sampling_progress.hpp"

namespace haftwright::command {
namespace {

using Json = nlohmann::ordered_json;

Json head(const VerbOptions& options, const Project& project) {
  return {{"program", "haftwright"},
          {"version", HAFTWRIGHT_VERSION},
          {"project", options.project.string()},
          {"name", project.design.name}};
}

void write_bodies(const VerbOptions& options, const Project& project, const Bodies& bodies,
                  const std::filesystem::path& path) {
  const std::string product =
      project.design.name.empty() ? options.project.stem().string() : project.design.name;
  write_file_safely(path, bodies.step_text(product));
}

/// The order of work must overwrite neither the project nor the guide's own file.
void require_own_file(const JigOptions& options, const std::filesystem::path& step_file) {
  std::error_code ignored;
  const auto resolved = [&](const std::filesystem::path& path) {
    return std::filesystem::weakly_canonical(std::filesystem::absolute(path, ignored), ignored);
  };
  if (options.steps.empty()) return;
  for (const std::filesystem::path& other : {options.common.project, step_file})
    if (resolved(options.steps) == resolved(other))
      throw InputError(
          "", "the order of work would overwrite " + other.string() + "; name another file with --steps");
}

/// The failing ones in full, where the rest would only be in the way.
std::string failing_text(const Design& design, std::vector<Finding> findings) {
  std::erase_if(findings, [](const Finding& finding) { return finding.status != Status::fail; });
  return findings_text(design, std::move(findings));
}

std::string written_in_spite(const std::filesystem::path& path) {
  return path.string() + " was written all the same. Read the findings before you drill.";
}

constexpr const char* kMore =
    "Every way of drilling, every place, what makes up the spread, every change: add --full.\n\n";

/// Those about left against right as they are laid out.
std::vector<Finding> meeting_findings(std::vector<Finding> findings) {
  std::erase_if(findings, [](const Finding& finding) { return !finding.id.starts_with("align."); });
  return findings;
}

/// Ctrl+C ends it in words.
LineUpReport assess_watched(const Design& design, const Handle& handle, const SampleSettings& settings) {
  try {
    SamplingProgress progress;
    return assess(design, handle, progress.watched(settings));
  } catch (const SamplingStopped&) {
    complain("stopped before all handles were drawn, so there are no figures.");
    end_by_interrupt();
  }
}

/// Readings that tell nothing are no success.
int dry_fit_verdict(const Design& design, const std::optional<DryFit>& fit) {
  if (design.dry_fit.empty() || (fit && fit->problem.empty())) return good;
  complain(fit ? "warning: the readings of the dry fit do not show what to do; see what to read again."
               : "warning: no reading of the dry fit could be used.");
  return check_fails;
}

}  // namespace

int guarded(const std::filesystem::path& project, const std::function<int()>& verb) {
  const std::string file = project.string();
  try {
    return verb();
  } catch (const InputError& error) {
    for (const Problem& problem : error.problems())
      complain(file + ": " + (problem.field.empty() ? "" : problem.field + ": ") + problem.what);
    return bad_input;
  } catch (const OutputError& error) {
    complain(error.what());
    return cannot_write;
  } catch (const EngineError& error) {
    complain(error.what());
    return cannot_write;
  } catch (const SolidError& error) {
    complain(file + ": no exact solid: " + error.what());
    return bad_input;
  } catch (const std::filesystem::filesystem_error& error) {
    complain(error.path1().string() + ": can't be used: " + error.code().message());
    return cannot_write;
  } catch (const std::bad_alloc&) {
    complain(file + ": takes more memory than there is");
    return bad_input;
  } catch (const std::exception& error) {
    complain(file + ": can't be computed: " + error.what());
    return bad_input;
  } catch (...) {
    complain(file + ": can't be computed, for a reason that was not given");
    return bad_input;
  }
}

int check(const VerbOptions& options) {
  const Project project = open_whole(options.project);
  if (options.json) {
    Json json = head(options, project);
    json["findings"] = findings_json(project.design, project.findings);
    json["handle"] = handle_json(project.design, project.handle);
    json["cautions"] = cautions_json(project.design);
    print_json(json);
  } else {
    print(overview_text(project.design, project.handle) + "\n" +
          findings_text(project.design, project.findings) + "\n" + summary_line(project.findings) + "\n" +
          parts_text(project.design, project.handle) + "\n" + cautions_text(project.design));
  }
  return verdict(project.findings, "");
}

int jig(const JigOptions& jig_options) {
  const VerbOptions& options = jig_options.common;
  Project project = open_whole(options.project);
  const std::filesystem::path path = output_path(options, "-drill-guide.step");
  require_own_file(jig_options, path);
  const DrillGuide guide = lay_out_guide(project.design, project.handle);
  const auto made = build_guide(guide);
  const Bodies& bodies = *made;
  const std::vector<WorkStep> steps = order_of_work(project.design, project.handle, guide);
  write_bodies(options, project, bodies, path);
  if (!jig_options.steps.empty()) write_file_safely(jig_options.steps, order_of_work_text(steps));
  if (options.json) {
    Json json = head(options, project);
    json["file"] = path.string();
    json["guide"] = guide_json(guide);
    const TangStrip strip = tang_strip(project.handle, guide);
    json["tang_packing_mm"] = tang_packing_mm(project.handle, guide);
    json["tang_strip"] = {{"thickness_mm", strip.thickness_mm}, {"at_x_mm", strip.at_x_mm}};
    json["order_of_work"] = work_json(steps);
    json["findings"] = findings_json(project.design, guide.findings);
    json["handle_findings"] = findings_json(project.design, project.findings);
    json["bodies"] = bodies_json(bodies.facts());
    print_json(json);
  } else {
    print(guide_text(project.design, guide) + "\n" + findings_text(project.design, guide.findings) + "\n" +
          work_text(steps) + "\n" + "Guide:  " + summary_line(guide.findings) +
          "Handle: " + summary_line(project.findings) + "Written: " + path.string() + "\n");
  }
  add(guide.findings, project.findings);
  return verdict(project.findings, written_in_spite(path));
}

int handle(const VerbOptions& options) {
  const Project project = open_whole(options.project);
  const std::filesystem::path path = output_path(options, "-handle.step");
  const auto made = build_handle(project.design, project.handle);
  const Bodies& bodies = *made;
  for (const std::string& warning : bodies.warnings()) complain("warning: " + warning + ".");
  write_bodies(options, project, bodies, path);
  if (options.json) {
    Json json = head(options, project);
    json["file"] = path.string();
    json["bodies"] = bodies_json(bodies.facts());
    json["warnings"] = bodies.warnings();
    json["findings"] = findings_json(project.design, project.findings);
    print_json(json);
  } else {
    print(overview_text(project.design, project.handle) + "\n" + parts_text(project.design, project.handle) +
          "\n" + failing_text(project.design, project.findings) + summary_line(project.findings) +
          "Written: " + path.string() + "\n");
  }
  return verdict(project.findings, written_in_spite(path));
}

int align(const AlignOptions& options) {
  Project project = open(options.common.project);
  Design& design = project.design;
  for (const WayRow& row : way_rows())
    if (options.way == row.key) design.drilling.way = row.way;
  const SampleSettings settings{.samples = options.samples, .seed = options.seed};
  const LineUpReport report = assess_watched(design, project.handle, settings);
  std::vector<Finding> findings = line_up_findings(design, report.ways[report.chosen]);
  add(meeting_findings(project.findings), findings);
  const std::optional<DryFit> fit = read_dry_fit(design, project.handle);
  const std::vector<UnusedReading> unused = unused_readings(design, project.handle);
  if (options.common.json) {
    Json json = head(options.common, project);
    json["line_up"] = line_up_json(design, report, settings);
    json["findings"] = findings_json(project.design, findings);
    if (!design.dry_fit.empty()) json["dry_fit"] = dry_fit_json(fit, unused);
    json["cautions"] = cautions_json(design);
    print_json(json);
  } else {
    print(line_up_text(design, report) + "\n" +
          (options.full ? line_up_full_text(design, report, settings) + "\n" : std::string()) +
          failing_text(design, findings) + (fit ? dry_fit_text(design, *fit) + "\n" : "") +
          unused_text(unused) + (options.full ? "" : kMore) + cautions_text(design));
  }
  if (fit && !unused.empty()) complain("warning: not every reading of the dry fit could be used.");
  const int lined_up = verdict(findings, "both sides will not line up as they should.");
  const int read = dry_fit_verdict(design, fit);
  return lined_up == good ? read : lined_up;
}

int glue(const VerbOptions& options) {
  const Project project = open_whole(options.project);
  const EpoxyEstimate estimate = estimate_epoxy(project.design, project.handle);
  std::vector<Finding> ratio = project.findings;
  std::erase_if(ratio, [](const Finding& finding) { return !finding.id.starts_with("glue."); });
  if (options.json) {
    Json json = head(options, project);
    json["epoxy"] = epoxy_json(estimate);
    json["findings"] = findings_json(project.design, ratio);
    json["cautions"] = cautions_json(project.design);
    print_json(json);
  } else {
    print(epoxy_text(project.design, estimate) + "\n" + findings_text(project.design, ratio) + "\n" +
          cautions_text(project.design));
  }
  return verdict(project.findings, "see 'haftwright check' before you glue.");
}

}  // namespace haftwright::command
