// The bin of offcuts beside the projects, and what becomes of a plan over it.
#include <utility>

#include "haftwright/cutting/cutting_list.hpp"
#include "haftwright/cutting/take.hpp"
#include "haftwright/drawing/svg.hpp"
#include "haftwright/files/bin_file.hpp"
#include "haftwright/files/safe_write.hpp"
#include "haftwright/session/session.hpp"
#include "small_files.hpp"

namespace haftwright {

using namespace session;
namespace {

namespace fs = std::filesystem;

}  // namespace

void Session::open_bin(const fs::path& path) {
  if (!bin_.open(path)) return;
  Settings settings = settings_;
  settings.bin = bin_.path();
  change_settings(std::move(settings));
}

void Session::prefer(std::vector<nesting::Preference> order) {
  if (order == wishes_.order) return;
  wishes_.order = order;
  Settings settings = settings_;
  settings.cutting_order = std::move(order);
  change_settings(std::move(settings));
}

std::shared_ptr<const SquaredFace> Session::photo_of(const Offcut& offcut) {
  return offcut.photos.empty() ? nullptr : photos_.face(picture_folder(bin_.path()), offcut);
}

std::string Session::name_in_bin() const {
  return document_ ? haftwright::name_in_bin(document_->design(), path_) : "";
}

void Session::want_cutting() {
  const Answers* answers = document_ ? document_->settled_answers() : nullptr;
  if (!answers || !bin_.there()) return;
  wishes_.project = name_in_bin();
  const CuttingQuestion last = cutting_.question();
  if (last.design != answers->design || last.wishes != wishes_) chosen_plan_ = 0;
  cutting_.want({answers->design, bin_.snapshot(), wishes_});
}

bool Session::in_force(const CuttingAnswer& answer) {
  return document_ && answer.problem.empty() && cutting_.question() == answer.asked &&
         answer.asked.design == document_->snapshot() && answer.asked.bin == bin_.snapshot();
}

const CuttingPlan* Session::plan_to_act_on(const CuttingAnswer& answer, std::size_t plan) {
  if (name_in_bin().empty())
    bin_.say(true, "Give the project a name, or save it, so that the bin can say whose the wood is.");
  else if (!in_force(answer) || plan >= answer.plans.plans.size())
    bin_.say(true, "The design or the bin has changed since this was planned: wait for the new plan.");
  else
    return &answer.plans.plans[plan];
  return nullptr;
}

void Session::reserve(const CuttingAnswer& answer, std::size_t plan) {
  if (const CuttingPlan* taken = plan_to_act_on(answer, plan))
    bin_.apply("reserve for " + name_in_bin(),
               reserve_as_planned(*answer.asked.bin, answer.plans.needs, *taken, name_in_bin()));
}

void Session::cut(const CuttingAnswer& answer, std::size_t plan) {
  if (const CuttingPlan* taken = plan_to_act_on(answer, plan))
    bin_.apply("cut for " + name_in_bin(), cut_as_planned(*answer.asked.bin, answer.plans.needs, *taken,
                                                          answer.asked.design->rules, name_in_bin()));
}

void Session::export_cutting(const CuttingAnswer& answer, std::size_t plan, const fs::path& path) {
  if (!document_ || plan >= answer.plans.plans.size()) return;
  forget_pending();
  const fs::path full = full_path(path);
  if (!may_export(full)) return;
  const Drawing drawing = cutting_drawing(answer.plans.needs, answer.plans.plans[plan], *answer.asked.bin,
                                          answer.asked.design->shown_unit);
  if (drawing.items.empty())
    return tell_error("Nothing was written", "Nothing of the bin serves: there is nothing to draw.");
  pending_text_ = {"Cutting drawing", full, to_svg(drawing, {.title = title() + ": cutting plan"})};
  std::error_code error;
  if (fs::exists(full, error) && !exported_.contains(full)) return ask(Question::Kind::replace_file, full);
  write_text();
}

void Session::write_text() {
  const TextFile file = *std::exchange(pending_text_, std::nullopt);
  try {
    write_file_safely(file.path, file.text);
    exported_.insert(file.path);
    tell({Notice::Kind::done, file.what + " written", {file.path.string()}});
  } catch (const std::exception& error) {
    tell_error(file.what + " not written", error.what());
  }
}

}  // namespace haftwright
