#include <algorithm>
#include <numbers>

#include "chain_parts.hpp"

namespace haftwright::alignment {
namespace {

constexpr double kDegree = std::numbers::pi / 180;

BlankErrors front_errors(Variables& variables) {
  return {variables.of(&ShopErrors::front_place_mm), variables.of(&ShopErrors::joint_square_deg),
          variables.of(&ShopErrors::joint_rake_deg)};
}

}  // namespace

std::size_t Variables::source(const std::string& key, const std::string& words) {
  const auto found = std::ranges::find(chain_.sources, key, &Source::key);
  if (found != chain_.sources.end()) return static_cast<std::size_t>(found - chain_.sources.begin());
  chain_.sources.push_back({key, words});
  return chain_.sources.size() - 1;
}

Term Variables::of(double ShopErrors::*error) {
  const ErrorRow& row = error_row(error);
  const double size = design_.drilling.errors.*error * (row.unit == "deg" ? kDegree : 1);
  chain_.variables.push_back({Spread::normal, source(std::string(row.key), std::string(row.what))});
  return {chain_.variables.size() - 1, size};
}

Term Variables::even(const std::string& source_key, const std::string& words, double size) {
  chain_.variables.push_back({Spread::rectangular, source(source_key, words)});
  return {chain_.variables.size() - 1, size};
}

BuiltBlank blank_errors(Variables& variables, std::size_t joints) {
  BuiltBlank blank;
  blank.front = front_errors(variables);
  for (std::size_t j = 0; j < joints; ++j)
    blank.joints.push_back({variables.of(&ShopErrors::joint_place_mm),
                            variables.of(&ShopErrors::joint_square_deg),
                            variables.of(&ShopErrors::joint_rake_deg)});
  return blank;
}

BuiltBlank other_half(Variables& variables, const BuiltBlank& left) {
  BuiltBlank right = left;
  right.front = front_errors(variables);
  for (BlankErrors& joint : right.joints) joint.rake = times(joint.rake, -1);
  return right;
}

Terms blank_terms(const BlankErrors& errors, const EndEffects& end) {
  return {times(errors.place, end.place), times(errors.square, end.square_mm),
          times(errors.rake, end.rake_mm)};
}

}  // namespace haftwright::alignment
