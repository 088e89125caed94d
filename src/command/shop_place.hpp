// Which shop file is in force, and what it holds.
#pragma once

#include <filesystem>
#include <functional>

#include "haftwright/design/shop.hpp"

namespace haftwright::command {

struct ShopPlace {
  std::filesystem::path path;
  bool there = false;  ///< without a file the built-in defaults are in force
  Shop shop;
};

enum class Missing { fine, refused };

/// Reads the shop file, the person's own where none is `named`, and calls `verb` with it. What is wrong with
/// the file is told under its own name, and the exit code is bad_input then; so it is where `named` is not
/// there and `missing` is refused.
int with_shop_place(const std::filesystem::path& named, Missing missing,
                    const std::function<int(const ShopPlace&)>& verb);

}  // namespace haftwright::command
