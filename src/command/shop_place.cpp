#include "shop_place.hpp"

#include "haftwright/design/validate.hpp"
#include "haftwright/files/shop_file.hpp"
#include "verbs.hpp"

namespace haftwright::command {

int with_shop_place(const std::filesystem::path& named, Missing missing,
                    const std::function<int(const ShopPlace&)>& verb) {
  ShopPlace place;
  place.path = named.empty() ? shop_file() : named;
  const int read = guarded(place.path, [&] {
    std::error_code ignored;
    place.there = std::filesystem::exists(place.path, ignored);
    if (!place.there && !named.empty() && missing == Missing::refused)
      throw InputError("", "is not there; 'haftwright shop init --shop FILE' writes one to start from");
    place.shop = read_shop(place.path);
    return good;
  });
  return read == good ? verb(place) : read;
}

}  // namespace haftwright::command
