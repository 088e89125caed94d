// What Bodies keeps.
#pragma once

#include "haftwright/solids/solids.hpp"
#include "step.hpp"

namespace haftwright {

struct Bodies::Impl {
  std::vector<kernel::NamedShape> shapes;
  std::vector<BodyFacts> facts;  ///< one for each shape
  std::vector<std::string> warnings;

  /// Measures the body and takes it in.
  void add(kernel::NamedShape body, const std::string& material);
};

}  // namespace haftwright
