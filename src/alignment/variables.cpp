#include <algorithm>
#include <cmath>
#include <numbers>

#include "chain_parts.hpp"

namespace haftwright::alignment {
namespace {

constexpr double kDegree = std::numbers::pi / 180;

/// Glue films and strips of one joint on one side, front to rear: a film, then a strip and a film each.
struct JointStack {
  std::vector<Terms> to_line;  ///< what carries each line along, in mm along x
  Terms whole;                 ///< what carries the next piece along
};

JointStack stack_of(Variables& variables, const SideLayout& side, std::size_t joint, Sharing sharing) {
  const std::vector<JointLine>& lines = side.joints[joint].lines;
  // Thickness counts square to the joint.
  const double along_x = lines.front().plane.x0_per_mm(side.surface.shape().base_slope);
  const auto layer = [&](double ShopErrors::*error) { return times(variables.of(error, sharing), along_x); };
  JointStack stack{.to_line = {{}}, .whole = {layer(&ShopErrors::glue_film_mm)}};
  for (std::size_t l = 1; l < lines.size(); ++l) {
    stack.whole.push_back(layer(&ShopErrors::strip_thickness_mm));
    stack.to_line.push_back(stack.whole);
    stack.whole.push_back(layer(&ShopErrors::glue_film_mm));
  }
  return stack;
}

void append(Terms& to, const Terms& terms) {
  to.insert(to.end(), terms.begin(), terms.end());
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

BlankErrors front_errors(Variables& variables, Sharing sharing) {
  return {{variables.of(&ShopErrors::front_place_mm, sharing)},
          variables.of(&ShopErrors::joint_square_deg, sharing),
          variables.of(&ShopErrors::joint_rake_deg, sharing)};
}

BuiltBlank blank_errors(Variables& variables, const SideLayout& side, Sharing sharing, Sharing front) {
  BuiltBlank blank{.front = front_errors(variables, front)};
  Terms carried;
  for (std::size_t j = 0; j < side.joints.size(); ++j) {
    carried.push_back(variables.of(&ShopErrors::joint_place_mm, sharing));
    const Term square = variables.of(&ShopErrors::joint_square_deg, sharing);
    const Term rake = variables.of(&ShopErrors::joint_rake_deg, sharing);
    const JointStack stack = stack_of(variables, side, j, sharing);
    std::vector<BlankErrors>& lines = blank.joints.emplace_back();
    for (const Terms& to_line : stack.to_line) {
      append(lines.emplace_back(BlankErrors{carried, square, rake}).place, to_line);
    }
    append(carried, stack.whole);
  }
  return blank;
}

BuiltBlank other_half(Variables& variables, const BuiltBlank& left, bool fronts_as_sawn) {
  BuiltBlank right = left;
  if (fronts_as_sawn)
    right.front.rake = times(left.front.rake, -1);
  else
    right.front = front_errors(variables, Sharing::each_side);
  for (std::vector<BlankErrors>& joint : right.joints)
    for (BlankErrors& line : joint) line.rake = times(line.rake, -1);
  return right;
}

Terms blank_terms(const BlankErrors& errors, const EndEffects& end) {
  Terms terms{times(errors.square, end.square_mm), times(errors.rake, end.rake_mm)};
  for (const Term& place : errors.place) terms.push_back(times(place, end.place));
  return terms;
}

}  // namespace haftwright::alignment
