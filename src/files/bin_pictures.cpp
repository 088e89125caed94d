// The pictures beside a bin.
#include "haftwright/design/validate.hpp"
#include "haftwright/files/bin_file.hpp"
#include "haftwright/offcuts/bin_checks.hpp"
#include "own_file.hpp"

namespace haftwright {

using namespace files;
namespace fs = std::filesystem;

fs::path picture_folder(const fs::path& bin_path) {
  return bin_path.parent_path() / (bin_path.stem().string() + "-pictures");
}

std::vector<MissingPhoto> missing_photos(const Bin& bin, const fs::path& bin_path) {
  const fs::path folder = picture_folder(bin_path);
  std::vector<MissingPhoto> missing;
  for (const Offcut& offcut : bin.offcuts)
    for (const OffcutPhoto& photo : offcut.photos) {
      std::error_code ignored;
      if (!fs::is_regular_file(folder / photo.file, ignored)) missing.push_back({offcut.id, photo.file});
    }
  return missing;
}

std::string keep_picture(const fs::path& picture, const fs::path& bin_path) {
  const std::string name = picture.filename().string();
  if (const std::string problem = photo_name_problem(name); !problem.empty())
    throw InputError("", picture.string() + ": the picture's name " + problem);
  const std::string bytes = bytes_there(picture, kPictureBytes);
  if (bytes.empty() || bytes.size() > kPictureBytes)
    throw InputError("", picture.string() + (bytes.empty() ? " is empty" : " is larger than 128 MiB") +
                             ": it is no picture that could be read");
  const fs::path folder = picture_folder(bin_path);
  std::error_code error;
  fs::create_directories(folder, error);
  if (error) throw OutputError(folder.string() + ": the folder can't be made: " + error.message());
  for (int number = 1;; ++number) {
    const std::string own =
        number == 1 ? name
                    : picture.stem().string() + "_" + std::to_string(number) + picture.extension().string();
    const auto there = bytes_of(folder / own, kPictureBytes);
    if (there && *there != bytes) continue;
    if (!there) write_file_safely(folder / own, bytes, OldFile::refuse);
    return own;
  }
}

}  // namespace haftwright
