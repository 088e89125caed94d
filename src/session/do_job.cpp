#include "haftwright/alignment/findings.hpp"
#include "haftwright/design/validate.hpp"
#include "haftwright/files/safe_write.hpp"
#include "haftwright/guide/drill_guide.hpp"
#include "haftwright/handle/lay_out.hpp"
#include "haftwright/session/jobs.hpp"

namespace haftwright {
namespace {

// How far along a job is once its bodies are made; making the file's text and writing it is the rest.
constexpr double kBodiesShare = 0.8;
constexpr double kTextShare = 0.95;

void begin(const JobContext& context, double share, const std::string& step) {
  context.progress(share, step);
  if (context.stop.stop_requested()) throw Cancelled{};
}

bool fails(const std::vector<Finding>& findings) {
  return worst(findings) == Status::fail;
}

FileWritten write_step(const JobRequest& request, const Bodies& bodies, const JobContext& context) {
  begin(context, kBodiesShare, "putting the file together");
  const std::string text = bodies.step_text(request.product_name);
  begin(context, kTextShare, "writing the file");
  write_file_safely(request.path, text);
  return {request.path, text.size(), bodies.facts(), false, bodies.warnings()};
}

}  // namespace

const char* name_of(JobKind kind) {
  switch (kind) {
    case JobKind::guide_step:
      return "drill guide";
    case JobKind::handle_step:
      break;
  }
  return "finished handle";
}

FileWritten do_job(const JobRequest& request, const JobContext& context) {
  const Design& design = *request.design;
  begin(context, 0, "laying the handle out");
  if (std::vector<Problem> problems = validate(design); !problems.empty())
    throw InputError(std::move(problems));
  const Handle handle = lay_out(design);
  const bool checks_fail = fails(all_findings(design, handle));
  JobContext building = context;
  building.progress = [&](double share, const std::string& step) {
    context.progress(kBodiesShare * share, step);
  };
  if (request.kind == JobKind::guide_step) {
    const DrillGuide guide = lay_out_guide(design, handle);
    FileWritten written = write_step(request, *build_guide(guide, building), context);
    written.checks_fail = checks_fail || fails(guide.findings);
    return written;
  }
  FileWritten written = write_step(request, *build_handle(design, handle, building), context);
  written.checks_fail = checks_fail;
  return written;
}

}  // namespace haftwright
