// The command line of the verb plan.
#pragma once

#include <CLI/CLI.hpp>

#include "plan.hpp"

namespace haftwright::command {

/// What is typed lands in `options`, which must outlive the parsing.
void add_plan(CLI::App& app, PlanOptions& options);

}  // namespace haftwright::command
