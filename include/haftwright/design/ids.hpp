// Ids: what pins, tang holes, pieces and joints are referred to by, whatever they are called and wherever
// they stand in their list.
//
// An id is unlike every other of its kind on its side. Where both sides have as many joints, the ones that
// meet have one id; a piece of the right side may have the id of any of the left. Files and edits give
// everything an id; a Design made in code may leave one empty: then nothing can refer to that thing.
#pragma once

#include <algorithm>
#include <cstddef>
#include <string>
#include <string_view>
#include <vector>

#include "haftwright/design/design.hpp"
#include "haftwright/reference/materials.hpp"

namespace haftwright {

/// What is wrong with an id: one is 1 to 24 characters of a-z, 0-9, '_' and '-'. Empty when nothing is.
std::string id_problem(std::string_view id);
/// The text as an id: in lower case, one '_' in place of whatever may not be in one, cut to length. Empty
/// when nothing is left.
std::string id_from(std::string_view text);

/// Where in `list` the thing with that id stands; the list's size where there is none, or the id is empty.
template <class List>
std::size_t index_of(const List& list, std::string_view id) {
  if (id.empty()) return list.size();
  return static_cast<std::size_t>(
      std::ranges::find(list, id, [](const auto& thing) -> std::string_view { return thing.id; }) -
      list.begin());
}
/// The id in `list` that one which is not there may have been meant to be; empty when none is near.
template <class List>
std::string nearest_id(std::string_view id, const List& list) {
  std::vector<std::string> known;
  for (const auto& thing : list) known.push_back(thing.id);
  return nearest_word(id, known);
}

/// Ids for things of these names, in order: the name's own, or `noun` and the number from 1 where the name
/// leaves none; where that is in `taken`, or an earlier one's, with "_2", "_3" ... behind it.
std::vector<std::string> ids_from_names(const std::vector<std::string>& names, std::string_view noun,
                                        std::vector<std::string> taken = {});
/// An id for every thing without one: pins and holes by their names, pieces and joints by their order
/// ("joint_2"); on the right side by the left side's there, where that is free. Ids that are given stay.
Design with_ids(Design design);

// Ids for new things, that nothing in the design has and nothing refers to: "pin_7", numbered on from the
// greatest of that kind.
std::string new_pin_id(const Design& design);
std::string new_tang_hole_id(const Design& design);
std::string new_piece_id(const Design& design);
std::string new_joint_id(const Design& design);

}  // namespace haftwright
