// What checks and edits of a bin share.
#pragma once

#include <set>
#include <string>
#include <type_traits>
#include <vector>

#include "haftwright/design/ids.hpp"
#include "haftwright/offcuts/bin.hpp"

namespace haftwright::offcuts {

/// The projects that have reserved something, each once.
std::set<std::string> projects_of(const std::vector<Reservation>& reserved);

/// Removes what the project has reserved there.
inline void release_in(std::vector<Reservation>& reserved, const std::string& project) {
  std::erase_if(reserved, [&](const Reservation& one) { return one.project == project; });
}

/// Calls `use` with the list that has something of that id, and its place there; false where none has.
template <class AnyBin, class Use>
bool with_stock(AnyBin& bin, const std::string& id, Use&& use) {
  const auto in = [&](auto& list) {
    const std::size_t at = index_of(list, id);
    if (at == list.size()) return false;
    use(list, at);
    return true;
  };
  return in(bin.offcuts) || in(bin.sheets) || in(bin.rods);
}
/// Calls `use` with everything in the bin.
template <class AnyBin, class Use>
void each_stock(AnyBin& bin, Use&& use) {
  for (auto& offcut : bin.offcuts) use(offcut);
  for (auto& sheet : bin.sheets) use(sheet);
  for (auto& rod : bin.rods) use(rod);
}
template <class Stock>
constexpr bool is_offcut(const Stock&) {
  return std::is_same_v<Stock, Offcut>;
}

bool is_there(const Bin& bin, const std::string& id);
/// The refusal for an id that nothing has, with the nearest one that something has.
std::string not_there(const Bin& bin, const std::string& id);
/// The refusal for what other projects than `but_for` have reserved.
std::string reserved_words(const std::string& id, const std::vector<Reservation>& reserved,
                           const std::string& but_for = {});

/// How far the outline reaches in a direction of unit length.
double reach_mm(const Outline& outline, Vec2 direction);

/// Does the defect reach into the outline, or touch it?
bool reaches_into(const Outline& defect, const Outline& outline);

}  // namespace haftwright::offcuts
