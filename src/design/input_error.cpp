#include "haftwright/design/validate.hpp"

namespace haftwright {
namespace {

std::string lines(const std::vector<Problem>& problems) {
  std::string text;
  for (const Problem& problem : problems) {
    if (!text.empty()) text += '\n';
    if (!problem.field.empty()) text += problem.field + ": ";
    text += problem.what;
  }
  return text;
}

}  // namespace

InputError::InputError(std::vector<Problem> problems)
    : std::runtime_error(lines(problems)), problems_(std::move(problems)) {}

InputError::InputError(std::string field, std::string what)
    : InputError(std::vector<Problem>{{std::move(field), std::move(what)}}) {}

}  // namespace haftwright
