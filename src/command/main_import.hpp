// The command line of the verb import.
#pragma once

#include <CLI/CLI.hpp>

#include "import.hpp"

namespace haftwright::command {

/// What is typed lands in `options`, which must outlive the parsing.
void add_import(CLI::App& app, ImportOptions& options);

}  // namespace haftwright::command
