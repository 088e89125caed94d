// The wood of the plan that is looked at.
#include <algorithm>
#include <utility>

#include "haftwright/files/bin_file.hpp"
#include "haftwright/session/session.hpp"

namespace haftwright {
namespace {

/// Of that material in the design as it is now, which may have changed since it was planned.
bool still_of(const Design& design, const WoodPlace& place, const Offcut& offcut) {
  const std::vector<Piece>& pieces = design.pieces(place.side);
  return place.piece < pieces.size() && pieces[place.piece].material == offcut.material;
}

/// The plan with these blanks where they are carried, for what shows their wood.
CuttingPlan with_carried(CuttingPlan plan, const BoardUse& carried) {
  for (BoardUse& use : plan.offcuts)
    std::erase_if(use.blanks, [&](const PlacedBlank& blank) {
      return std::ranges::find(carried.blanks, blank.need, &PlacedBlank::need) != carried.blanks.end();
    });
  plan.offcuts.push_back(carried);
  return plan;
}

}  // namespace

void Session::show_carried(std::optional<BoardUse> carried) {
  if (!carried && !carried_) return;
  carried_ = std::move(carried);
  ++carried_number_;
}

std::shared_ptr<const PlannedWoods> Session::planned_woods() {
  const Answers* answers = document_ ? document_->answers() : nullptr;
  std::shared_ptr<const CuttingAnswer> answer = cutting_.answer();
  if (!answers || !answers->laid_out() || !answer || !answer->problem.empty() || answer->plans.plans.empty())
    return nullptr;
  want_cutting();
  const std::size_t plan = std::min(chosen_plan_, answer->plans.plans.size() - 1);
  const std::uint64_t photos = wood_photos_.revision();
  const Clock::time_point now = Clock::now();
  ShownWoods& last = shown_woods_;
  if (last.answer == answer && last.plan == plan && last.handle == answers->handle && last.photos == photos &&
      last.carried == carried_number_ && now - last.looked_at < kDiskRest)
    return last.woods;
  const CuttingPlan& planned = answer->plans.plans[plan];
  PlannedWoods woods =
      find_woods(*answers->handle, answer->plans.needs, carried_ ? with_carried(planned, *carried_) : planned,
                 *answer->asked.bin, answer->asked.design->rules, picture_folder(bin_.path()), wood_photos_);
  std::erase_if(woods.pieces, [&](const PlannedWoods::Piece& piece) {
    return !still_of(*answers->design, piece.place, piece.offcut);
  });
  last = {std::move(answer),
          plan,
          answers->handle,
          photos,
          carried_number_,
          now,
          std::make_shared<const PlannedWoods>(std::move(woods))};
  return last.woods;
}

}  // namespace haftwright
