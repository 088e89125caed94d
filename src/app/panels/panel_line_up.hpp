// The panel "Line-up": will both sides line up with the way this maker drills, what would help, and what to
// do after the dry fit.
#pragma once

#include <functional>
#include <memory>
#include <optional>
#include <string>

#include "fold_show.hpp"
#include "line_up_shown.hpp"
#include "ui.hpp"

namespace haftwright::app {

/// What is being typed of a dry fit.
struct DryFitForm {
  CaliperReading next;                ///< the one to be added
  std::optional<std::size_t> chosen;  ///< index in Design::dry_fit; none: `next` is edited
  std::string trouble;                ///< why what was typed is no length
  bool begun = false;                 ///< `next` was filled in
};

struct LineUpPane {
  bool dry_fit = false;  ///< shown: before drilling, or after the dry fit
  DryFitForm form;
};

/// A click on a joint's end turns `fold` to it.
void line_up_panel(const Ui& ui, LineUpPane& pane, FoldShow& fold);

// The parts of it, each in a file of its own.

void line_up_ways(const Ui& ui, const LineUpShown& shown);
void line_up_ends(const Ui& ui, const WayReport& way, FoldShow& fold);
void line_up_helps(const Ui& ui, const LineUpShown& shown);
/// Fields of the project's way of drilling; `way` (may be null) tells which errors count in it.
void line_up_settings(const Ui& ui, const WayReport* way);
void dry_fit_form(const Ui& ui, const LineUpShown& shown, DryFitForm& form);
/// Both sides in plan with every reading on them, `marked` bold; the reading that was clicked.
std::optional<std::size_t> dry_fit_drawing(const Design& design, const Handle& handle,
                                           const CaliperReading& marked);
void dry_fit_answer(const Ui& ui, const LineUpShown& shown);

// What they share.

std::string measure_amount(double value, Measure::Kind kind, LengthUnit unit);
/// A bar as wide as the pane: the share, the interval it lies in, and `before`, if given, to compare with.
void chance_bar(const Chance& chance, std::optional<double> before = {});

}  // namespace haftwright::app
