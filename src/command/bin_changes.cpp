// What changes the bin. Each prints one line about what it did, or as JSON what is there now.
#include <algorithm>
#include <nlohmann/json.hpp>

#include "bin_actions.hpp"
#include "bin_typed.hpp"
#include "bin_words.hpp"
#include "haftwright/design/ids.hpp"
#include "haftwright/design/quantities.hpp"
#include "haftwright/design/validate.hpp"
#include "haftwright/files/bin_file.hpp"
#include "haftwright/offcuts/bin_checks.hpp"
#include "haftwright/offcuts/bin_edits.hpp"
#include "haftwright/offcuts/bin_schema.hpp"
#include "reports.hpp"
#include "terminal.hpp"
#include "verbs.hpp"

namespace haftwright::command {
namespace {

using Json = nlohmann::ordered_json;

template <class Stock>
int added(const BinOptions& options, const BinPlace& place, std::vector<Stock> Bin::*list, Stock stock) {
  std::string id;
  const Bin bin = change_bin(place.path, [&](const Bin& before) {
    stock.id = options.id.value_or("");
    set_fields(options, before, stock);
    Bin after = made(add(before, stock));
    id = (after.*list).back().id;
    return after;
  });
  return report(options, place, bin, "Added: " + line_of(bin, id), {id});
}

void require_shape(const BinOptions& options) {
  if (options.outline || options.length || options.width) return;
  throw InputError("--length", "is missing: give --length and --width, or --outline");
}

Bin with_new_defect(const BinOptions& options, const Bin& bin) {
  if (options.circle.has_value() == options.polygon.has_value())
    throw InputError("--circle", "give --circle or --polygon, to say where it is; or --remove, or --move");
  Defect defect;
  const LengthUnit unit = bin.shown_unit;
  if (options.kind) defect.kind = TypedReader("--kind", unit).named(*options.kind, schema::kDefectNames);
  defect.outline = options.circle ? TypedReader("--circle", unit).circle(*options.circle)
                                  : TypedReader("--polygon", unit).chain(*options.polygon);
  defect.note = options.note.value_or("");
  return made(add_defect(bin, only_name(options), std::move(defect)));
}

/// "2:5,0": defect 2 goes by 5 along x.
Bin with_moved_defect(const BinOptions& options, const Bin& bin) {
  const TypedReader read("--move", bin.shown_unit);
  const auto parts = parted(*options.move, ':');
  if (parts.size() != 2 || read.whole(parts[0]) < 1)
    read.refuse("must be \"NUMBER:X,Y\", which defect and how far it moves, but is " +
                schema::quoted(*options.move));
  return made(move_defect(bin, only_name(options), static_cast<std::size_t>(read.whole(parts[0]) - 1),
                          read.point_mm(parts[1])));
}

/// By what is used of a rod, by what is left of anything else.
EditedBin cut_up(const BinOptions& options, const Bin& bin) {
  const std::string& id = only_name(options);
  const std::string project = options.project.value_or("");
  if (index_of(bin.rods, id) < bin.rods.size()) {
    require(options.used, "--used", "how much of the rod is used up, saw cuts included?");
    if (!options.left.empty()) throw InputError("--left", "is not about a rod: leave it out");
    return cut_rod(bin, id, project, TypedReader("--used", bin.shown_unit).length_mm(*options.used));
  }
  if (options.used) throw InputError("--used", "is about rods; say with --left what is left");
  std::vector<std::vector<Node>> chains;
  for (const std::string& left : options.left)
    chains.push_back(TypedReader("--left", bin.shown_unit).chain(left));
  if (index_of(bin.sheets, id) < bin.sheets.size()) return cut_sheet(bin, id, project, chains);
  std::vector<Leftover> leftovers;
  leftovers.reserve(chains.size());
  for (const std::vector<Node>& chain : chains)
    leftovers.push_back({chain, bin.offcuts[index_of(bin.offcuts, id)].thickness_mm});
  return cut(bin, id, project, leftovers);
}

}  // namespace

Bin made(EditedBin edited) {
  if (!edited) throw InputError("", edited.refusal());
  return *edited;
}

int report(const BinOptions& options, const BinPlace& place, const Bin& bin, const std::string& words,
           const std::vector<std::string>& ids, const Json& more) {
  if (!options.json) {
    print(words + "\n");
    return good;
  }
  Json json{{"program", "haftwright"}, {"version", HAFTWRIGHT_VERSION}, {"bin_file", place.path.string()}};
  json["done"] = words;
  json.update(more);
  json["now"] = Json::object();
  for (const std::string& id : ids) json["now"][id] = stock_json(bin, id);
  print_json(json);
  return good;
}

void require(const BinOptions::Typed& typed, const char* option, const char* what) {
  if (!typed) throw InputError(option, std::string("is missing: ") + what);
}

std::size_t index_typed(const BinOptions::Typed& typed, const char* option, LengthUnit unit) {
  const TypedReader read(option, unit);
  const int number = read.whole(*typed);
  if (number < 1) read.refuse("must be 1 or more, but is " + std::to_string(number));
  return static_cast<std::size_t>(number - 1);
}

int bin_add(const BinOptions& options, const BinPlace& place) {
  require(options.material, "--material", "what is it of?");
  require(options.thickness, "--thickness", "how thick is it?");
  require_shape(options);
  return added(options, place, &Bin::offcuts, Offcut{});
}

int bin_add_sheet(const BinOptions& options, const BinPlace& place) {
  require(options.material, "--material", "what is it of?");
  require(options.thickness, "--thickness", "how thick is it?");
  require_shape(options);
  return added(options, place, &Bin::sheets, SheetStock{});
}

int bin_add_rod(const BinOptions& options, const BinPlace& place) {
  require(options.diameter, "--diameter", "how thick is it, as bought?");
  require(options.length, "--length", "how long is it?");
  return added(options, place, &Bin::rods, RodStock{});
}

int bin_change(const BinOptions& options, const BinPlace& place) {
  const std::string& id = only_name(options);
  if (!any_field(options)) throw InputError("", "name what is to be changed, such as --thickness 18");
  const Bin bin = change_bin(place.path, [&](const Bin& before) {
    require_there(before, id);
    if (index_of(before.offcuts, id) < before.offcuts.size())
      return made(change_offcut(before, id, [&](Offcut& offcut) { set_fields(options, before, offcut); }));
    if (index_of(before.sheets, id) < before.sheets.size())
      return made(change_sheet(before, id, [&](SheetStock& sheet) { set_fields(options, before, sheet); }));
    return made(change_rod(before, id, [&](RodStock& rod) { set_fields(options, before, rod); }));
  });
  return report(options, place, bin, "Changed: " + line_of(bin, id), {id});
}

int bin_defect(const BinOptions& options, const BinPlace& place) {
  const std::string& id = only_name(options);
  const Bin bin = change_bin(place.path, [&](const Bin& before) {
    require_there(before, id);
    if (options.remove)
      return made(remove_defect(before, id, index_typed(options.remove, "--remove", before.shown_unit)));
    return options.move ? with_moved_defect(options, before) : with_new_defect(options, before);
  });
  const std::size_t count = bin.offcuts[index_of(bin.offcuts, id)].defects.size();
  return report(options, place, bin,
                "Changed: " + id + " has " + std::to_string(count) + (count == 1 ? " defect" : " defects"),
                {id});
}

int bin_units(const BinOptions& options, const BinPlace& place) {
  const LengthUnit unit =
      TypedReader("UNITS", LengthUnit::millimetre).named(only_name(options), schema::kUnitNames);
  const Bin bin = change_bin(place.path, [&](Bin changed) {
    changed.shown_unit = unit;
    return changed;
  });
  return report(options, place, bin, "Changed: lengths are shown in " + only_name(options), {});
}

int bin_remove(const BinOptions& options, const BinPlace& place) {
  std::string words;
  const Bin bin = change_bin(place.path, [&](Bin left) {
    for (const std::string& id : options.names) {
      words += (words.empty() ? "Removed: " : "; ") + line_of(left, id);
      left = made(remove(left, id));
    }
    return left;
  });
  return report(options, place, bin, words, options.names);
}

int bin_cut(const BinOptions& options, const BinPlace& place) {
  const std::string& id = only_name(options);
  std::vector<std::string> ids_before;
  const Bin bin = change_bin(place.path, [&](const Bin& before) {
    require_there(before, id);
    ids_before = bin_ids(before);
    return made(cut_up(options, before));
  });
  std::string words = "Cut: " + id;
  std::vector<std::string> ids{id};
  if (const std::string kept = line_of(bin, id); !kept.empty()) words += "; still there: " + kept;
  for (const std::string& rest : bin_ids(bin)) {
    if (std::ranges::find(ids_before, rest) != ids_before.end()) continue;
    words += "; left: " + line_of(bin, rest);
    ids.push_back(rest);
  }
  return report(options, place, bin, words, ids);
}

int bin_reserve(const BinOptions& options, const BinPlace& place) {
  const std::string& id = only_name(options);
  require(options.project, "--project", "which project means to take from it?");
  const Bin bin = change_bin(place.path, [&](const Bin& before) {
    return made(reserve(before, id, {*options.project, options.piece.value_or("")}));
  });
  return report(options, place, bin, "Reserved: " + id + " for " + *options.project, {id});
}

int bin_release(const BinOptions& options, const BinPlace& place) {
  const std::string& project = only_name(options);
  std::size_t count = 0;
  const Bin bin = change_bin(place.path, [&](const Bin& before) {
    count = reserved_by(before, project);
    return made(release(before, project));
  });
  return report(options, place, bin,
                "Released: " + std::to_string(count) + (count == 1 ? " thing" : " things") + " that " +
                    project + " had reserved",
                {});
}

}  // namespace haftwright::command
