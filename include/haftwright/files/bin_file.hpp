// The bin of offcuts on the disk: JSON, read as strictly and written as safely as a project, and beside it a
// folder of pictures. projects/FORMAT.md is its schema too.
//
// Several windows and commands may work on one bin. Whoever writes it states which bytes it was made from,
// and other bytes are never overwritten.
#pragma once

#include <filesystem>
#include <functional>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "haftwright/files/safe_write.hpp"
#include "haftwright/offcuts/bin.hpp"

namespace haftwright {

/// bin.json in data_folder(), see folders.hpp. There or not.
std::filesystem::path bin_file();

/// Reads and validates; what has no id gets one (with_ids()). Throws InputError as parse_project does.
Bin parse_bin(std::string_view json_text);
/// As parse_bin. Where there is no file, an empty bin; a file that is there and can't be read gives
/// InputError with an empty field.
Bin read_bin(const std::filesystem::path& path);

/// The file's text, as project_text writes it; a rectangle is written as its size. Throws InputError for a
/// bin that does not pass validate().
std::string bin_text(const Bin& bin);
/// Safe save through write_file_safely, whatever is there; makes the folder when there is none. Throws
/// InputError as bin_text does, and OutputError.
void write_bin(const Bin& bin, const std::filesystem::path& path, OldFile old_file = OldFile::replace);

/// A bin as it was read, and the bytes that it was read from; none where there was no file.
struct BinOnDisk {
  Bin bin;
  std::optional<std::string> bytes;
};
BinOnDisk read_bin_with_bytes(const std::filesystem::path& path);

/// Somebody else has changed the bin since it was read: nothing was written.
class BinChanged : public OutputError {
 public:
  using OutputError::OutputError;
};

/// Writes the bin if the file still has the bytes it was read from, or is still not there; gives the bytes
/// that it has now. Throws BinChanged when it has others, and what write_bin throws.
///
/// Everything that writes a bin by this function or the next holds a lock on its folder meanwhile, so that of
/// two that read the same bytes only one writes. A program that takes no lock (a text editor) is noticed if
/// it wrote before the bytes are compared; between that comparison and the renaming of the finished file it
/// is not. Where the folder can't be locked (some network drives) the same holds for all writers.
std::string write_bin_over(const Bin& bin, const std::filesystem::path& path,
                           const std::optional<std::string>& bytes_read);

/// Reads the bin, lets `edit` make another one of it and writes that, all under one lock: the last bin that
/// `edit` was given is what the file held, and nobody who locks writes in between. Where there is no file
/// yet, `edit` is tried on an empty bin first and called again under the lock. Writes nothing where `edit`
/// throws or changes nothing. Returns the bin as it is then. Throws OutputError when the lock is not free
/// within 10 seconds, and what read_bin and write_bin_over throw.
Bin change_bin(const std::filesystem::path& path, const std::function<Bin(const Bin&)>& edit);

/// The folder of a bin's pictures: "bin-pictures" beside "bin.json". There or not.
std::filesystem::path picture_folder(const std::filesystem::path& bin_path);

struct MissingPhoto {
  std::string offcut;  ///< id
  std::string file;
};
/// Photos whose file is not in the folder, in the order of the bin.
std::vector<MissingPhoto> missing_photos(const Bin& bin, const std::filesystem::path& bin_path);

/// A picture file may have no more than this.
inline constexpr std::size_t kPictureBytes = 128u << 20;
/// Copies a file into the bin's folder of pictures, safely, and gives its name there: its own, or where
/// another picture has that one, with "_2", "_3" behind it. The same picture is not copied twice. What it
/// holds is not looked at. Throws InputError with an empty field where it can't be read, has no bytes or too
/// many, or a name that a bin can't hold; OutputError where it can't be written.
std::string keep_picture(const std::filesystem::path& picture, const std::filesystem::path& bin_path);

}  // namespace haftwright
