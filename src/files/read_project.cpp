#include <fcntl.h>
#include <unistd.h>

#include <array>
#include <cerrno>

#include "field_reader.hpp"
#include "haftwright/files/project_file.hpp"
#include "plain_reason.hpp"
#include "project_version.hpp"

namespace haftwright {

using namespace files;
namespace {

constexpr std::size_t kShownProblems = 20;

/// The file's marker and version come first: without them nothing else can be judged.
void check_version(const Json& root) {
  const std::string key(kVersionKey);
  if (!root.is_object()) throw InputError("", "is no Haftwright project: it must be one JSON object");
  const auto version = root.find(key);
  if (version == root.end())
    throw InputError(key,
                     "is missing: a project begins with \"haftwright\": " + std::to_string(kProjectVersion));
  if (!version->is_number_integer() || *version < 1)
    throw InputError(key, "must be the number of the format, 1 or more");
  if (*version > kProjectVersion)
    throw InputError(key, "this project was saved by a newer Haftwright (format " + version->dump() +
                              "); this one reads up to format " + std::to_string(kProjectVersion));
}

/// What lengths without a unit are in; a wrong `units` is reported when its turn comes.
LengthUnit unit_of(const Json& root) {
  if (const auto units = root.find("units"); units != root.end() && units->is_string())
    for (const auto& named : schema::kUnitNames)
      if (units->get_ref<const std::string&>() == named.name) return named.value;
  return Design{}.shown_unit;
}

[[noreturn]] void refuse(std::vector<Problem> problems) {
  if (problems.size() > kShownProblems) {
    const std::size_t left = problems.size() - kShownProblems;
    problems.resize(kShownProblems);
    problems.push_back({"", "and " + std::to_string(left) + " more problems"});
  }
  throw InputError(std::move(problems));
}

std::string too_large() {
  return "is larger than " + std::to_string(limits::kFileBytes) + " bytes, the most a project may have";
}

/// Everything in the file, or one byte more than is allowed.
std::string bytes_of(const std::filesystem::path& path) {
  const auto refuse_to_read = [&](int error) {
    throw InputError("", path.string() + " can't be read: " + plain_read_reason(error));
  };
  const int file = ::open(path.c_str(), O_RDONLY | O_CLOEXEC);
  if (file < 0) refuse_to_read(errno);
  std::string bytes;
  std::array<char, 65536> chunk;
  ssize_t got = 0;
  while (bytes.size() <= limits::kFileBytes && (got = ::read(file, chunk.data(), chunk.size())) != 0) {
    if (got > 0)
      bytes.append(chunk.data(), static_cast<std::size_t>(got));
    else if (errno != EINTR)
      break;
  }
  const int error = got < 0 ? errno : 0;
  ::close(file);
  if (error != 0) refuse_to_read(error);
  return bytes;
}

}  // namespace

Design parse_project(std::string_view json_text) {
  if (json_text.size() > limits::kFileBytes) throw InputError("", too_large());
  const Json root = parse_json(json_text);
  check_version(root);
  Design design;
  std::vector<Problem> problems;
  FieldReader(problems, unit_of(root)).read_object(root, design, kVersionKey);
  if (problems.empty()) problems = validate(design);
  if (!problems.empty()) refuse(std::move(problems));
  return design;
}

Design read_project(const std::filesystem::path& path) {
  return parse_project(bytes_of(path));
}

}  // namespace haftwright
