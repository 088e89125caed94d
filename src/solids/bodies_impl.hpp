// What Bodies keeps.
#pragma once

#include "haftwright/solids/solids.hpp"
#include "measure.hpp"
#include "step.hpp"

namespace haftwright {

struct Bodies::Impl {
  std::vector<kernel::NamedShape> shapes;
  std::vector<BodyFacts> facts;  ///< one for each shape
  std::vector<std::string> warnings;

  void add(kernel::MeasuredBody body, Colour colour);
};

}  // namespace haftwright
