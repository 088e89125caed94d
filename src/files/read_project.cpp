#include "field_reader.hpp"
#include "format_1.hpp"
#include "haftwright/design/ids.hpp"
#include "haftwright/files/project_file.hpp"
#include "own_file.hpp"

namespace haftwright {

using namespace files;

Design parse_project(std::string_view json_text) {
  Json root = root_of(json_text, kProjectFile);
  Design design;
  std::vector<Problem> problems;
  if (root[std::string(kProjectFile.version_key)] == 1) convert_from_1(root, problems);
  FieldReader(problems, unit_of(root)).read_object(root, design, kProjectFile.version_key);
  design = with_ids(std::move(design));
  if (problems.empty()) problems = validate(design);
  if (!problems.empty()) refuse(std::move(problems));
  return design;
}

Design read_project(const std::filesystem::path& path) {
  return parse_project(bytes_there(path));
}

}  // namespace haftwright
