// The shop beside the projects: shown, begun, held against a project, taken over in either direction.
#include <algorithm>
#include <functional>
#include <nlohmann/json.hpp>

#include "haftwright/design/holes.hpp"
#include "haftwright/design/validate.hpp"
#include "haftwright/edits/shop_values.hpp"
#include "haftwright/files/project_file.hpp"
#include "haftwright/files/shop_file.hpp"
#include "reports.hpp"
#include "shop_place.hpp"
#include "terminal.hpp"
#include "text_shapes.hpp"
#include "verbs.hpp"

namespace haftwright::command {
namespace {

using Json = nlohmann::ordered_json;

constexpr std::size_t kFieldWidth = 38;

/// What the verb holds against the shop, and where they differ in what was asked for.
struct Compared {
  Design design;
  std::vector<ShopDifference> values;
  std::vector<MeasuredHole> holes;
  bool alike() const { return values.empty() && holes.empty(); }
};

/// Holes are no fields of both: they count only where everything was asked for.
Compared compared(const ShopOptions& options, const Shop& shop) {
  Compared found{read_project(options.project), {}, {}};
  const Design asked_for = with_shop_values(found.design, shop, options.only);
  const std::vector<ShopDifference> left = differences(asked_for, shop);
  found.values = differences(found.design, shop);
  std::erase_if(found.values, [&](const ShopDifference& difference) {
    return std::ranges::find(left, difference.field, &ShopDifference::field) != left.end();
  });
  if (options.only.empty()) found.holes = measured_holes(found.design, shop);
  return found;
}

std::string counted(std::size_t count, const std::string& one, const std::string& many) {
  return std::to_string(count) + " " + (count == 1 ? one : many);
}

// --- As text ------------------------------------------------------------------------------------------

std::string shop_line(const ShopPlace& place) {
  return "Shop file: " + place.path.string() + "\n" +
         (place.there ? ""
                      : "There is none there, so the built-in defaults are in force; 'haftwright shop init' "
                        "writes them into it.\n");
}

std::string drill_text(const OwnedDrill& owned) {
  const auto listed = find_drill(owned.drill);
  std::string text = "  " + padded(listed ? drill_words(*listed) : owned.drill, 22);
  if (!owned.diameter_mm) return text + "not measured\n";
  text += "makes a hole of " + shortest_number(*owned.diameter_mm) + " mm";
  const Material* material = find_material(owned.measured_in);
  return text + (material ? " in " + material->name : std::string()) + "\n";
}

std::string shop_words(const Shop& shop) {
  const std::vector<ShopValue> usual = shop_values(Shop{});
  const std::vector<ShopValue> values = shop_values(shop);
  std::string out;
  for (std::size_t i = 0; i < values.size(); ++i) {
    const auto words = [&](const FieldValue& value) {
      return value_words(value, values[i].unit, LengthUnit::millimetre);
    };
    const bool own = values[i].value != usual[i].value;
    out += "  " + padded(values[i].field, kFieldWidth) + words(values[i].value) +
           (own ? "   (default " + words(usual[i].value) + ")" : "") + "\n";
  }
  out += shop.drills.empty() ? "\nNo drills are named.\n" : "\nDrills:\n";
  for (const OwnedDrill& owned : shop.drills) out += drill_text(owned);
  return out;
}

std::string differences_text(const Compared& found) {
  const LengthUnit unit = found.design.shown_unit;
  std::string out;
  for (const ShopDifference& value : found.values)
    out += "  " + padded(value.field, kFieldWidth) + "project " +
           value_words(value.project, value.unit, unit) + ", shop " +
           value_words(value.shop, value.unit, unit) + "\n" + wrapped(std::string(value.what), "      ");
  for (const MeasuredHole& hole : found.holes)
    out += "  " + padded(hole.field, kFieldWidth) + "project left out, measured in the shop " +
           value_words(hole.diameter_mm, "mm", unit) + "\n";
  return out;
}

std::string summary(const Compared& found) {
  std::string text =
      counted(found.values.size(), "value differs from the shop's", "values differ from the shop's");
  if (!found.holes.empty())
    text += "; " + counted(found.holes.size(), "hole is drilled with a drill that the shop has measured",
                           "holes are drilled with drills that the shop has measured");
  return text + ".\n";
}

// --- As JSON ------------------------------------------------------------------------------------------

Json value_json(const FieldValue& value) {
  if (const auto* number = std::get_if<double>(&value)) return *number;
  if (const auto* flag = std::get_if<bool>(&value)) return *flag;
  if (const auto* word = std::get_if<std::string>(&value)) return *word;
  return nullptr;
}

Json head(const ShopPlace& place) {
  return {{"program", "haftwright"},
          {"version", HAFTWRIGHT_VERSION},
          {"shop_file", place.path.string()},
          {"shop_file_there", place.there}};
}

Json shop_json(const ShopPlace& place) {
  const std::vector<ShopValue> usual = shop_values(Shop{});
  const std::vector<ShopValue> values = shop_values(place.shop);
  Json json = head(place);
  json["values"] = Json::array();
  for (std::size_t i = 0; i < values.size(); ++i)
    json["values"].push_back({{"field", values[i].field},
                              {"value", value_json(values[i].value)},
                              {"default", value_json(usual[i].value)},
                              {"unit", values[i].unit},
                              {"what", values[i].what}});
  json["drills"] = Json::array();
  for (const OwnedDrill& owned : place.shop.drills)
    json["drills"].push_back({{"drill", owned.drill},
                              {"diameter_mm", owned.diameter_mm ? Json(*owned.diameter_mm) : Json()},
                              {"measured_in", owned.measured_in.empty() ? Json() : Json(owned.measured_in)}});
  return json;
}

Json compared_json(const ShopOptions& options, const ShopPlace& place, const Compared& found) {
  Json json = head(place);
  json["project"] = options.project.string();
  json["name"] = found.design.name;
  json["differences"] = Json::array();
  for (const ShopDifference& value : found.values)
    json["differences"].push_back({{"field", value.field},
                                   {"project", value_json(value.project)},
                                   {"shop", value_json(value.shop)},
                                   {"unit", value.unit},
                                   {"what", value.what}});
  json["measured_holes"] = Json::array();
  for (const MeasuredHole& hole : found.holes)
    json["measured_holes"].push_back({{"field", hole.field}, {"diameter_mm", hole.diameter_mm}});
  return json;
}

// --- What can be done ---------------------------------------------------------------------------------

int show(const ShopOptions& options, const ShopPlace& place) {
  if (options.json)
    print_json(shop_json(place));
  else
    print(shop_line(place) + "\n" + shop_words(place.shop));
  return good;
}

int init(const ShopOptions&, const ShopPlace& place) {
  if (place.there) throw OutputError(place.path.string() + " is there already, and stays as it is");
  write_shop(Shop{}, place.path, OldFile::refuse);
  print("Written: " + place.path.string() + "\n");
  return good;
}

int compare(const ShopOptions& options, const ShopPlace& place) {
  const Compared found = compared(options, place.shop);
  if (options.json)
    print_json(compared_json(options, place, found));
  else
    print(shop_line(place) + "\n" + summary(found) + differences_text(found));
  return found.alike() ? good : check_fails;
}

/// Calls `write`, which returns the file, where there is something to do, and tells what it took over.
int take_over(const ShopOptions& options, const ShopPlace& place, const Compared& found, bool nothing_to_do,
              const std::function<std::filesystem::path()>& write) {
  const std::filesystem::path written = nothing_to_do ? std::filesystem::path() : write();
  if (options.json) {
    Json json = compared_json(options, place, found);
    json["file"] = nothing_to_do ? Json() : Json(written.string());
    print_json(json);
  } else {
    print(shop_line(place) + "\n" + summary(found) + differences_text(found) +
          (nothing_to_do ? "Nothing was to be taken over.\n" : "Written: " + written.string() + "\n"));
  }
  return good;
}

int apply(const ShopOptions& options, const ShopPlace& place) {
  const Compared found = compared(options, place.shop);
  return take_over(options, place, found, found.alike(), [&] {
    const Design design = options.only.empty() ? with_shop(found.design, place.shop)
                                               : with_shop_values(found.design, place.shop, options.only);
    write_project(design, options.project);
    return options.project;
  });
}

int learn(const ShopOptions& options, const ShopPlace& place) {
  Compared found = compared(options, place.shop);
  found.holes.clear();  // a project that does not know its holes teaches the shop nothing of them
  const bool known = place.there && found.values.empty();
  return take_over(options, place, found, known, [&] {
    write_shop(shop_with_project_values(place.shop, found.design, options.only), place.path);
    return place.path;
  });
}

struct Action {
  const char* name;
  bool of_project;
  Missing missing;  ///< where a shop file was named that is not there
  int (*act)(const ShopOptions&, const ShopPlace&);
};
constexpr Action kShow{"", false, Missing::refused, show};
constexpr Action kActions[] = {{"init", false, Missing::fine, init},
                               {"compare", true, Missing::refused, compare},
                               {"apply", true, Missing::refused, apply},
                               {"learn", true, Missing::fine, learn}};

/// What makes no sense on the command line.
void require_sense(const ShopOptions& options, const Action& action) {
  const std::string verb = "'haftwright shop" + (*action.name ? " " + std::string(action.name) : "") + "'";
  if (action.of_project == options.project.empty())
    throw InputError("PROJECT", action.of_project ? verb + " needs one: name a project file"
                                                  : verb + " is about no project: leave it out");
  if (!action.of_project && !options.only.empty())
    throw InputError("--only", verb + " takes nothing over: leave it out");
  for (const std::string& field : options.only)
    if (std::string problem = shop_field_problem(field); !problem.empty())
      throw InputError("--only", std::move(problem));
}

}  // namespace

std::vector<std::string> shop_actions() {
  std::vector<std::string> names;
  for (const Action& action : kActions) names.emplace_back(action.name);
  return names;
}

int shop(const ShopOptions& options) {
  const auto found = std::ranges::find(kActions, options.action, &Action::name);
  const Action& action = found == std::end(kActions) ? kShow : *found;
  const int sensible = guarded("shop", [&] {
    require_sense(options, action);
    return good;
  });
  if (sensible != good) return sensible;
  return with_shop_place(options.shop, action.missing, [&](const ShopPlace& place) {
    return guarded(action.of_project ? options.project : place.path,
                   [&] { return action.act(options, place); });
  });
}

}  // namespace haftwright::command
