#include "field_writer.hpp"
#include "haftwright/design/ids.hpp"
#include "haftwright/design/validate.hpp"
#include "haftwright/files/project_file.hpp"
#include "haftwright/files/safe_write.hpp"

namespace haftwright {

using namespace files;

std::string project_text(const Design& design) {
  if (auto problems = validate(design); !problems.empty()) throw InputError(std::move(problems));
  return text_of(kProjectFile, with_ids(design));
}

void write_project(const Design& design, const std::filesystem::path& path, OldFile old_file) {
  write_file_safely(path, project_text(design), old_file);
}

}  // namespace haftwright
