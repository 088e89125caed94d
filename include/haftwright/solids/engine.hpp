// What makes the solids, behind plain functions, so that a program decides when it is there.
//
// Loading the solid kernel and its libraries takes longer than any check. So a program links one of two small
// objects (src/solids/provider): one is the kernel itself, for tests and sanitizers, the other opens it as a
// module of the program when the first solid is asked for.
#pragma once

#include <cstddef>
#include <memory>
#include <string>
#include <vector>

#include "haftwright/solids/solids.hpp"

namespace haftwright {

struct SolidEngine {
  // First, so that a module of another version is known before anything else of it is used.
  const char* version;  ///< of the program that it was built with
  std::size_t design_bytes;
  std::size_t handle_bytes;
  std::size_t guide_bytes;
  // As build_handle(), build_guide() and measure_step().
  std::unique_ptr<const Bodies> (*build_handle)(const Design&, const Handle&, const JobContext&);
  std::unique_ptr<const Bodies> (*build_guide)(const DrillGuide&, const JobContext&);
  std::vector<BodyFacts> (*measure_step)(const std::string&);
};

/// The module is missing or of another version: nothing is wrong with what it was asked for.
class EngineError : public SolidError {
 public:
  using SolidError::SolidError;
};

/// The engine of this program; the module is opened at the first call and stays open. Throws EngineError.
const SolidEngine& solid_engine();

}  // namespace haftwright
