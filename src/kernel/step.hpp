// STEP text (ISO 10303-21, application protocol 214) of solids, and back.
#pragma once

#include <string>
#include <vector>

#include <TopoDS_Shape.hxx>

#include "haftwright/reference/materials.hpp"

namespace haftwright::kernel {

struct NamedShape {
  TopoDS_Shape shape;
  std::string name;
  Colour colour;  ///< unused when read
};

/// One product named `product_name` holding one part for each body; a single body is the product itself. The
/// same bytes for the same input: order, numbers and names never depend on memory addresses or on what was
/// written before. Throws SolidError.
std::string write_step(const std::vector<NamedShape>& bodies, const std::string& product_name);

/// The solids in a STEP text with the names of their parts. Throws SolidError when it can't be read.
std::vector<NamedShape> read_step(const std::string& text);

}  // namespace haftwright::kernel
