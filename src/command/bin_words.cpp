#include "bin_words.hpp"

#include <nlohmann/json.hpp>

#include "haftwright/design/ids.hpp"
#include "haftwright/files/bin_file.hpp"
#include "haftwright/offcuts/bin_schema.hpp"
#include "haftwright/offcuts/bin_words.hpp"
#include "haftwright/words/words.hpp"
#include "text_shapes.hpp"

namespace haftwright::command {
namespace {

using Json = nlohmann::ordered_json;

constexpr std::size_t kIdWidth = 26;
constexpr std::size_t kMaterialWidth = 28;
constexpr const char* kIndent = "      ";

template <class Names, class Value>
std::string word(const Names& names, Value value) {
  for (const auto& named : names)
    if (named.value == value) return std::string(named.name);
  return {};
}

/// "127.0 x 40.0 x 22.0 mm (5.00 x 1.57 x 0.87 in)", the shown unit first.
std::string sizes_in_both(const std::vector<double>& sizes_mm, LengthUnit shown) {
  const bool metric = shown == LengthUnit::millimetre;
  return sizes_words(sizes_mm, shown) + " (" +
         sizes_words(sizes_mm, metric ? LengthUnit::inch : LengthUnit::millimetre) + ")";
}

std::string count_words(int alike) {
  return alike == 1 ? "" : std::to_string(alike) + " alike, each ";
}

std::string size_line(const Bin& bin, const Offcut& offcut) {
  const Vec2 size = Outline::trusted(offcut.outline).bounds().size();
  return count_words(offcut.alike) + sizes_in_both({size.x, size.y, offcut.thickness_mm}, bin.shown_unit) +
         shape_words(offcut.outline);
}

std::string size_line(const Bin& bin, const SheetStock& sheet) {
  const Vec2 size = Outline::trusted(sheet.outline).bounds().size();
  return count_words(sheet.alike) + sizes_in_both({size.x, size.y}, bin.shown_unit) + ", " +
         length_in_both(sheet.thickness_mm, bin.shown_unit) + " thick" + shape_words(sheet.outline);
}

std::string size_line(const Bin& bin, const RodStock& rod) {
  return count_words(rod.alike) + sizes_in_both({rod.length_mm}, bin.shown_unit) + ", " +
         length_in_both(rod.stock.diameter_mm(), bin.shown_unit) +
         (rod.stock.bore_mm > 0 ? " outside, a tube" : " in diameter");
}

const std::string& material_of(const Offcut& offcut) {
  return offcut.material;
}
const std::string& material_of(const SheetStock& sheet) {
  return sheet.material;
}
const std::string& material_of(const RodStock& rod) {
  return rod.stock.material;
}

template <class Stock>
std::string line(const Bin& bin, const Stock& stock) {
  return padded(stock.id, kIdWidth) + padded(material_name(bin, material_of(stock)) + "  ", kMaterialWidth) +
         size_line(bin, stock);
}

std::string slice_words(const Offcut& offcut) {
  return "slice " + std::to_string(offcut.slice) + " of \"" + offcut.matched_set + "\"";
}

/// The name, where it says more than the id.
template <class Stock>
std::string more_name(const Stock& stock) {
  return stock.name == stock.id ? std::string() : stock.name;
}

template <class Stock>
std::string in_use(const Stock& stock) {
  return stock.reserved.empty() ? std::string() : "reserved for " + holders_words(stock.reserved);
}

/// Parts that are not empty, with semicolons between.
std::string joined(const std::vector<std::string>& parts) {
  std::string text;
  for (const std::string& part : parts)
    if (!part.empty()) text += (text.empty() ? "" : "; ") + part;
  return text;
}

std::string more_of(const Offcut& offcut) {
  const std::size_t defects = offcut.defects.size();
  return joined({more_name(offcut), offcut.matched_set.empty() ? "" : slice_words(offcut),
                 defects == 0   ? ""
                 : defects == 1 ? "1 defect"
                                : std::to_string(defects) + " defects",
                 offcut.kept_at, in_use(offcut)});
}
template <class Stock>
std::string more_of(const Stock& stock) {
  return joined({more_name(stock), stock.kept_at, in_use(stock)});
}

template <class Stock>
std::string list_of(const Bin& bin, const char* title, const std::vector<Stock>& stocks) {
  if (stocks.empty()) return {};
  std::string out = std::string(title) + "\n";
  for (const Stock& stock : stocks) {
    out += "  " + line(bin, stock) + "\n";
    if (const std::string more = more_of(stock); !more.empty()) out += wrapped(more, kIndent);
  }
  return out;
}

std::string row(const std::string& what, const std::string& words) {
  return words.empty() ? "" : "  " + padded(what, 14) + words + "\n";
}

std::string defects_text(const Bin& bin, const Offcut& offcut) {
  std::string out;
  for (std::size_t i = 0; i < offcut.defects.size(); ++i) {
    const Defect& defect = offcut.defects[i];
    const Bounds bounds = Outline(defect.outline).bounds();
    const Vec2 middle = (bounds.low + bounds.high) / 2.0;
    out += row("defect " + std::to_string(i + 1),
               joined({word(schema::kDefectNames, defect.kind) + ", " +
                           sizes_in_both({bounds.size().x, bounds.size().y}, bin.shown_unit) + " about x " +
                           length_in_both(middle.x, bin.shown_unit) + ", y " +
                           length_in_both(middle.y, bin.shown_unit),
                       defect.note}));
  }
  return out;
}

std::string photos_text(const Offcut& offcut) {
  std::string out;
  for (std::size_t i = 0; i < offcut.photos.size(); ++i) {
    const OffcutPhoto& photo = offcut.photos[i];
    out += row("photo " + std::to_string(i + 1),
               photo.file + ", " + word(schema::kFaceNames, photo.face) + " face, " +
                   (photo.marks.empty() ? "not marked yet" : std::to_string(photo.marks.size()) + " marks"));
  }
  return out;
}

std::string faces_words(unsigned faces) {
  if (faces == no_face) return "none";
  return faces == (upper_face | lower_face) ? "both" : faces == upper_face ? "upper" : "lower";
}

std::string details(const Bin& bin, const Offcut& offcut) {
  const FlatSize extent = extent_along_grain(offcut);
  const auto degrees = [](double deg) { return shortest_number(deg) + " deg"; };
  return row("grain", degrees(offcut.grain.along_deg) + " from x toward y, dips " +
                          degrees(offcut.grain.dip_deg) + ", rings " + degrees(offcut.grain.rings_deg)) +
         row("",
             sizes_in_both({extent.length_mm, extent.width_mm}, bin.shown_unit) + " along and across it") +
         row("may be seen", faces_words(offcut.show_faces)) +
         row("matched set", offcut.matched_set.empty() ? "" : slice_words(offcut)) +
         row("moisture", offcut.moisture_percent ? shortest_number(*offcut.moisture_percent) + " %" : "") +
         defects_text(bin, offcut) + photos_text(offcut);
}
std::string details(const Bin&, const SheetStock&) {
  return {};
}
std::string details(const Bin& bin, const RodStock& rod) {
  return row("bore", rod.stock.bore_mm > 0 ? length_in_both(rod.stock.bore_mm, bin.shown_unit) : "") +
         row("as bought", length_in_both(rod.stock.nominal_mm, bin.shown_unit));
}

template <class Stock>
std::string shown(const Bin& bin, const Stock& stock) {
  return stock.id + (more_name(stock).empty() ? "" : ": " + stock.name) + "\n" +
         row("material", material_name(bin, material_of(stock))) + row("size", size_line(bin, stock)) +
         details(bin, stock) + row("kept at", stock.kept_at) +
         row("reserved", stock.reserved.empty() ? "" : "for " + holders_words(stock.reserved)) +
         (stock.note.empty() ? "" : "  note\n" + wrapped(stock.note, kIndent));
}

/// Calls `use` with the list and the place of that id; false where nothing has it.
template <class Use>
bool with(const Bin& bin, const std::string& id, Use&& use) {
  const auto in = [&](const auto& list) {
    const std::size_t at = index_of(list, id);
    if (at < list.size()) use(list[at]);
    return at < list.size();
  };
  return in(bin.offcuts) || in(bin.sheets) || in(bin.rods);
}

}  // namespace

std::string list_text(const Bin& bin) {
  return list_of(bin, "Offcuts", bin.offcuts) + list_of(bin, "Sheets", bin.sheets) +
         list_of(bin, "Rods", bin.rods);
}

std::string show_text(const Bin& bin, const std::string& id) {
  std::string text;
  with(bin, id, [&](const auto& stock) { text = shown(bin, stock); });
  return text;
}

std::string line_of(const Bin& bin, const std::string& id) {
  std::string text;
  with(bin, id, [&](const auto& stock) {
    text = stock.id + ", " + material_name(bin, material_of(stock)) + ", " + size_line(bin, stock);
  });
  return text;
}

Json stocks_json(const Bin& bin) {
  const Json file = Json::parse(bin_text(bin));
  Json json{{"offcuts", file.at("offcuts")}, {"sheets", file.at("sheets")}, {"rods", file.at("rods")}};
  for (std::size_t i = 0; i < bin.offcuts.size(); ++i) {
    const FlatSize extent = extent_along_grain(bin.offcuts[i]);
    json["offcuts"][i]["area_mm2"] = Outline(bin.offcuts[i].outline).area_mm2();
    json["offcuts"][i]["along_grain_mm"] = extent.length_mm;
    json["offcuts"][i]["across_grain_mm"] = extent.width_mm;
  }
  return json;
}

Json stock_json(const Bin& bin, const std::string& id) {
  const Json all = stocks_json(bin);
  for (const auto& [key, what] : {std::pair("offcuts", "offcut"), {"sheets", "sheet"}, {"rods", "rod"}})
    for (const Json& stock : all.at(key))
      if (stock.at("id") == id) {
        Json json{{"what", what}};
        json.update(stock);
        return json;
      }
  return nullptr;
}

}  // namespace haftwright::command
