// The verb picture: the finished handle as a PNG, on wish in the very woods that a cutting plan takes.
#pragma once

#include <string>

#include "plan.hpp"

namespace haftwright::command {

/// What a picture shows, as typed.
struct PictureOptions {
  VerbOptions common;
  std::string view = "three-quarter";
  std::string size = "1600x1000";
  std::string backdrop = "light";
  std::string show = "materials";
  std::string section;  ///< "x=52"; empty: none
  double exploded = 0;
  bool transparent = false;
  bool parallel = false;
  bool no_shadow = false;
  /// The plan whose woods are shown; with its bin empty none is made.
  PlanOptions woods;
};

int picture(const PictureOptions& options);

}  // namespace haftwright::command
