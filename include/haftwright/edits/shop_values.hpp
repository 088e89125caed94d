// Where a project differs from the shop, and taking values over in either direction.
//
// A project holds the values that are in force for it. Fields that both have go by the same path in both
// files: "rules.edge_wall_mm". The shop's drills have no counterpart in a project; what they were measured to
// make goes into the holes drilled with them.
#pragma once

#include <cstddef>
#include <string>
#include <string_view>
#include <variant>
#include <vector>

#include "haftwright/design/shop.hpp"

namespace haftwright {

/// What stands in a field: nothing where it is left out, a number, true or false, or one of its words.
using FieldValue = std::variant<std::monostate, double, bool, std::string>;

struct ShopValue {
  std::string field;      ///< its path in both files
  std::string_view what;  ///< what it means
  std::string_view unit;  ///< of a number, as in schema::Quantity
  FieldValue value;
  bool operator==(const ShopValue&) const = default;
};
/// Every field of a shop that projects have too, in the order of the files.
std::vector<ShopValue> shop_values(const Shop& shop);

struct ShopDifference {
  std::string field;
  std::string_view what;
  std::string_view unit;
  FieldValue project;
  FieldValue shop;
  bool operator==(const ShopDifference&) const = default;
};
/// Every field that both have with unlike values, in the order of the files.
std::vector<ShopDifference> differences(const Design& design, const Shop& shop);

/// "2.5 mm", with inches behind it where those are shown; "0.25 share", "true", "by_eye", "left out". Numbers
/// are the shortest that read back equal, so that unlike values look unlike.
std::string value_words(const FieldValue& value, std::string_view unit, LengthUnit shown);

/// Which values to take over: paths of fields or of whole sections ("rules", "drilling.errors"). Empty: all.
using ShopFields = std::vector<std::string>;
/// What is wrong with one of them, in plain words; empty when nothing is.
std::string shop_field_problem(const std::string& field);

/// The project with the shop's values in those fields; all else stays. What is no field is passed over.
Design with_shop_values(const Design& design, const Shop& shop, const ShopFields& fields = {});
/// The shop with the project's values in those fields; its drills stay.
Shop shop_with_project_values(const Shop& shop, const Design& design, const ShopFields& fields = {});

/// A hole that names a drill and no diameter, though the shop has measured what that drill makes.
struct MeasuredHole {
  std::string field;  ///< "pins[0].scale_hole.diameter_mm"
  std::size_t pin = 0;
  HoleSize Pin::*hole = nullptr;
  double diameter_mm = 0;  ///< as the shop has measured it
};
/// In the order of the file. A drill that was measured in a metal makes its hole in metals, one that was
/// measured in anything else in anything else, one of which the shop does not say it in both (common
/// practice). A hole that goes through both kinds is none of a drill of which the shop says it.
std::vector<MeasuredHole> measured_holes(const Design& design, const Shop& shop);
/// Each of them filled in.
Design with_measured_holes(const Design& design, const Shop& shop);

/// A project as the shop would begin it: all its values, and its measured holes.
Design with_shop(const Design& design, const Shop& shop);

}  // namespace haftwright
