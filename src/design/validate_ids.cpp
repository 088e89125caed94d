#include <set>

#include "haftwright/design/ids.hpp"
#include "haftwright/design/quantities.hpp"
#include "validate_parts.hpp"

namespace haftwright::design {
namespace {

template <class List>
void validate_list(const List& list, const char* field, const char* noun, Problems& problems) {
  std::set<std::string_view> seen;
  for (std::size_t i = 0; i < list.size(); ++i)
    if (!list[i].id.empty() && !seen.insert(list[i].id).second)
      problems.push_back({indexed(field, i, "id"), "a second " + std::string(noun) + " with the id " +
                                                       schema::quoted(list[i].id) +
                                                       "; give it another, or none"});
}

/// With as many joints on both sides each meets the one of its place on the other.
void validate_counterparts(const std::vector<Joint>& left, const std::vector<Joint>& right,
                           Problems& problems) {
  if (left.size() != right.size()) return;
  for (std::size_t i = 0; i < right.size(); ++i)
    if (!left[i].id.empty() && !right[i].id.empty() && left[i].id != right[i].id)
      problems.push_back({indexed("sides.right.joints", i, "id"),
                          "must be that of the left side's joint that it meets, " +
                              schema::quoted(left[i].id) + ", but is " + schema::quoted(right[i].id)});
}

}  // namespace

void validate_ids(const Design& design, Problems& problems) {
  validate_list(design.tang.holes, "tang.holes", "hole", problems);
  validate_list(design.left.pieces, "sides.left.pieces", "piece", problems);
  validate_list(design.left.joints, "sides.left.joints", "joint", problems);
  const std::size_t before = problems.size();
  if (design.right.pieces) validate_list(*design.right.pieces, "sides.right.pieces", "piece", problems);
  if (design.right.joints) {
    validate_list(*design.right.joints, "sides.right.joints", "joint", problems);
    if (problems.size() == before) validate_counterparts(design.left.joints, *design.right.joints, problems);
  }
  validate_list(design.pins, "pins", "pin", problems);
}

}  // namespace haftwright::design
