#include "project.hpp"

#include "haftwright/design/validate.hpp"
#include "haftwright/files/project_file.hpp"

namespace haftwright::command {

Project open(const std::filesystem::path& path) {
  Design design = read_project(path);
  Handle handle = lay_out(design);
  std::vector<Finding> findings = run_checks(design, handle);
  return {std::move(design), std::move(handle), std::move(findings)};
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
