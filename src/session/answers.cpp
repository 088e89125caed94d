#include "haftwright/session/answers.hpp"

#include <exception>
#include <utility>

#include "haftwright/handle/lay_out.hpp"

namespace haftwright {
namespace {

/// Runs `work`; what it throws becomes problems.
template <class Work>
std::vector<Problem> problems_of(Work&& work) {
  try {
    work();
  } catch (const InputError& error) {
    return error.problems();
  } catch (const std::exception& error) {
    return {{"", std::string("this could not be worked out: ") + error.what()}};
  }
  return {};
}

void derive_handle(Answers& answers) {
  const Design& design = *answers.design;
  answers.problems = problems_of([&] {
    auto handle = std::make_shared<const Handle>(lay_out(design));
    std::vector<Finding> findings = run_checks(design, *handle);
    sort_worst_first(findings);
    EpoxyEstimate epoxy = estimate_epoxy(design, *handle);
    answers.cautions = cautions(design);
    answers.findings = std::move(findings);
    answers.epoxy = std::move(epoxy);
    answers.handle = std::move(handle);
  });
}

}  // namespace

const GuideAnswer& Answers::guide() const {
  std::call_once(guide_->asked, [this] {
    if (!laid_out()) return;
    guide_->answer.problems = problems_of([this] {
      guide_->answer.plan = std::make_shared<const DrillGuide>(lay_out_guide(*design, *handle));
    });
  });
  return guide_->answer;
}

Answers derive(std::shared_ptr<const Design> design) {
  Answers answers;
  answers.design = std::move(design);
  std::vector<Problem> found;
  answers.problems = problems_of([&] { found = validate(*answers.design); });
  answers.problems.insert(answers.problems.end(), found.begin(), found.end());
  answers.valid = answers.problems.empty();
  if (answers.valid) derive_handle(answers);
  return answers;
}

}  // namespace haftwright
