#include "haftwright/session/bin_forms.hpp"

#include <glm/trigonometric.hpp>

#include <algorithm>
#include <cctype>
#include <cmath>
#include <iterator>
#include <stdexcept>

#include "haftwright/offcuts/bin_schema.hpp"

namespace haftwright {
namespace {

Bounds box_of(const std::vector<Node>& outline) {
  return Outline::trusted(outline).bounds();
}

std::string lower(std::string text) {
  std::ranges::transform(text, text.begin(), [](unsigned char c) { return std::tolower(c); });
  return text;
}

/// What a word stands for; else every material in the bin whose name has it as a part, so that a list narrows
/// while somebody types.
std::vector<std::string> materials_typed(const Bin& bin, const std::string& typed) {
  std::vector<std::string> keys = materials_of_word(bin, typed);
  if (!keys.empty()) return keys;
  const std::string part = lower(typed);
  const auto take = [&](const std::string& key) {
    const bool there = std::ranges::find(keys, key) != keys.end();
    if (!there && lower(material_name(bin, key) + " " + key).find(part) != std::string::npos)
      keys.push_back(key);
  };
  for (const Offcut& offcut : bin.offcuts) take(offcut.material);
  for (const SheetStock& sheet : bin.sheets) take(sheet.material);
  for (const RodStock& rod : bin.rods) take(rod.stock.material);
  return keys;
}

/// Sets the sizes typed as "120 x 40 x 20". Throws std::invalid_argument in plain words.
void set_sizes(Wanted& wanted, const std::string& typed, LengthUnit unit) {
  double* const sizes[] = {&wanted.least.length_mm, &wanted.least.width_mm, &wanted.least_thickness_mm};
  std::size_t at = 0;
  for (std::size_t from = 0; from <= typed.size(); ++at) {
    const std::size_t end = std::min(typed.find_first_of("xX", from), typed.size());
    if (at == std::size(sizes)) throw std::invalid_argument("more than length, width and thickness");
    *sizes[at] = parse_length_mm(typed.substr(from, end - from), unit);
    if (*sizes[at] < 0) throw std::invalid_argument("must not be less than 0");
    from = end + 1;
  }
}

template <class Stock>
std::vector<std::size_t> that_match(const std::vector<Stock>& stocks, const Wanted& wanted) {
  std::vector<std::size_t> found;
  for (std::size_t i = 0; i < stocks.size(); ++i)
    if (matches(stocks[i], wanted)) found.push_back(i);
  return found;
}

std::string count_words(int alike) {
  return alike == 1 ? "" : std::to_string(alike) + " of ";
}

std::string flat_words(const std::vector<Node>& outline, double thickness_mm, LengthUnit unit) {
  const Vec2 size = box_of(outline).size();
  return sizes_words({size.x, size.y, thickness_mm}, unit) + shape_words(outline);
}

void board(Drawing& drawing, const Bin& bin, const std::vector<Node>& outline, const std::string& key) {
  Fill body{{outline}, {}};
  if (const Material* material = bin.material(key))
    body.natural = {material->colour.red, material->colour.green, material->colour.blue};
  drawing.add(Role::material, std::move(body));
  drawing.add(Role::visible_edge, Stroke{outline, true});
}

}  // namespace

BinFound search(const Bin& bin, const BinSearch& search) {
  Wanted wanted;
  wanted.reserved_too = !search.only_free;
  BinFound found;
  try {
    if (!search.least.empty()) set_sizes(wanted, search.least, search.unit);
  } catch (const std::invalid_argument& error) {
    found.problem = "\"" + search.least + "\" is no size to look for: " + error.what() +
                    ". Type such as 120 x 40 x 20, or 5 in x 40 mm.";
    return found;
  }
  if (!search.wood.empty()) {
    wanted.materials = materials_typed(bin, search.wood);
    if (wanted.materials.empty()) {
      found.problem = "Nothing in the bin is of \"" + search.wood + "\", and no material is called so.";
      return found;
    }
  }
  found.offcuts = that_match(bin.offcuts, wanted);
  found.sheets = that_match(bin.sheets, wanted);
  found.rods = that_match(bin.rods, wanted);
  return found;
}

std::string material_to_begin_with(const Bin& bin, const Design& design) {
  for (const Piece& piece : design.left.pieces)
    if (bin.material(piece.material)) return piece.material;
  return listed_materials().front().key;
}

Offcut offcut_to_begin_with(const std::string& material) {
  Offcut offcut;
  offcut.material = material;
  offcut.outline = rectangle({150, 40});
  offcut.thickness_mm = 20;
  return offcut;
}

SheetStock sheet_to_begin_with(const std::string& material) {
  SheetStock sheet;
  sheet.material = material;
  sheet.outline = rectangle({150, 50});
  sheet.thickness_mm = 0.8;
  return sheet;
}

RodStock rod_to_begin_with(const PinStock& stock) {
  RodStock rod;
  rod.stock = stock;
  rod.length_mm = 300;
  return rod;
}

std::vector<Node> resized(const std::vector<Node>& outline, const FlatSize& size) {
  const Vec2 corner = box_of(outline).low;
  std::vector<Node> nodes = rectangle(size);
  for (Node& node : nodes) node.at += corner;
  return nodes;
}

Defect round_defect(DefectKind kind, Vec2 middle_mm, double diameter_mm) {
  const Vec2 radius{diameter_mm / 2, 0};
  return {.kind = kind, .outline = {{middle_mm - radius, 1}, {middle_mm + radius, 1}}};
}

std::string shown_name(const std::string& name, const std::string& id) {
  return name.empty() ? id : name;
}

std::string size_words(const Offcut& offcut, LengthUnit unit) {
  return count_words(offcut.alike) + flat_words(offcut.outline, offcut.thickness_mm, unit);
}
std::string size_words(const SheetStock& sheet, LengthUnit unit) {
  return count_words(sheet.alike) + flat_words(sheet.outline, sheet.thickness_mm, unit);
}
std::string size_words(const RodStock& rod, LengthUnit unit) {
  return count_words(rod.alike) + format_length(rod.length_mm, unit) + ", " +
         format_length(rod.stock.diameter_mm(), unit) + (rod.stock.bore_mm > 0 ? " tube" : " in diameter");
}

std::string reserved_words(const std::vector<Reservation>& reserved) {
  return reserved.empty() ? "" : "reserved for " + holders_words(reserved);
}

std::string defect_words(const Defect& defect, LengthUnit unit) {
  std::string kind;
  for (const auto& named : schema::kDefectNames)
    if (named.value == defect.kind) kind = named.name;
  const Bounds box = box_of(defect.outline);
  const Vec2 size = box.size();
  const Vec2 middle = (box.low + box.high) * 0.5;
  const bool round = defect.outline.size() == 2;
  return kind + ", " + format_length(size.x, unit) +
         (round ? " across" : " x " + format_length(size.y, unit)) + " at " + format_length(middle.x, unit) +
         ", " + format_length(middle.y, unit);
}

Drawing offcut_drawing(const Bin& bin, const Offcut& offcut, bool fibre) {
  Drawing drawing;
  board(drawing, bin, offcut.outline, offcut.material);
  for (std::size_t i = 0; i < offcut.defects.size(); ++i)
    drawing.add(Role::defect, Fill{{offcut.defects[i].outline}, {}}, i);
  if (!fibre) return drawing;
  const Bounds box = box_of(offcut.outline);
  const double turn = glm::radians(offcut.grain.along_deg);
  const double reach = std::min(box.size().x, box.size().y);
  const Vec2 along(std::cos(turn), std::sin(turn));
  const Vec2 across(-along.y, along.x);
  const Vec2 middle = (box.low + box.high) * 0.5;
  for (const double aside : {-0.08, 0.0, 0.08}) {
    const Vec2 on = middle + across * (aside * reach);
    const Vec2 half = along * (reach * (0.35 - std::abs(aside)));
    drawing.add(Role::contour, Stroke{{{on - half, 0}, {on + half, 0}}, false});
  }
  return drawing;
}

Drawing sheet_drawing(const Bin& bin, const SheetStock& sheet) {
  Drawing drawing;
  board(drawing, bin, sheet.outline, sheet.material);
  return drawing;
}

}  // namespace haftwright
