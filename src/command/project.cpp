#include "project.hpp"

#include <iterator>

#include "haftwright/alignment/findings.hpp"
#include "haftwright/design/validate.hpp"
#include "haftwright/files/project_file.hpp"

namespace haftwright::command {

Project open(const std::filesystem::path& path) {
  Design design = read_project(path);
  Handle handle = lay_out(design);
  std::vector<Finding> findings = run_checks(design, handle);
  return {std::move(design), std::move(handle), std::move(findings)};
}

Project open_whole(const std::filesystem::path& path) {
  Project project = open(path);
  add(line_up_findings(project.design, project.handle), project.findings);
  return project;
}

void add(std::vector<Finding> more, std::vector<Finding>& findings) {
  findings.insert(findings.end(), std::make_move_iterator(more.begin()), std::make_move_iterator(more.end()));
}

std::filesystem::path output_path(const VerbOptions& options, const char* suffix) {
  const std::filesystem::path path = options.output.empty()
                                         ? std::filesystem::path(options.project.stem().string() + suffix)
                                         : options.output;
  std::error_code ignored;
  if (std::filesystem::equivalent(path, options.project, ignored))
    throw InputError("", "the output would overwrite the project file; name another with -o");
  return path;
}

int verdict(const std::vector<Finding>& findings, const std::string& warning) {
  if (worst(findings) != Status::fail) return good;
  if (!warning.empty()) complain("warning: some checks fail; " + warning);
  return check_fails;
}

}  // namespace haftwright::command
