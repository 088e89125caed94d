#include "haftwright/design/starters.hpp"
#include "haftwright/design/validate.hpp"
#include "new_project.hpp"
#include "shop_place.hpp"
#include "terminal.hpp"

namespace haftwright::command {
namespace {

/// Reads a typed length into `value_mm`; an empty one leaves it as it is.
void read_length(const std::string& option, const std::string& typed, LengthUnit unit, double& value_mm) {
  if (typed.empty()) return;
  try {
    value_mm = parse_length_mm(typed, unit);
  } catch (const std::invalid_argument& error) {
    throw InputError(option, error.what());
  }
}

template <typename Tang>
std::vector<Node> outline_of(const NewOptions& options, LengthUnit unit) {
  Tang tang;
  read_length("--length", options.length, unit, tang.length_mm);
  read_length("--front-height", options.front_height, unit, tang.front_height_mm);
  read_length("--butt-height", options.butt_height, unit, tang.butt_height_mm);
  try {
    return starter_outline(tang);
  } catch (const std::invalid_argument& error) {
    throw InputError("tang", error.what());
  }
}

int make_new(const NewOptions& options, const Shop& shop) {
  const LengthUnit unit = length_unit_named(options.units);
  double thickness_mm = Tang{}.thickness_front_mm;
  read_length("--thickness", options.thickness, unit, thickness_mm);
  std::vector<Node> outline = options.tang == "bowed" ? outline_of<BowedTang>(options, unit)
                                                      : outline_of<StraightTang>(options, unit);
  write_new_project(starter_design(std::move(outline), thickness_mm, unit), shop, options.project,
                    options.replace);
  print("Written: " + options.project.string() + "\n");
  return good;
}

}  // namespace

int make_new(const NewOptions& options) {
  return with_shop_place(options.shop, Missing::refused, [&](const ShopPlace& place) {
    return guarded(options.project, [&] { return make_new(options, place.shop); });
  });
}

}  // namespace haftwright::command
