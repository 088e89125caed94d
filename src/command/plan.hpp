// The verb plan: which offcut each blank comes from, and how it is sawn.
#pragma once

#include <cstddef>
#include <filesystem>
#include <string>
#include <vector>

#include "verbs.hpp"

namespace haftwright::command {

struct PlanOptions {
  VerbOptions common;             ///< output: the drawing, SVG; empty: none
  std::filesystem::path bin;      ///< bin file; empty: the person's own
  std::size_t plans = 3;          ///< to compare
  std::size_t take = 1;           ///< of them, the one that is shown whole, from 1
  bool outside = false;           ///< books show their outer faces
  bool blanks_too = false;        ///< pieces with a typed blank are planned as well
  std::vector<std::string> fix;   ///< each "PIECE" or "PIECE=OFFCUT@X,Y,TURN"
  std::vector<std::string> free;  ///< names of pieces, or "all"
  bool keep = false;              ///< writes the project with the places as they then are
  std::string order;              ///< of preferences; empty: the usual one
  bool reserve = false;           ///< notes in the bin what the plan takes
  bool incomplete = false;        ///< it may have been sawn though pieces have no place
  bool cut = false;               ///< it has been sawn: what is left goes back into the bin
};

int plan(const PlanOptions& options);

}  // namespace haftwright::command
