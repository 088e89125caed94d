#include "changes.hpp"

#include "haftwright/edits/edits.hpp"
#include "haftwright/words/words.hpp"

namespace haftwright::cutting {
namespace {

constexpr double kMostMoved_mm = 20;
constexpr double kMostTurned_deg = 45;
constexpr double kMostThinner_mm = 4;

Change joint_change(const Design& design, Which side, std::size_t joint, double toward_butt) {
  const double place = design.joints(side)[joint].place_mm;
  return {[&design, side, joint, place, toward_butt](double mm) {
            return move_joint(design, side, joint, place + toward_butt * mm);
          },
          [joint, toward_butt, unit = design.shown_unit](double mm) {
            return "move " + numbered("joint", joint) + " " + fine_length(mm, unit, 2) + " toward the " +
                   (toward_butt > 0 ? "butt" : "front");
          },
          kMostMoved_mm};
}

Change grain_change(const Design& design, Which side, std::size_t piece, double sense) {
  return {[&design, side, piece, sense](double degrees) {
            Piece turned = design.pieces(side)[piece];
            turned.grain.along_deg += sense * degrees;
            return set_piece(design, side, piece, turned);
          },
          [sense](double degrees) {
            return "turn the piece's grain by " + format_number(sense * degrees, 2) + " deg";
          },
          kMostTurned_deg};
}

Change thickness_change(const Design& design, Which which) {
  return {[&design, which](double mm) {
            Finish finish = which == Which::left ? design.left.finish : design.right_side().finish;
            for (MonotoneCubic::Station& station : finish.thickness_mm) station.value -= mm;
            return set_finish(design, which, finish);
          },
          [which, unit = design.shown_unit](double mm) {
            return "make the " + std::string(name_of(which)) + " side " + fine_length(mm, unit, 2) +
                   " thinner";
          },
          kMostThinner_mm};
}

}  // namespace

std::vector<Change> changes_for(const Design& design, const PieceNeed& need) {
  std::vector<Change> changes;
  const std::size_t joints = design.joints(need.side).size();
  if (need.piece > 0) changes.push_back(joint_change(design, need.side, need.piece - 1, +1));
  if (need.piece < joints) changes.push_back(joint_change(design, need.side, need.piece, -1));
  for (const double sense : {1.0, -1.0})
    changes.push_back(grain_change(design, need.side, need.piece, sense));
  changes.push_back(thickness_change(design, need.side));
  return changes;
}

}  // namespace haftwright::cutting
