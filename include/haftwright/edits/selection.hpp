// What is selected: a value that names the thing, and goes on naming it when its list changes.
#pragma once

#include <cstddef>
#include <optional>
#include <string>

#include "haftwright/design/sides.hpp"

namespace haftwright {

struct Draggable;

struct Selection {
  const Draggable* kind = nullptr;  ///< a row of draggables(); none: nothing is selected
  Which side = Which::left;
  std::size_t index = 0;              ///< of what has no id; else 0
  std::optional<std::size_t> cutout;  ///< whose corner or edge it is; none: the tang's own outline
  std::string id = {};                ///< of what has one
  bool operator==(const Selection&) const = default;
};

}  // namespace haftwright
