// Every value of a JSON file, to be spoilt one at a time.
#pragma once

#include <nlohmann/json.hpp>
#include <string>
#include <vector>

namespace haftwright::test {

/// A value of the file: how to reach it, and what messages call it.
struct Place {
  nlohmann::ordered_json::json_pointer pointer;
  std::string field;   ///< "sides.left.joints[0]"
  std::string parent;  ///< field of the object or list it is in
};

inline void places_in(const nlohmann::ordered_json& value, const Place& place, std::vector<Place>& all) {
  for (auto entry = value.begin(); entry != value.end(); ++entry) {
    Place inside;
    inside.parent = place.field;
    if (value.is_object()) {
      inside.pointer = place.pointer / entry.key();
      inside.field = place.field.empty() ? entry.key() : place.field + "." + entry.key();
    } else {
      const auto index = static_cast<std::size_t>(entry - value.begin());
      inside.pointer = place.pointer / index;
      inside.field = place.field + "[" + std::to_string(index) + "]";
    }
    all.push_back(inside);
    if (entry->is_structured()) places_in(*entry, inside, all);
  }
}

inline std::vector<Place> places_in(const nlohmann::ordered_json& root) {
  std::vector<Place> all;
  places_in(root, Place{nlohmann::ordered_json::json_pointer(), "", ""}, all);
  return all;
}

}  // namespace haftwright::test
