// The door: what keeps a Design from being laid out, each with the path of the field.
#pragma once

#include <stdexcept>
#include <string>
#include <vector>

#include "haftwright/design/design.hpp"

namespace haftwright {

struct Shop;  // design/shop.hpp

/// One thing wrong with the input, in a maker's words.
struct Problem {
  std::string field;  ///< "sides.left.joints[0].slant_deg"; empty for the file as a whole
  std::string what;   ///< what is wrong and what would be right
};

/// Thrown by readers and by lay_out. what() is "field: what", one line a problem.
class InputError : public std::runtime_error {
 public:
  explicit InputError(std::vector<Problem> problems);
  InputError(std::string field, std::string what);
  const std::vector<Problem>& problems() const { return problems_; }

 private:
  std::vector<Problem> problems_;
};

/// How far a pin's axis may stand off the middle of the existing tang hole it goes through.
inline constexpr double kConcentricMm = 0.01;

/// Everything that can be told without laying the handle out: ranges, finite numbers, names that are unknown
/// or double, crossing outlines, cutouts and holes outside the tang, pins outside the handle, counts that do
/// not match. Empty when the Design is good. Surface and joint crossings are found by lay_out.
std::vector<Problem> validate(const Design& design);

/// The same for a shop: ranges, limits that hold each other, drills that are unknown or there twice.
std::vector<Problem> validate(const Shop& shop);

}  // namespace haftwright
