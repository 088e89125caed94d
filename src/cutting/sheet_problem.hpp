// Liners and spacer strips, and the sheets they are cut from, as a problem of placing shapes.
#pragma once

#include <vector>

#include "boards.hpp"
#include "haftwright/cutting/plan.hpp"

namespace haftwright::cutting {

/// A sheet serves where its thickness is within this of what the project has: more would show beside a strip
/// of the other side (common practice).
inline constexpr double kSheetThicknessMm = 0.05;

struct SheetProblem {
  nesting::Problem problem;
  Boards boards;
  std::vector<std::vector<std::size_t>> needs;  ///< by demand: the one that it serves
};

SheetProblem sheet_problem(const Needs& needs, const Bin& bin, const ShopRules& rules,
                           const CuttingWishes& wishes);
std::vector<BoardUse> sheets_of(const nesting::Plan& plan, const SheetProblem& sheets, const Needs& needs);

}  // namespace haftwright::cutting
