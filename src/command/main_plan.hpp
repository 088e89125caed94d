// The command line of the verb plan.
#pragma once

#include <CLI/CLI.hpp>

#include "plan.hpp"

namespace haftwright::command {

/// The options that settle which plan is made and taken.
void add_planning(CLI::App& verb, PlanOptions& options);

/// What is typed lands in `options`, which must outlive the parsing.
void add_plan(CLI::App& app, PlanOptions& options);

}  // namespace haftwright::command
