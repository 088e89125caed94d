#include "haftwright/design/ids.hpp"

#include <charconv>
#include <iterator>
#include <set>
#include <utility>

#include "haftwright/design/limits.hpp"
#include "haftwright/design/quantities.hpp"

namespace haftwright {
namespace {

using Ids = std::set<std::string, std::less<>>;

constexpr std::string_view kPin = "pin";
constexpr std::string_view kHole = "hole";
constexpr std::string_view kPiece = "piece";
constexpr std::string_view kJoint = "joint";

bool letter_of_id(char c) {
  return (c >= 'a' && c <= 'z') || (c >= '0' && c <= '9') || c == '_' || c == '-';
}

std::string numbered_id(std::string_view noun, std::size_t number) {
  return std::string(noun) + "_" + std::to_string(number);
}

std::string id_of_name(std::string_view name, std::string_view noun, std::size_t number) {
  std::string id = id_from(name);
  return id.empty() ? numbered_id(noun, number) : id;
}

/// `wanted`, or with the first number behind it that makes it free.
std::string free_id(const std::string& wanted, const Ids& taken) {
  if (!taken.contains(wanted)) return wanted;
  for (std::size_t number = 2;; ++number) {
    const std::string end = "_" + std::to_string(number);
    std::string id = wanted.substr(0, limits::kIdBytes - end.size()) + end;
    if (!taken.contains(id)) return id;
  }
}

template <class List>
void add_ids(const List& list, Ids& ids) {
  for (const auto& thing : list)
    if (!thing.id.empty()) ids.insert(thing.id);
}

template <class List, class Wanted>
void fill(List& list, Ids taken, Wanted&& wanted) {
  add_ids(list, taken);
  for (std::size_t i = 0; i < list.size(); ++i) {
    if (!list[i].id.empty()) continue;
    list[i].id = free_id(wanted(i), taken);
    taken.insert(list[i].id);
  }
}

template <class List>
void fill_by_name(List& list, std::string_view noun) {
  fill(list, {}, [&](std::size_t i) { return id_of_name(list[i].name, noun, i + 1); });
}

template <class List>
void fill_by_order(List& list, std::string_view noun) {
  fill(list, {}, [&](std::size_t i) { return numbered_id(noun, i + 1); });
}

/// Each gets the id of the left side's there; what has no counterpart must not pass for another's.
template <class List>
void fill_like(List& list, const List& left, std::string_view noun) {
  Ids own;
  add_ids(list, own);
  for (std::size_t i = 0; i < std::min(list.size(), left.size()); ++i)
    if (list[i].id.empty() && own.insert(left[i].id).second) list[i].id = left[i].id;
  Ids taken;
  add_ids(left, taken);
  fill(list, std::move(taken), [&](std::size_t i) { return numbered_id(noun, i + 1); });
}

/// "pin_7", where the greatest of "pin_1", "pin_6" ... is 6.
std::string next_id(std::string_view noun, const Ids& used) {
  constexpr std::size_t kMostDigits = 9;  // greater numbers are names of somebody's own
  std::size_t greatest = 0;
  for (std::string_view id : used) {
    if (!id.starts_with(noun) || id.size() < noun.size() + 2 || id[noun.size()] != '_') continue;
    id.remove_prefix(noun.size() + 1);
    std::size_t number = 0;
    const char* const end = id.data() + id.size();
    if (id.size() <= kMostDigits && std::from_chars(id.data(), end, number).ptr == end)
      greatest = std::max(greatest, number);
  }
  return free_id(numbered_id(noun, greatest + 1), used);
}

}  // namespace

std::string id_problem(std::string_view id) {
  if (!id.empty() && id.size() <= limits::kIdBytes && std::ranges::all_of(id, letter_of_id)) return {};
  std::string problem =
      "must be 1 to " + std::to_string(limits::kIdBytes) + " characters of a-z, 0-9, '_' and '-', but is ";
  if (id.empty()) return problem + "empty";
  problem += schema::quoted(std::string(id));
  const std::string meant = id_from(id);
  return meant.empty() ? problem : problem + "; \"" + meant + "\" would do";
}

std::string id_from(std::string_view text) {
  std::string id;
  for (char c : text) {
    if (c >= 'A' && c <= 'Z') c = static_cast<char>(c - 'A' + 'a');
    if (letter_of_id(c))
      id += c;
    else if (!id.empty() && id.back() != '_')
      id += '_';
    if (id.size() == limits::kIdBytes) break;
  }
  while (!id.empty() && id.back() == '_') id.pop_back();
  return id;
}

std::vector<std::string> ids_from_names(const std::vector<std::string>& names, std::string_view noun,
                                        std::vector<std::string> taken) {
  Ids used(std::make_move_iterator(taken.begin()), std::make_move_iterator(taken.end()));
  std::vector<std::string> ids;
  for (const std::string& name : names) {
    ids.push_back(free_id(id_of_name(name, noun, ids.size() + 1), used));
    used.insert(ids.back());
  }
  return ids;
}

Design with_ids(Design design) {
  fill_by_name(design.tang.holes, kHole);
  fill_by_name(design.pins, kPin);
  fill_by_order(design.left.pieces, kPiece);
  fill_by_order(design.left.joints, kJoint);
  if (design.right.pieces) fill_like(*design.right.pieces, design.left.pieces, kPiece);
  if (design.right.joints) fill_like(*design.right.joints, design.left.joints, kJoint);
  return design;
}

std::string new_pin_id(const Design& design) {
  Ids used;
  add_ids(design.pins, used);
  for (const CaliperReading& reading : design.dry_fit) used.insert(reading.from_pin);
  return next_id(kPin, used);
}

std::string new_tang_hole_id(const Design& design) {
  Ids used;
  add_ids(design.tang.holes, used);
  for (const Pin& pin : design.pins) used.insert(pin.existing_tang_hole);
  return next_id(kHole, used);
}

std::string new_piece_id(const Design& design) {
  Ids used;
  add_ids(design.left.pieces, used);
  if (design.right.pieces) add_ids(*design.right.pieces, used);
  for (const HandPlace& place : design.hand_places) used.insert(place.piece);
  return next_id(kPiece, used);
}

std::string new_joint_id(const Design& design) {
  Ids used;
  add_ids(design.left.joints, used);
  if (design.right.joints) add_ids(*design.right.joints, used);
  for (const CaliperReading& reading : design.dry_fit) used.insert(reading.joint);
  return next_id(kJoint, used);
}

}  // namespace haftwright
