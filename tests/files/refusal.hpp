// What reading a text ends in: a design, or the problems; anything else fails the test.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "haftwright/design/validate.hpp"
#include "haftwright/files/project_file.hpp"

namespace haftwright::test {

struct Reading {
  std::optional<Design> design;
  std::vector<Problem> problems;

  bool refused() const { return !design; }
  /// The only problem, as a maker sees it; all of them when there are several.
  std::string said() const { return refused() ? InputError(problems).what() : "accepted"; }
};

/// An exception of any other kind goes through and fails the test that called.
inline Reading read(const std::string& text) {
  try {
    return {parse_project(text), {}};
  } catch (const InputError& error) {
    return {std::nullopt, error.problems()};
  }
}

}  // namespace haftwright::test
