// JSON files spoilt at every value, one at a time, and texts with bytes changed.
#pragma once

#include <nlohmann/json.hpp>
#include <string>
#include <utility>
#include <vector>

#include "support/random.hpp"

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

using SpoiltFiles = std::vector<nlohmann::ordered_json>;

/// Each value taken away: look(file, place, spoilt text).
template <class Look>
void without_each_value(const SpoiltFiles& files, Look look) {
  for (const nlohmann::ordered_json& file : files)
    for (const Place& place : places_in(file)) {
      nlohmann::ordered_json spoilt = file;
      nlohmann::ordered_json& parent = spoilt.at(place.pointer.parent_pointer());
      const std::string last = place.pointer.back();
      if (parent.is_object())
        parent.erase(last);
      else
        parent.erase(std::stoul(last));
      look(file, place, spoilt.dump());
    }
}

/// Each key but the one that marks the file with an x somewhere in it, its value last in its object:
/// look(file, place, misspelt key, spoilt text).
template <class Look>
void with_each_key_misspelt(const SpoiltFiles& files, const std::string& marker, Look look) {
  Random random(5);
  for (const nlohmann::ordered_json& file : files)
    for (const Place& place : places_in(file)) {
      const std::string key = place.pointer.back();
      const auto up = place.pointer.parent_pointer();
      if (!file.at(up).is_object() || key == marker) continue;
      std::string misspelt = key;
      misspelt.insert(random.index(key.size() + 1), 1, 'x');
      nlohmann::ordered_json spoilt = file;
      nlohmann::ordered_json& parent = spoilt.at(up);
      parent[misspelt] = parent.at(key);
      parent.erase(key);
      look(file, place, misspelt, spoilt.dump());
    }
}

/// A value of each kind in the place of each value: look(place, the kind as text, whether it is of the same
/// kind, spoilt text).
template <class Look>
void with_each_kind(const SpoiltFiles& files, Look look) {
  using Json = nlohmann::ordered_json;
  const std::vector<Json> kinds{nullptr,
                                true,
                                7.25e5,
                                "?",
                                Json::array(),
                                Json::object(),
                                Json::array({Json::array()}),
                                Json::object({{"a", 1}})};
  for (const Json& file : files)
    for (const Place& place : places_in(file))
      for (const Json& kind : kinds) {
        Json spoilt = file;
        Json& value = spoilt.at(place.pointer);
        const bool same_kind = value.type() == kind.type() || (value.is_number() && kind.is_number());
        value = kind;
        look(place, kind.dump(), same_kind, spoilt.dump());
      }
}

/// Each number far too large or too small: look(place, number, spoilt text).
template <class Look>
void with_each_number_huge(const SpoiltFiles& files, Look look) {
  for (const nlohmann::ordered_json& file : files)
    for (const Place& place : places_in(file)) {
      if (!file.at(place.pointer).is_number()) continue;
      for (const double huge : {1e308, -1e308, 1e22, -1e22, 3e5, -3e5}) {
        nlohmann::ordered_json spoilt = file;
        spoilt.at(place.pointer) = huge;
        look(place, huge, spoilt.dump());
      }
    }
}

/// One to three places of the text with bytes flipped, replaced, added, taken away or moved.
inline std::string with_bytes_spoilt(std::string text, Random& random) {
  for (std::size_t changes = random.count(1, 3); changes > 0; --changes) {
    const std::size_t at = random.index(text.size()), other = random.index(text.size());
    switch (random.index(6)) {
      case 0:
        text[at] = static_cast<char>(text[at] ^ (1 << random.index(8)));
        break;
      case 1:
        text[at] = static_cast<char>(random.bits());
        break;
      case 2:
        text.insert(at, 1, static_cast<char>(random.bits()));
        break;
      case 3:
        text.erase(at, random.count(1, 20));
        break;
      case 4:
        std::swap(text[at], text[other]);
        break;
      default:
        text.insert(at, text.substr(other, random.count(1, 40)));
    }
  }
  return text;
}

}  // namespace haftwright::test
