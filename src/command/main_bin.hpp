// The command line of the verb bin, which has verbs of its own.
#pragma once

#include <CLI/CLI.hpp>

#include "bin.hpp"

namespace haftwright::command {

/// What is typed lands in `options`, which must outlive the parsing; so does the action's name.
void add_bin(CLI::App& app, BinOptions& options);

}  // namespace haftwright::command
