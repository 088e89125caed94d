#include "haftwright/files/shop_file.hpp"

#include "field_reader.hpp"
#include "field_writer.hpp"
#include "haftwright/design/shop_schema.hpp"
#include "haftwright/design/validate.hpp"
#include "haftwright/files/folders.hpp"
#include "own_file.hpp"

namespace haftwright {

using namespace files;

std::filesystem::path shop_file() {
  return data_folder() / "shop.json";
}

Shop parse_shop(std::string_view json_text) {
  const Json root = root_of(json_text, kShopFile);
  Shop shop;
  std::vector<Problem> problems;
  FieldReader(problems, LengthUnit::millimetre).read_object(root, shop, kShopFile.version_key);
  if (problems.empty()) problems = validate(shop);
  if (!problems.empty()) refuse(std::move(problems));
  return shop;
}

Shop read_shop(const std::filesystem::path& path) {
  const auto bytes = bytes_of(path);
  return bytes ? parse_shop(*bytes) : Shop{};
}

std::string shop_text(const Shop& shop) {
  if (auto problems = validate(shop); !problems.empty()) throw InputError(std::move(problems));
  return text_of(kShopFile, shop);
}

void write_shop(const Shop& shop, const std::filesystem::path& path, OldFile old_file) {
  const std::string text = shop_text(shop);
  std::error_code error;
  if (path.has_parent_path()) std::filesystem::create_directories(path.parent_path(), error);
  if (error)
    throw OutputError(path.parent_path().string() + ": the folder can't be made: " + error.message());
  write_file_safely(path, text, old_file);
}

}  // namespace haftwright
