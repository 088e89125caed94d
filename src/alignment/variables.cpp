#include <algorithm>
#include <cmath>
#include <numbers>

#include "stack_parts.hpp"

namespace haftwright::alignment {
namespace {

constexpr double kDegree = std::numbers::pi / 180;

/// Glue films and strips of one joint on one side, front to rear: a film, then a strip and a film each.
struct JointLayers {
  std::vector<Sensitivities> to_line;  ///< what carries each line along, in mm along x
  Sensitivities whole;                 ///< what carries the next piece along
};

JointLayers layers_of(Variables& variables, const SideLayout& side, std::size_t joint, Sharing sharing) {
  const std::vector<JointLine>& lines = side.joints[joint].lines;
  // Thickness counts square to the joint.
  const double along_x = lines.front().plane.x0_per_mm(side.surface.shape().base_slope);
  const auto layer = [&](double ShopErrors::*error) { return times(variables.of(error, sharing), along_x); };
  JointLayers layers{.to_line = {{}}, .whole = {layer(&ShopErrors::glue_film_mm)}};
  for (std::size_t l = 1; l < lines.size(); ++l) {
    layers.whole.push_back(layer(&ShopErrors::strip_thickness_mm));
    layers.to_line.push_back(layers.whole);
    layers.whole.push_back(layer(&ShopErrors::glue_film_mm));
  }
  return layers;
}

void append(Sensitivities& to, const Sensitivities& sensitivities) {
  to.insert(to.end(), sensitivities.begin(), sensitivities.end());
}

}  // namespace

Sensitivity Variables::add(const Contributor& contributor, double size, const ContributorInfo& info) {
  std::vector<Contributor>& contributors = line_up_.stack.contributors;
  const auto found = std::ranges::find(contributors, contributor.key, &Contributor::key);
  const auto index = static_cast<std::size_t>(found - contributors.begin());
  if (found == contributors.end()) {
    contributors.push_back(contributor);
    line_up_.contributors.push_back(info);
  }
  ContributorInfo& told = line_up_.contributors[index];
  told.size = std::max(told.size, info.size);
  told.sharing = std::min(told.sharing, info.sharing);  // each side's own counts more than what they share
  line_up_.stack.variables.push_back({info.shape, index});
  return {line_up_.stack.variables.size() - 1, size};
}

Sensitivity Variables::of(double ShopErrors::*error, Sharing sharing) {
  const ErrorRow& row = error_row(error);
  const double size = design_.drilling.errors.*error;
  return add({std::string(row.key), std::string(row.what)}, size * (row.unit == "deg" ? kDegree : 1),
             {size, row.unit, DistributionShape::normal, sharing});
}

Sensitivity Variables::even(const Contributor& contributor, double size_mm, Sharing sharing) {
  return add(contributor, size_mm, {size_mm, "mm", DistributionShape::rectangular, sharing});
}

Sensitivity Variables::even_lean(const Contributor& contributor, double slope, Sharing sharing) {
  return add(contributor, slope,
             {std::atan(slope) / kDegree, "deg", DistributionShape::rectangular, sharing});
}

BlankErrors front_errors(Variables& variables, Sharing sharing) {
  return {{variables.of(&ShopErrors::front_place_mm, sharing)},
          variables.of(&ShopErrors::joint_square_deg, sharing),
          variables.of(&ShopErrors::joint_rake_deg, sharing)};
}

BuiltBlank blank_errors(Variables& variables, const SideLayout& side, Sharing sharing, Sharing front) {
  BuiltBlank blank{.front = front_errors(variables, front)};
  Sensitivities carried;
  for (std::size_t j = 0; j < side.joints.size(); ++j) {
    carried.push_back(variables.of(&ShopErrors::joint_place_mm, sharing));
    const Sensitivity square = variables.of(&ShopErrors::joint_square_deg, sharing);
    const Sensitivity rake = variables.of(&ShopErrors::joint_rake_deg, sharing);
    const JointLayers layers = layers_of(variables, side, j, sharing);
    std::vector<BlankErrors>& lines = blank.joints.emplace_back();
    for (const Sensitivities& to_line : layers.to_line) {
      append(lines.emplace_back(BlankErrors{carried, square, rake}).place, to_line);
    }
    append(carried, layers.whole);
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

Sensitivities blank_sensitivities(const BlankErrors& errors, const EndEffects& end) {
  Sensitivities sensitivities{times(errors.square, end.square_mm), times(errors.rake, end.rake_mm)};
  for (const Sensitivity& place : errors.place) sensitivities.push_back(times(place, end.place));
  return sensitivities;
}

}  // namespace haftwright::alignment
