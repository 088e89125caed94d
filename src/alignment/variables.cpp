#include <algorithm>
#include <cmath>
#include <numbers>

#include "chain_parts.hpp"

namespace haftwright::alignment {
namespace {

constexpr double kDegree = std::numbers::pi / 180;

/// A joint or a front face: place, slant and rake.
BlankErrors line_errors(Variables& variables, double ShopErrors::*place, Sharing sharing) {
  return {variables.of(place, sharing), variables.of(&ShopErrors::joint_square_deg, sharing),
          variables.of(&ShopErrors::joint_rake_deg, sharing)};
}

}  // namespace

Term Variables::add(const Source& source, double size, const SourceInfo& info) {
  std::vector<Source>& sources = line_up_.chain.sources;
  const auto found = std::ranges::find(sources, source.key, &Source::key);
  const auto index = static_cast<std::size_t>(found - sources.begin());
  if (found == sources.end()) {
    sources.push_back(source);
    line_up_.sources.push_back(info);
  }
  SourceInfo& told = line_up_.sources[index];
  told.size = std::max(told.size, info.size);
  told.sharing = std::min(told.sharing, info.sharing);  // each side's own counts more than what they share
  line_up_.chain.variables.push_back({info.spread, index});
  return {line_up_.chain.variables.size() - 1, size};
}

Term Variables::of(double ShopErrors::*error, Sharing sharing) {
  const ErrorRow& row = error_row(error);
  const double size = design_.drilling.errors.*error;
  return add({std::string(row.key), std::string(row.what)}, size * (row.unit == "deg" ? kDegree : 1),
             {size, row.unit, Spread::normal, sharing});
}

Term Variables::even(const Source& source, double size_mm, Sharing sharing) {
  return add(source, size_mm, {size_mm, "mm", Spread::rectangular, sharing});
}

Term Variables::even_lean(const Source& source, double slope, Sharing sharing) {
  return add(source, slope, {std::atan(slope) / kDegree, "deg", Spread::rectangular, sharing});
}

BuiltBlank blank_errors(Variables& variables, std::size_t joints, Sharing joint, Sharing front) {
  BuiltBlank blank;
  blank.front = line_errors(variables, &ShopErrors::front_place_mm, front);
  for (std::size_t j = 0; j < joints; ++j)
    blank.joints.push_back(line_errors(variables, &ShopErrors::joint_place_mm, joint));
  return blank;
}

BuiltBlank other_half(Variables& variables, const BuiltBlank& left) {
  BuiltBlank right = left;
  right.front = line_errors(variables, &ShopErrors::front_place_mm, Sharing::each_side);
  for (BlankErrors& joint : right.joints) joint.rake = times(joint.rake, -1);
  return right;
}

Terms blank_terms(const BlankErrors& errors, const EndEffects& end) {
  return {times(errors.place, end.place), times(errors.square, end.square_mm),
          times(errors.rake, end.rake_mm)};
}

}  // namespace haftwright::alignment
