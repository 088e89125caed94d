#include "sheet_problem.hpp"

#include <cmath>

#include "haftwright/geometry/box.hpp"
#include "wood_problem.hpp"

namespace haftwright::cutting {

SheetProblem sheet_problem(const Needs& needs, const Bin& bin, const ShopRules& rules,
                           const CuttingWishes& wishes) {
  SheetProblem sheets;
  sheets.boards = sheet_boards(bin, wishes.project, needs.sheets.size());
  sheets.problem.stocks = sheets.boards.stocks;
  sheets.problem.rules = saw_rules(rules, wishes);
  for (std::size_t i = 0; i < needs.sheets.size(); ++i) {
    const SheetNeed& need = needs.sheets[i];
    nesting::Part part{laid_shape(nesting::placed_outline(need.outline, {0, 0}, 0), false), {}};
    for (std::size_t stock = 0; stock < sheets.boards.boards.size(); ++stock) {
      const SheetStock& sheet = bin.sheets[sheets.boards.boards[stock].index];
      const bool serves = sheet.material == need.material &&
                          std::abs(sheet.thickness_mm - need.thickness_mm) <= kSheetThicknessMm;
      // A sheet has no grain to speak of: along either edge of it will do.
      if (serves) part.candidates.push_back({stock, {{0, 0}, {90, 0}, {180, 0}, {270, 0}}, 0});
    }
    nesting::Demand demand;
    if (!part.candidates.empty()) demand.ways.push_back({{std::move(part)}, false, 0});
    sheets.problem.demands.push_back(std::move(demand));
    sheets.needs.push_back({i});
  }
  return sheets;
}

std::vector<BoardUse> sheets_of(const nesting::Plan& plan, const SheetProblem& sheets, const Needs& needs) {
  std::vector<BoardUse> uses;
  for (const nesting::StockCuts& cuts : plan.cuts) {
    const Board& board = sheets.boards.boards[cuts.stock];
    BoardUse use{board.index, board.copy, {}, {}, cuts, {}};
    for (std::size_t shape = 0; shape < cuts.shapes.size(); ++shape) {
      const nesting::Placed& placed = cuts.shapes[shape];
      const std::size_t need = sheets.needs[placed.demand].front();
      const std::vector<Vec2>& outline = needs.sheets[need].outline;
      PlacedBlank blank{need, middle_of(box_round(outline)), placed.at_mm, placed.angle_deg};
      blank.shape = shape;
      blank.outline = outline_as_placed(outline, blank);
      use.blanks.push_back(std::move(blank));
    }
    for (const nesting::Leftover& leftover : plan.leftovers)
      if (leftover.stock == cuts.stock) use.leftovers.push_back(leftover);
    uses.push_back(std::move(use));
  }
  return uses;
}

}  // namespace haftwright::cutting
