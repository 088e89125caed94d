#include "line_up_shown.hpp"

#include "haftwright/alignment/telling.hpp"

namespace haftwright::app {

LineUpShown ask_line_up(const Ui& ui) {
  LineUpWatch& watch = ui.session.line_up();
  const Answers* answers = ui.answers();
  if (answers && answers->laid_out()) watch.want(answers->design, ui.document.drafting());
  LineUpShown shown{watch.answer(), watch.whole_answer()};
  shown.settled = shown.whole && shown.whole->design == ui.document.snapshot() && !ui.document.drafting();
  return shown;
}

FindingKey end_key(const LineUp& line_up, std::size_t measure) {
  return {"line_up.end", measure_place(line_up, measure)};
}

}  // namespace haftwright::app
