// What the session says and asks, in plain words.
#pragma once

#include <filesystem>
#include <string>
#include <vector>

#include "haftwright/design/validate.hpp"
#include "haftwright/session/session.hpp"

namespace haftwright::words {

/// "field: what", one line a problem.
std::vector<std::string> lines_of(const std::vector<Problem>& problems);

/// `title`: of the open project. `about`: the file in question.
Question question(Question::Kind kind, const std::string& title, const std::filesystem::path& about);

}  // namespace haftwright::words
