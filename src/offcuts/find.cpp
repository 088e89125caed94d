#include "haftwright/offcuts/find.hpp"

#include <algorithm>
#include <set>

#include "bin_parts.hpp"

namespace haftwright {

using namespace offcuts;
namespace {

bool is_of(const std::string& material, const Wanted& wanted) {
  return wanted.materials.empty() || std::ranges::find(wanted.materials, material) != wanted.materials.end();
}

bool holds(const FlatSize& size, const FlatSize& least) {
  return size.length_mm >= least.length_mm && size.width_mm >= least.width_mm;
}

}  // namespace

std::vector<std::string> materials_of_word(const Bin& bin, std::string_view word) {
  if (std::ranges::find(bin.own_materials, word, &Material::key) != bin.own_materials.end())
    return {std::string(word)};
  std::vector<std::string> keys;
  for (const Material* material : materials_meant(word)) keys.push_back(material->key);
  return keys;
}

std::size_t left_for(const std::string& project, int alike, const std::vector<Reservation>& reserved) {
  std::set<std::string> others = projects_of(reserved);
  others.erase(project);
  const auto all = static_cast<std::size_t>(alike);
  return all > others.size() ? all - others.size() : 0;
}

bool is_free(const Offcut& offcut) {
  return projects_of(offcut.reserved).size() < static_cast<std::size_t>(offcut.alike);
}

bool matches(const Offcut& offcut, const Wanted& wanted) {
  return is_of(offcut.material, wanted) && offcut.thickness_mm >= wanted.least_thickness_mm &&
         (wanted.reserved_too || is_free(offcut)) && holds(extent_along_grain(offcut), wanted.least);
}

bool matches(const SheetStock& sheet, const Wanted& wanted) {
  const Vec2 size = Outline::trusted(sheet.outline).bounds().size();
  return is_of(sheet.material, wanted) && sheet.thickness_mm >= wanted.least_thickness_mm &&
         (holds({size.x, size.y}, wanted.least) || holds({size.y, size.x}, wanted.least));
}

bool matches(const RodStock& rod, const Wanted& wanted) {
  return is_of(rod.stock.material, wanted) && rod.stock.diameter_mm() >= wanted.least_thickness_mm &&
         rod.length_mm >= wanted.least.length_mm;
}

Bin found_in(Bin bin, const Wanted& wanted) {
  const auto fails = [&](const auto& stock) { return !matches(stock, wanted); };
  std::erase_if(bin.offcuts, fails);
  std::erase_if(bin.sheets, fails);
  std::erase_if(bin.rods, fails);
  return bin;
}

}  // namespace haftwright
