// Every check of a laid-out handle. A design with no problem still lists every margin.
#pragma once

#include <span>
#include <string_view>
#include <vector>

#include "haftwright/checks/finding.hpp"
#include "haftwright/handle/handle.hpp"

namespace haftwright {

/// One kind of check. Adding one is one file and one line in the table.
struct CheckKind {
  std::string_view id;     ///< the findings' id, or their common prefix
  std::string_view title;  ///< "hole to joint line"
  void (*run)(const Design&, const Handle&, std::vector<Finding>&);
};
std::span<const CheckKind> check_kinds();

/// Runs all kinds; findings in the order of the table.
std::vector<Finding> run_checks(const Design& design, const Handle& handle);

/// The cautions that go with what this project uses: materials, resin, drilling, edges, hard steel, then the
/// closing line that the figures are aids to judgement. Each one sentence or two.
std::vector<std::string> cautions(const Design& design);

}  // namespace haftwright
