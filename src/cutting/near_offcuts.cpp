#include "near_offcuts.hpp"

#include <algorithm>
#include <limits>

#include "haftwright/nesting/shortfalls.hpp"
#include "haftwright/words/words.hpp"
#include "wood_problem.hpp"

namespace haftwright::cutting {
namespace {

constexpr std::size_t kMostShown = 3;

/// So that shortfalls of several kinds can be put in order: a degree counts as a millimetre, the rest of its
/// kinds say nothing of how near it is.
double weight(const nesting::Shortfall& shortfall) {
  switch (shortfall.what) {
    case nesting::Relaxation::length:
    case nesting::Relaxation::width:
    case nesting::Relaxation::angle:
      return shortfall.amount;
    default:
      return std::numeric_limits<double>::infinity();
  }
}

std::string words_of(const nesting::Shortfall& shortfall, LengthUnit unit) {
  switch (shortfall.what) {
    case nesting::Relaxation::length:
      return fine_length(shortfall.amount, unit, 2) + " too short for it along the handle";
    case nesting::Relaxation::width:
      return fine_length(shortfall.amount, unit, 2) + " too narrow for it across the handle";
    case nesting::Relaxation::angle:
      return "it would fit if its grain might run " + format_number(shortfall.amount, 1) + " deg further off";
    case nesting::Relaxation::keep_out:
      return "it would fit if defect " + std::to_string(shortfall.index + 1) + " might be inside";
    case nesting::Relaxation::trim:
      return "it would fit with " + fine_length(shortfall.amount, unit, 2) + " less of the rim left";
    case nesting::Relaxation::margin:
      return "it would fit with " + fine_length(shortfall.amount, unit, 2) + " less kept clear round defects";
    default:
      return {};
  }
}

struct Ranked {
  NearOffcut near;
  double lacks = 0;
};

class NearOffcuts {
 public:
  NearOffcuts(const Design& design, const PieceNeed& need, const Bin& bin, const CuttingWishes& wishes)
      : design_(design), need_(need), bin_(bin), wishes_(wishes) {}

  std::vector<NearOffcut> nearest() const {
    const Boards boards = wood_boards(bin_, {need_.material}, wishes_.project, 1, design_.rules);
    std::vector<Ranked> all;
    for (std::size_t i = 0; i < boards.boards.size(); ++i)
      if (!boards.boards[i].with_slice) all.push_back(looked_at(boards.boards[i].index, boards.stocks[i]));
    std::ranges::stable_sort(all, {}, &Ranked::lacks);
    std::vector<NearOffcut> found;
    for (Ranked& ranked : all) {
      if (found.size() == kMostShown || !std::isfinite(ranked.lacks)) break;
      found.push_back(std::move(ranked.near));
    }
    return found;
  }

 private:
  /// The better of its two faces.
  Ranked looked_at(std::size_t index, const nesting::Stock& stock) const {
    const Offcut& offcut = bin_.offcuts[index];
    Ranked best{{index, std::max(0.0, need_.thickness_mm - offcut.thickness_mm), {}, {}},
                std::numeric_limits<double>::infinity()};
    for (const bool lower : {false, true}) {
      const Lie lie{need_.side, lower};
      const unsigned bit = lower ? ShowFace::lower_face : ShowFace::upper_face;
      if ((offcut.show_faces & bit) == 0) continue;
      for (const nesting::Angles& angles : turns(need_.grain, offcut.grain, lie, design_.rules.grain_off_deg))
        judge_one(laid_shape(need_.outline, lie.mirrored()), stock, angles, best);
    }
    if (best.near.thickness_short_mm > 0)
      best.near.words = fine_length(best.near.thickness_short_mm, design_.shown_unit, 2) + " too thin" +
                        (best.near.words.empty() ? "" : "; " + best.near.words);
    else if (best.near.shortfalls.empty())
      best.near.words = "it fits there by itself, but not beside what else is to come out of it";
    return best;
  }

  void judge_one(const nesting::Polygon& shape, const nesting::Stock& stock, const nesting::Angles& angles,
                 Ranked& best) const {
    const nesting::Rules rules = saw_rules(design_.rules, wishes_);
    const std::vector<nesting::Shortfall> found = nesting::shortfalls(stock, shape, angles, rules, {});
    double lacks = found.empty() ? 0 : std::numeric_limits<double>::infinity();
    std::string words;
    for (const nesting::Shortfall& shortfall : found) {
      lacks = std::min(lacks, weight(shortfall));
      const std::string one = words_of(shortfall, design_.shown_unit);
      if (!one.empty()) words += (words.empty() ? "" : "; or ") + one;
    }
    lacks += best.near.thickness_short_mm;
    if (lacks >= best.lacks) return;
    best.lacks = lacks;
    best.near.shortfalls = found;
    best.near.words = words;
  }

  const Design& design_;
  const PieceNeed& need_;
  const Bin& bin_;
  const CuttingWishes& wishes_;
};

}  // namespace

std::vector<NearOffcut> near_offcuts(const Design& design, const Needs& needs,
                                     const std::vector<std::size_t>& pieces, const Bin& bin,
                                     const CuttingWishes& wishes) {
  return NearOffcuts(design, needs.pieces[pieces.front()], bin, wishes).nearest();
}

}  // namespace haftwright::cutting
