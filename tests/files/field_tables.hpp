// The tables of projects/FORMAT.md as they must read, worked out from the lists of fields.
#pragma once

#include <string>
#include <vector>

namespace haftwright::test {

struct FieldTable {
  std::string heading;  ///< "### joint"
  std::vector<std::string>
      rows;  ///< "| `slant_deg` | number, deg | from -60 to 60 deg | 0 | seen from ... |"
};
/// One for each kind of object in a project file, in the order they are met, then those of a shop file and
/// of a bin that come first there.
std::vector<FieldTable> field_tables();

}  // namespace haftwright::test
