#include "own_file.hpp"

#include <fcntl.h>
#include <unistd.h>

#include <array>
#include <cerrno>

#include "plain_reason.hpp"

namespace haftwright::files {
namespace {

constexpr std::size_t kShownProblems = 20;

const FileKind* marked_as(const Json& root) {
  for (const FileKind* kind : {&kProjectFile, &kShopFile, &kBinFile})
    if (root.contains(kind->version_key)) return kind;
  return nullptr;
}

void check_version(const Json& root, const FileKind& kind) {
  const std::string key(kind.version_key);
  const std::string noun(kind.noun);
  if (!root.is_object()) throw InputError("", "is no Haftwright " + noun + ": it must be one JSON object");
  const auto version = root.find(key);
  if (version == root.end()) {
    const FileKind* other = marked_as(root);
    throw InputError(
        key, "is missing: " +
                 (other ? "this is a Haftwright " + std::string(other->noun) + "; a " : std::string("a ")) +
                 noun + " begins with \"" + key + "\": " + std::to_string(kind.version));
  }
  if (!version->is_number_integer() || *version < 1)
    throw InputError(key, "must be the number of the format, 1 or more");
  if (*version > kind.version)
    throw InputError(key, "this " + noun + " was saved by a newer Haftwright (format " + version->dump() +
                              "); this one reads up to format " + std::to_string(kind.version));
}

[[noreturn]] void refuse_to_read(const std::filesystem::path& path, int error) {
  throw InputError("", path.string() + " can't be read: " + plain_read_reason(error));
}

}  // namespace

Json root_of(std::string_view json_text, const FileKind& kind) {
  if (json_text.size() > kind.most_bytes)
    throw InputError("", "is larger than " + std::to_string(kind.most_bytes) + " bytes, the most a " +
                             std::string(kind.noun) + " may have");
  Json root = parse_json(json_text);
  check_version(root, kind);
  return root;
}

void refuse(std::vector<Problem> problems) {
  if (problems.size() > kShownProblems) {
    const std::size_t left = problems.size() - kShownProblems;
    problems.resize(kShownProblems);
    problems.push_back({"", "and " + std::to_string(left) + " more problems"});
  }
  throw InputError(std::move(problems));
}

std::optional<std::string> bytes_of(const std::filesystem::path& path, std::size_t most_bytes) {
  const int file = ::open(path.c_str(), O_RDONLY | O_CLOEXEC);
  if (file < 0 && errno == ENOENT) return std::nullopt;
  if (file < 0) refuse_to_read(path, errno);
  std::string bytes;
  std::array<char, 65536> chunk;
  ssize_t got = 0;
  while (bytes.size() <= most_bytes && (got = ::read(file, chunk.data(), chunk.size())) != 0) {
    if (got > 0)
      bytes.append(chunk.data(), static_cast<std::size_t>(got));
    else if (errno != EINTR)
      break;
  }
  const int error = got < 0 ? errno : 0;
  ::close(file);
  if (error != 0) refuse_to_read(path, error);
  return bytes;
}

std::string bytes_there(const std::filesystem::path& path, std::size_t most_bytes) {
  if (auto bytes = bytes_of(path, most_bytes)) return std::move(*bytes);
  refuse_to_read(path, ENOENT);
}

}  // namespace haftwright::files
