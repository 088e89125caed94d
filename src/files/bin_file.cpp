#include "haftwright/files/bin_file.hpp"

#include "field_reader.hpp"
#include "field_writer.hpp"
#include "folder_lock.hpp"
#include "haftwright/files/folders.hpp"
#include "haftwright/offcuts/bin_checks.hpp"
#include "haftwright/offcuts/bin_schema.hpp"
#include "own_file.hpp"

namespace haftwright {

using namespace files;
namespace fs = std::filesystem;
namespace {

void make_folder_of(const fs::path& path) {
  std::error_code error;
  if (path.has_parent_path()) fs::create_directories(path.parent_path(), error);
  if (error)
    throw OutputError(path.parent_path().string() + ": the folder can't be made: " + error.message());
}

/// The file that a link leads to: all that write it lock one folder, whichever name they use.
fs::path resolved(const fs::path& path) {
  std::error_code error;
  const fs::path found = fs::weakly_canonical(path, error);
  return error ? path : found;
}

/// With the lock held already.
void write_unless_changed(std::string_view text, const fs::path& path,
                          const std::optional<std::string>& bytes_read) {
  if (bytes_of(path, kBinFile.most_bytes) != bytes_read)
    throw BinChanged(path.string() +
                     ": the bin was changed by another window or command meanwhile; nothing was written, "
                     "read it again");
  write_file_safely(path, text, bytes_read ? OldFile::replace : OldFile::refuse);
}

}  // namespace

fs::path bin_file() {
  return data_folder() / "bin.json";
}

Bin parse_bin(std::string_view json_text) {
  const Json root = root_of(json_text, kBinFile);
  Bin bin;
  std::vector<Problem> problems;
  FieldReader(problems, unit_of(root)).read_object(root, bin, kBinFile.version_key);
  bin = with_ids(std::move(bin));
  if (problems.empty()) problems = validate(bin);
  if (!problems.empty()) refuse(std::move(problems));
  return bin;
}

BinOnDisk read_bin_with_bytes(const fs::path& path) {
  BinOnDisk found;
  found.bytes = bytes_of(path, kBinFile.most_bytes);
  if (found.bytes) found.bin = parse_bin(*found.bytes);
  return found;
}

Bin read_bin(const fs::path& path) {
  return read_bin_with_bytes(path).bin;
}

std::string bin_text(const Bin& bin) {
  if (auto problems = validate(bin); !problems.empty()) throw InputError(std::move(problems));
  std::string text = text_of(kBinFile, with_ids(bin));
  if (text.size() > kBinFile.most_bytes)
    throw InputError("", "would be larger than " + std::to_string(kBinFile.most_bytes) +
                             " bytes, the most a bin of offcuts may have");
  return text;
}

void write_bin(const Bin& bin, const fs::path& path, OldFile old_file) {
  const std::string text = bin_text(bin);
  make_folder_of(path);
  write_file_safely(path, text, old_file);
}

std::string write_bin_over(const Bin& bin, const fs::path& path,
                           const std::optional<std::string>& bytes_read) {
  std::string text = bin_text(bin);
  make_folder_of(path);
  const FolderLock lock(resolved(path).parent_path());
  write_unless_changed(text, path, bytes_read);
  return text;
}

Bin change_bin(const fs::path& path, const std::function<Bin(const Bin&)>& edit) {
  std::error_code ignored;
  if (!fs::exists(path, ignored)) {
    // A folder that is not there can't be locked, and none is made for an edit without effect.
    if (edit(Bin{}) == Bin{}) return {};
    make_folder_of(path);
  }
  const FolderLock lock(resolved(path).parent_path());
  const BinOnDisk before = read_bin_with_bytes(path);
  Bin changed = edit(before.bin);
  if (changed != before.bin) write_unless_changed(bin_text(changed), path, before.bytes);
  return changed;
}

}  // namespace haftwright
