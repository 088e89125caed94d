#include "support/spoilt_project.hpp"

#include <cmath>
#include <string>
#include <vector>

namespace haftwright::test {
namespace {

using Json = nlohmann::ordered_json;
using Pointer = Json::json_pointer;

template <class Wanted>
void find(const Json& value, const Pointer& at, Wanted wanted, std::vector<Pointer>& all) {
  if (wanted(value)) all.push_back(at);
  if (value.is_object())
    for (const auto& [key, inside] : value.items()) find(inside, at / key, wanted, all);
  if (value.is_array())
    for (std::size_t i = 0; i < value.size(); ++i) find(value[i], at / i, wanted, all);
}
template <class Wanted>
std::vector<Pointer> all_that(const Json& file, Wanted wanted) {
  std::vector<Pointer> all;
  find(file, Pointer(), wanted, all);
  return all;
}

double spoilt_number(const Json& file, double value, Random& random) {
  static constexpr double kHard[] = {0, 1e-12, 4e-8, 1e-3, 1, 5e-324, 1e-300, 1e9, 1e300, 180, 2000};
  switch (random.index(8)) {
    case 0:
      return -value;
    case 1:
      return random.pick(std::span<const double>(kHard));
    case 2: {
      const std::vector<Pointer> numbers = all_that(file, [](const Json& v) { return v.is_number(); });
      return file.at(numbers[random.index(numbers.size())]).get<double>();
    }
    case 3:
      return std::nextafter(value, random.chance(0.5) ? 1e9 : -1e9);
    case 4:
      return value * random.between(0, 3);
    case 5:
      return std::round(value);
    default:
      return value + random.between(-1, 1) * std::pow(10, random.between(-9, 1.5));
  }
}

void spoil_list(Json& list, Random& random) {
  if (list.empty()) return;
  const auto at = static_cast<std::ptrdiff_t>(random.index(list.size()));
  switch (random.index(3)) {
    case 0:
      list.erase(list.begin() + at);
      break;
    case 1:
      list.insert(list.begin() + at, Json(list[static_cast<std::size_t>(at)]));
      break;
    default:
      std::swap(list[static_cast<std::size_t>(at)], list[random.index(list.size())]);
  }
}

void spoil_one(Json& file, Random& random) {
  const std::vector<Pointer> places = all_that(
      file, [](const Json& v) { return v.is_number() || v.is_string() || v.is_array() || v.is_boolean(); });
  const Pointer at = places[random.index(places.size())];
  Json& value = file.at(at);
  if (random.chance(0.04) && !at.empty() && file.at(at.parent_pointer()).is_object()) {
    file.at(at.parent_pointer()).erase(at.back());
  } else if (value.is_number()) {
    value = spoilt_number(file, value.get<double>(), random);
  } else if (value.is_array()) {
    spoil_list(value, random);
  } else if (value.is_boolean()) {
    value = !value.get<bool>();
  } else {
    const std::vector<Pointer> texts = all_that(file, [](const Json& v) { return v.is_string(); });
    value = Json(file.at(texts[random.index(texts.size())]));
  }
}

}  // namespace

Json spoilt_project(const Json& file, Random& random) {
  Json spoilt = file;
  for (std::size_t changes = random.count(1, 3); changes > 0; --changes) spoil_one(spoilt, random);
  return spoilt;
}

}  // namespace haftwright::test
