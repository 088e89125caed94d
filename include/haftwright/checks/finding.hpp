// Findings: what a check has measured, against which limit, and why a maker should care.
#pragma once

#include <cstddef>
#include <optional>
#include <string>
#include <vector>

#include "haftwright/geometry/vec.hpp"
#include "haftwright/words/words.hpp"

namespace haftwright {

enum class Status { pass, near, fail };
enum class Sense { at_least, at_most };

struct Finding {
  std::string id;  ///< stable, "hole.edge"; the same for every place it is measured at
  Status status = Status::pass;
  Where where;                ///< what it is about; no two findings of one id are about the same
  std::optional<Vec3> place;  ///< in the handle's frame, for pointing at
  std::optional<Vec3> to;     ///< the other end of what was measured, where it runs from place to place
  double value = 0;
  double limit = 0;
  Sense sense = Sense::at_least;
  FigureUnit unit = FigureUnit::millimetre;
  std::string why;    ///< plain words: what happens when it is not so, and what to do
  std::string basis;  ///< what the limit rests on
};

/// Which finding of a list: the list may be made anew meanwhile.
struct FindingKey {
  std::string id;
  Where where;
  bool operator==(const FindingKey&) const = default;
};
FindingKey key_of(const Finding& finding);

/// Findings that differ only in their side, with the same figures, become one that is about both.
std::vector<Finding> sides_together(std::vector<Finding> findings);

/// pass, near (within `near_share` of the limit on its good side) or fail. A zero limit has no near band.
Status judge(double value, double limit, Sense sense, double near_share);
Status worst(const std::vector<Finding>& findings);
/// Fails first, then near, then pass; inside a status the smallest margin (as a share of the limit) first.
void sort_worst_first(std::vector<Finding>& findings);

}  // namespace haftwright
