#include "side_input.hpp"

#include <numbers>
#include <numeric>

namespace haftwright {

using namespace layout;
namespace {

double tan_deg(double degrees) {
  return std::tan(degrees * std::numbers::pi / 180);
}

bool overrides(const SideOverrides& own, const std::string& key) {
  if (key == "liners") return own.liners.has_value();
  if (key == "pieces") return own.pieces.has_value();
  if (key == "joints") return own.joints.has_value();
  if (key == "front") return own.front.has_value();
  if (key == "finish") return own.finish.has_value();
  return own.butt_proud_mm.has_value();
}

}  // namespace

std::string SideInput::field(const std::string& key) const {
  const std::string first = key.substr(0, key.find('.'));
  const bool own = which == Which::right && overrides(design.right, first);
  return (own ? "sides.right." : "sides.left.") + key;
}

double SideInput::liner_total_mm() const {
  return std::accumulate(side.liners.begin(), side.liners.end(), 0.0,
                         [](double sum, const Sheet& liner) { return sum + liner.thickness_mm; });
}

std::vector<Disc> layout::discs_of(const SideInput& input, double PinHoles::*layer) {
  std::vector<Disc> discs;
  for (const PinHoles& hole : input.holes) discs.push_back({hole.at, hole.*layer / 2});
  return discs;
}

CutPlane layout::front_plane(const FrontFace& front) {
  return {front.place_mm, tan_deg(front.slant_deg), tan_deg(front.rake_deg)};
}

std::vector<Interface> layout::interfaces_of(const Side& side, double base_slope) {
  std::vector<Interface> interfaces;
  for (std::size_t k = 0; k < side.joints.size(); ++k) {
    const Joint& joint = side.joints[k];
    CutPlane plane{joint.place_mm, tan_deg(joint.slant_deg), tan_deg(joint.rake_deg)};
    const double along_x = plane.x0_per_mm(base_slope);
    double stack_mm = 0;
    for (const Sheet& strip : joint.spacers) stack_mm += strip.thickness_mm;
    plane.x0_mm -= stack_mm / 2 * along_x;
    interfaces.push_back({k, 0, plane});
    for (const Sheet& strip : joint.spacers) {
      plane.x0_mm += strip.thickness_mm * along_x;
      interfaces.push_back({k, interfaces.back().line + 1, plane});
    }
  }
  return interfaces;
}

double CutPlane::x0_per_mm(double base_slope) const {
  // In space the plane is x (1 + slope rake) - y slant - z rake = const: s is counted from a face that
  // slopes.
  const double along = 1 + base_slope * tan_rake;
  return std::sqrt(along * along + tan_slant * tan_slant + tan_rake * tan_rake);
}

}  // namespace haftwright
