// The ids of what stands in a list of pins, holes, pieces or joints, in its order.
#pragma once

#include <string>
#include <vector>

namespace haftwright::test {

using Ids = std::vector<std::string>;

template <class List>
Ids ids_of(const List& list) {
  Ids ids;
  for (const auto& thing : list) ids.push_back(thing.id);
  return ids;
}

}  // namespace haftwright::test
