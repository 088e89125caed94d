// The verb bin: which bin is meant, and what only looks at it.
#include "bin.hpp"

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
#include "haftwright/offcuts/find.hpp"
#include "haftwright/photos/squared.hpp"
#include "reports.hpp"
#include "terminal.hpp"
#include "verbs.hpp"

namespace haftwright::command {
namespace {

using Json = nlohmann::ordered_json;

Json head(const BinPlace& place) {
  return {{"program", "haftwright"},
          {"version", HAFTWRIGHT_VERSION},
          {"bin_file", place.path.string()},
          {"bin_file_there", place.there}};
}

std::string bin_line(const BinPlace& place) {
  return "Bin: " + place.path.string() + "\n" +
         (place.there ? "" : "There is none there yet; 'haftwright bin add' creates it.\n");
}

Wanted wanted(const BinOptions& options, const Bin& bin) {
  Wanted found;
  found.reserved_too = options.all;
  if (options.material) {
    found.materials = materials_of_word(bin, *options.material);
    if (found.materials.empty()) {
      const auto near = materials_nearly_meant(*options.material);
      throw InputError("--material", "no material is called " + schema::quoted(*options.material) +
                                         schema::did_you_mean(near.empty() ? "" : near.front()->key));
    }
  }
  if (options.least) {
    const auto sizes = TypedReader("--least", bin.shown_unit).lengths_mm(*options.least, 1, 3);
    found.least.length_mm = sizes[0];
    if (sizes.size() > 1) found.least.width_mm = sizes[1];
    if (sizes.size() > 2) found.least_thickness_mm = sizes[2];
  }
  return found;
}

/// A photo whose picture is there and can't be squared up by its marks.
struct UselessPhoto {
  std::string offcut;
  std::string file;
  std::string why;
};
std::vector<UselessPhoto> useless_photos(const Bin& bin, const BinPlace& place) {
  std::vector<UselessPhoto> found;
  for (const Offcut& offcut : bin.offcuts)
    for (const OffcutPhoto& photo : offcut.photos) {
      const std::filesystem::path picture = picture_folder(place.path) / photo.file;
      std::error_code ignored;
      if (!std::filesystem::exists(picture, ignored)) continue;
      try {
        const PictureFacts facts = picture_facts(picture);
        if (!photo.marks.empty()) squaring_of(photo, facts);
      } catch (const PictureError& error) {
        found.push_back({offcut.id, photo.file, error.what()});
      }
    }
  return found;
}

struct Action {
  const char* name;
  bool needs_bin;
  int (*act)(const BinOptions&, const BinPlace&);
};
constexpr Action kActions[] = {{"list", false, bin_list},       {"show", true, bin_show},
                               {"add", false, bin_add},         {"add-sheet", false, bin_add_sheet},
                               {"add-rod", false, bin_add_rod}, {"change", true, bin_change},
                               {"defect", true, bin_defect},    {"photo", true, bin_photo},
                               {"remove", true, bin_remove},    {"cut", true, bin_cut},
                               {"reserve", true, bin_reserve},  {"release", true, bin_release},
                               {"check", true, bin_check},      {"units", false, bin_units},
                               {"frame", false, bin_frame},     {"trace", false, bin_trace}};

}  // namespace

void require_there(const Bin& bin, const std::string& id) {
  if (!line_of(bin, id).empty()) return;
  throw InputError("", "nothing in the bin is called " + schema::quoted(id) +
                           schema::did_you_mean(nearest_word(id, bin_ids(bin))));
}

const std::string& only_name(const BinOptions& options) {
  return options.names.front();
}

int bin_list(const BinOptions& options, const BinPlace& place) {
  const Bin bin = read_bin(place.path);
  const Bin found = found_in(bin, wanted(options, bin));
  if (options.json) {
    Json json = head(place);
    json.update(stocks_json(found));
    print_json(json);
    return good;
  }
  const std::string list = list_text(found);
  const auto busy = std::ranges::count_if(bin.offcuts, [](const Offcut& offcut) { return !is_free(offcut); });
  std::string end;
  if (list.empty() && bin_ids(bin).empty() && place.there)
    end = "It is empty.\n";
  else if (list.empty() && place.there)
    end = "Nothing in it matches.\n";
  if (busy > 0 && !options.all)
    end += std::to_string(busy) + (busy == 1 ? " offcut is" : " offcuts are") +
           " reserved and left out; --all shows all.\n";
  print(bin_line(place) + (list.empty() ? "" : "\n" + list) + (end.empty() ? "" : "\n" + end));
  return good;
}

int bin_show(const BinOptions& options, const BinPlace& place) {
  const Bin bin = read_bin(place.path);
  Json shown = Json::array();
  std::string text;
  for (const std::string& id : options.names) {
    require_there(bin, id);
    text += (text.empty() ? "" : "\n") + show_text(bin, id);
    shown.push_back(stock_json(bin, id));
  }
  if (options.json) {
    Json json = head(place);
    json["shown"] = std::move(shown);
    print_json(json);
  } else {
    print(text);
  }
  return good;
}

int bin_check(const BinOptions& options, const BinPlace& place) {
  const Bin bin = read_bin(place.path);
  const std::vector<MissingPhoto> missing = missing_photos(bin, place.path);
  const std::vector<UselessPhoto> useless = useless_photos(bin, place);
  if (options.json) {
    Json json = head(place);
    json["offcuts"] = bin.offcuts.size();
    json["sheets"] = bin.sheets.size();
    json["rods"] = bin.rods.size();
    json["picture_folder"] = picture_folder(place.path).string();
    json["missing_photos"] = Json::array();
    for (const MissingPhoto& photo : missing)
      json["missing_photos"].push_back({{"offcut", photo.offcut}, {"file", photo.file}});
    json["useless_photos"] = Json::array();
    for (const UselessPhoto& photo : useless)
      json["useless_photos"].push_back({{"offcut", photo.offcut}, {"file", photo.file}, {"why", photo.why}});
    print_json(json);
  } else {
    std::string text = bin_line(place);
    for (const MissingPhoto& photo : missing)
      text += "  " + photo.offcut + ": no picture " + photo.file + " in " +
              picture_folder(place.path).string() + "\n";
    for (const UselessPhoto& photo : useless)
      text += "  " + photo.offcut + ": " + photo.file + " can't be squared up: " + photo.why + "\n";
    const auto counted = [](std::size_t count, const char* noun) {
      return std::to_string(count) + " " + noun + (count == 1 ? "" : "s");
    };
    print(text + counted(bin.offcuts.size(), "offcut") + ", " + counted(bin.sheets.size(), "sheet") + ", " +
          counted(bin.rods.size(), "rod") + ", " +
          (missing.empty() ? "no picture missing" : counted(missing.size(), "picture") + " missing") +
          (useless.empty() ? "" : ", " + counted(useless.size(), "picture") + " of no use") + ".\n");
  }
  return missing.empty() && useless.empty() ? good : check_fails;
}

int bin(const BinOptions& options) {
  BinPlace place;
  place.path = options.bin.empty() ? bin_file() : options.bin;
  return guarded(place.path, [&] {
    const auto action = std::ranges::find(kActions, options.action, &Action::name);
    if (action == std::end(kActions))
      throw InputError("", "there is no action " + schema::quoted(options.action));
    std::error_code ignored;
    place.there = std::filesystem::exists(place.path, ignored);
    if (!place.there && (action->needs_bin || (!options.bin.empty() && action->act == bin_list)))
      throw InputError("", "is not there; 'haftwright bin add' creates it");
    return action->act(options, place);
  });
}

}  // namespace haftwright::command
