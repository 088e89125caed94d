// What the verbs share: a project read and checked, where they write, how they end.
#pragma once

#include <string>
#include <vector>

#include "haftwright/checks/checks.hpp"
#include "haftwright/handle/lay_out.hpp"
#include "terminal.hpp"
#include "verbs.hpp"

namespace haftwright::command {

struct Project {
  Design design;
  Handle handle;
  std::vector<Finding> findings;
};
/// With the findings of its checks.
Project open(const std::filesystem::path& path);
/// With those of its line-up too.
Project open_whole(const std::filesystem::path& path);
void add(std::vector<Finding> more, std::vector<Finding>& findings);

/// Where a verb writes: what was asked for, or PROJECT's name with `suffix` in the current folder.
std::filesystem::path output_path(const VerbOptions& options, const char* suffix);

/// The exit code for findings, with a warning on stderr that can't be taken for a figure.
int verdict(const std::vector<Finding>& findings, const std::string& warning);

}  // namespace haftwright::command
