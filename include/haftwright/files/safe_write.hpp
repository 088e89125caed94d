// Writing a file so that nothing is ever lost or half-written.
#pragma once

#include <filesystem>
#include <stdexcept>
#include <string_view>

namespace haftwright {

/// The output can't be written; what() names the file, the reason and what would help.
class OutputError : public std::runtime_error {
 public:
  using std::runtime_error::runtime_error;
};

/// What becomes of a file that is there already.
enum class OldFile { replace, refuse };

/// Writes a temporary file beside `path`, flushes it to the disk, renames it over `path` and flushes the
/// folder. On any failure the temporary file is removed, the old file is untouched and OutputError is thrown;
/// only when the disk fails while the folder is flushed, the new file is in place already, and what() says
/// so. A link is followed; the old file's mode, and where possible its owner, stay. A folder, a device, or a
/// file without write permission is refused, and with OldFile::refuse anything that is there, even when it
/// came while this was writing. Temporary files that a killed program left in the folder more than an hour
/// ago are removed.
void write_file_safely(const std::filesystem::path& path, std::string_view bytes,
                       OldFile old_file = OldFile::replace);

}  // namespace haftwright
