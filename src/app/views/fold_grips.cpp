// Which grips the fold view shows, and where; what they do is in the edits.
#include <cmath>

#include "fold_view.hpp"

namespace haftwright::app {
namespace {

constexpr double kLeastShownRoom = 34;  // pixels at scale 1: with less there is no room for a grip

bool is_shown(const haftwright::Grip& grip, const FoldViewState& state) {
  if (grip.what.kind->of_tang && !state.edit_outline) return false;
  const HandleEdge edge = state.about == FoldAbout::spine ? HandleEdge::spine : HandleEdge::belly;
  if (grip.seen_from.value_or(edge) != edge) return false;
  return grip.room_mm * state.frame.pixels_per_mm >= scaled(kLeastShownRoom);
}

}  // namespace

std::vector<Grip> grips(const Ui& ui, const FoldViewState& state) {
  std::vector<Grip> shown;
  const Answers* answers = ui.answers();
  if (!answers || !answers->laid_out() || state.drawn_revision == 0) return shown;
  for (const haftwright::Grip& grip : grips_of(ui.design(), *answers->handle))
    if (is_shown(grip, state)) shown.push_back({grip, state.map.to_drawing(grip.place)});
  return shown;
}

Nudge nudge_by(const FoldMap& map, const Grip& grip, Vec2 steps, double step_mm, double step_deg) {
  const FoldPlace to = map.to_handle(map.to_drawing(grip.place) + steps * step_mm, grip.place.region);
  const double more = steps.x + steps.y;
  return {.by_mm = {to.x_mm - grip.place.x_mm, to.y_or_z_mm - grip.place.y_or_z_mm},
          .turn_deg = more * step_deg,
          .rise_mm = more * step_mm};
}

}  // namespace haftwright::app
