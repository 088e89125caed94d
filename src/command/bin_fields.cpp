// The fields of offcuts, sheets and rods as options, one row each.
#include "bin_typed.hpp"
#include "haftwright/design/validate.hpp"
#include "haftwright/offcuts/bin_schema.hpp"

namespace haftwright::command {
namespace {

/// What an option needs to become a value.
struct Given {
  const Bin& bin;
  TypedReader read;
  const std::string& text;
};

/// A row says what an option sets; where a kind of thing has no such field, there is nothing to call.
struct FieldRow {
  const char* option;
  BinOptions::Typed BinOptions::*typed;
  void (*of_offcut)(Offcut&, const Given&);
  void (*of_sheet)(SheetStock&, const Given&);
  void (*of_rod)(RodStock&, const Given&);
};

unsigned faces_of(const Given& given) {
  if (given.text == "none") return no_face;
  unsigned faces = no_face;
  for (const std::string_view face : parted(given.text, ','))
    faces |= given.read.named(std::string(face), schema::kShowFaceNames);
  return faces;
}

/// "none" takes away what was measured.
std::optional<double> moisture_of(const Given& given) {
  if (given.text == "none") return std::nullopt;
  return given.read.number(given.text);
}

std::optional<double> measured_of(const Given& given) {
  if (given.text == "none") return std::nullopt;
  return given.read.length_mm(given.text);
}

constexpr FieldRow kFields[] = {
    {"--name", &BinOptions::name, [](Offcut& o, const Given& g) { o.name = g.text; },
     [](SheetStock& s, const Given& g) { s.name = g.text; },
     [](RodStock& r, const Given& g) { r.name = g.text; }},
    {"--material", &BinOptions::material,
     [](Offcut& o, const Given& g) { o.material = material_key(g.bin, g.text); },
     [](SheetStock& s, const Given& g) { s.material = material_key(g.bin, g.text); },
     [](RodStock& r, const Given& g) { r.stock.material = material_key(g.bin, g.text); }},
    {"--outline", &BinOptions::outline, [](Offcut& o, const Given& g) { o.outline = g.read.chain(g.text); },
     [](SheetStock& s, const Given& g) { s.outline = g.read.chain(g.text); }, nullptr},
    {"--thickness", &BinOptions::thickness,
     [](Offcut& o, const Given& g) { o.thickness_mm = g.read.length_mm(g.text); },
     [](SheetStock& s, const Given& g) { s.thickness_mm = g.read.length_mm(g.text); }, nullptr},
    {"--grain", &BinOptions::grain,
     [](Offcut& o, const Given& g) { o.grain.along_deg = g.read.number(g.text); }, nullptr, nullptr},
    {"--dip", &BinOptions::dip, [](Offcut& o, const Given& g) { o.grain.dip_deg = g.read.number(g.text); },
     nullptr, nullptr},
    {"--rings", &BinOptions::rings,
     [](Offcut& o, const Given& g) { o.grain.rings_deg = g.read.number(g.text); }, nullptr, nullptr},
    {"--faces", &BinOptions::faces, [](Offcut& o, const Given& g) { o.show_faces = faces_of(g); }, nullptr,
     nullptr},
    {"--alike", &BinOptions::alike, [](Offcut& o, const Given& g) { o.alike = g.read.whole(g.text); },
     [](SheetStock& s, const Given& g) { s.alike = g.read.whole(g.text); },
     [](RodStock& r, const Given& g) { r.alike = g.read.whole(g.text); }},
    {"--set", &BinOptions::set, [](Offcut& o, const Given& g) { o.matched_set = g.text; }, nullptr, nullptr},
    {"--slice", &BinOptions::slice, [](Offcut& o, const Given& g) { o.slice = g.read.whole(g.text); },
     nullptr, nullptr},
    {"--moisture", &BinOptions::moisture,
     [](Offcut& o, const Given& g) { o.moisture_percent = moisture_of(g); }, nullptr, nullptr},
    {"--kept-at", &BinOptions::kept_at, [](Offcut& o, const Given& g) { o.kept_at = g.text; },
     [](SheetStock& s, const Given& g) { s.kept_at = g.text; },
     [](RodStock& r, const Given& g) { r.kept_at = g.text; }},
    {"--note", &BinOptions::note, [](Offcut& o, const Given& g) { o.note = g.text; },
     [](SheetStock& s, const Given& g) { s.note = g.text; },
     [](RodStock& r, const Given& g) { r.note = g.text; }},
    {"--diameter", &BinOptions::diameter, nullptr, nullptr,
     [](RodStock& r, const Given& g) { r.stock.nominal_mm = g.read.length_mm(g.text); }},
    {"--measured", &BinOptions::measured, nullptr, nullptr,
     [](RodStock& r, const Given& g) { r.stock.measured_mm = measured_of(g); }},
    {"--bore", &BinOptions::bore, nullptr, nullptr,
     [](RodStock& r, const Given& g) { r.stock.bore_mm = g.read.length_mm(g.text); }},
};

template <class Stock>
void set_rows(const BinOptions& options, const Bin& bin, Stock& stock,
              void (*FieldRow::*set)(Stock&, const Given&), const char* noun) {
  for (const FieldRow& row : kFields) {
    const BinOptions::Typed& typed = options.*row.typed;
    if (!typed) continue;
    if (!(row.*set)) throw InputError(row.option, std::string("is not about ") + noun + ": leave it out");
    (row.*set)(stock, Given{bin, TypedReader(row.option, bin.shown_unit), *typed});
  }
}

/// Both lengths of a rectangle, or the one that changes of what is one already.
void set_size(const BinOptions& options, LengthUnit unit, std::vector<Node>& outline) {
  if (!options.length && !options.width) return;
  if (options.outline) throw InputError("--outline", "give --outline, or --length and --width, not both");
  std::optional<FlatSize> size = rectangle_size(outline);
  if (!size && !(options.length && options.width))
    throw InputError(options.length ? "--width" : "--length",
                     "is missing: a rectangle has both; any other shape is given by --outline");
  if (!size) size.emplace();
  if (options.length) size->length_mm = TypedReader("--length", unit).length_mm(*options.length);
  if (options.width) size->width_mm = TypedReader("--width", unit).length_mm(*options.width);
  outline = rectangle(*size);
}

}  // namespace

void set_fields(const BinOptions& options, const Bin& bin, Offcut& offcut) {
  set_rows(options, bin, offcut, &FieldRow::of_offcut, "an offcut");
  set_size(options, bin.shown_unit, offcut.outline);
}

void set_fields(const BinOptions& options, const Bin& bin, SheetStock& sheet) {
  set_rows(options, bin, sheet, &FieldRow::of_sheet, "a sheet");
  set_size(options, bin.shown_unit, sheet.outline);
}

void set_fields(const BinOptions& options, const Bin& bin, RodStock& rod) {
  set_rows(options, bin, rod, &FieldRow::of_rod, "a rod");
  if (options.width) throw InputError("--width", "is not about a rod: leave it out");
  if (options.length) rod.length_mm = TypedReader("--length", bin.shown_unit).length_mm(*options.length);
}

bool any_field(const BinOptions& options) {
  if (options.length || options.width) return true;
  for (const FieldRow& row : kFields)
    if (options.*row.typed) return true;
  return false;
}

}  // namespace haftwright::command
