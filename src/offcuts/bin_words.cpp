#include "haftwright/offcuts/bin_words.hpp"

#include "haftwright/design/units.hpp"

namespace haftwright {

std::string material_name(const Bin& bin, const std::string& material) {
  const Material* known = bin.material(material);
  return known ? known->name : material;
}

std::string sizes_words(const std::vector<double>& sizes_mm, LengthUnit unit) {
  std::string text;
  for (const double size : sizes_mm) {
    if (!text.empty()) text += " x ";
    switch (unit) {
      case LengthUnit::millimetre:
        text += format_number(size, 1);
        break;
      case LengthUnit::inch:
        text += format_number(size / kMmPerInch, 2);
        break;
      case LengthUnit::inch_fraction:
        text += format_length(size, unit);
        break;
    }
  }
  if (unit == LengthUnit::inch_fraction) return text;
  return text + (unit == LengthUnit::millimetre ? " mm" : " in");
}

std::string shape_words(const std::vector<Node>& outline) {
  return rectangle_size(outline) ? "" : ", odd shape";
}

std::string holders_words(const std::vector<Reservation>& reserved) {
  std::string text;
  for (const Reservation& one : reserved)
    text += (text.empty() ? "" : ", ") + one.project + (one.piece.empty() ? "" : " (" + one.piece + ")");
  return text;
}

}  // namespace haftwright
