// What a project file may name: materials and drills.
#include <nlohmann/json.hpp>

#include "haftwright/design/schema.hpp"
#include "haftwright/reference/drills.hpp"
#include "terminal.hpp"
#include "text_shapes.hpp"
#include "verbs.hpp"

namespace haftwright::command {
namespace {

using Json = nlohmann::ordered_json;

constexpr std::string_view kAllMaterials = "materials";
constexpr std::string_view kDrills = "drills";

std::string plural(std::string_view kind) {
  return std::string(kind) + 's';
}

std::string_view kind_name(MaterialKind kind) {
  for (const auto& named : schema::kKindNames)
    if (named.value == kind) return named.name;
  return {};
}

std::string_view series_name(DrillSeries series) {
  switch (series) {
    case DrillSeries::fraction:
      return "fraction";
    case DrillSeries::number:
      return "number";
    case DrillSeries::letter:
      return "letter";
    case DrillSeries::metric:
      return "metric";
    case DrillSeries::reamer:
      return "reamer";
  }
  return {};
}

Json drills_json() {
  Json list = Json::array();
  for (const ListedDrill& drill : listed_drills())
    list.push_back({{"label", drill.label},
                    {"series", series_name(drill.series)},
                    {"diameter_mm", drill.diameter_mm},
                    {"source", drill.source}});
  return list;
}

std::string drills_text() {
  std::string out;
  for (const ListedDrill& drill : listed_drills())
    out += padded(std::string(drill.label), 20) + padded(std::string(series_name(drill.series)), 10) +
           right_aligned(format_number(drill.diameter_mm, 3), 8) + " mm" +
           right_aligned(format_number(drill.diameter_mm / kMmPerInch, 4), 9) + " in\n";
  return out;
}

std::vector<Material> materials_of(const std::string& what) {
  std::vector<Material> found;
  for (const Material& material : listed_materials())
    if (what == kAllMaterials || what == plural(kind_name(material.kind))) found.push_back(material);
  return found;
}

Json materials_json(const std::vector<Material>& materials) {
  Json list = Json::array();
  for (const Material& material : materials) {
    Json hazards = Json::array();
    for (const auto& hazard : schema::kHazardNames)
      if (material.hazards & hazard.value) hazards.push_back(hazard.name);
    list.push_back({{"key", material.key},
                    {"name", material.name},
                    {"kind", kind_name(material.kind)},
                    {"density_kg_m3", material.density_kg_m3},
                    {"density_source", material.density_source},
                    {"hazards", std::move(hazards)}});
  }
  return list;
}

std::string materials_text(const std::vector<Material>& materials) {
  std::string out;
  for (const Material& material : materials)
    out += padded(material.key, 24) + padded(material.name, 40) +
           padded(std::string(kind_name(material.kind)), 10) +
           right_aligned(format_number(material.density_kg_m3, 0), 6) + " kg/m3\n";
  return out;
}

}  // namespace

std::vector<std::string> listed_kinds() {
  std::vector<std::string> kinds{std::string(kAllMaterials)};
  for (const auto& kind : schema::kKindNames) kinds.push_back(plural(kind.name));
  kinds.emplace_back(kDrills);
  return kinds;
}

int list(const ListOptions& options) {
  const bool drills = options.what == kDrills;
  if (options.json)
    print((drills ? drills_json() : materials_json(materials_of(options.what))).dump(2) + "\n");
  else
    print(drills ? drills_text() : materials_text(materials_of(options.what)));
  return good;
}

}  // namespace haftwright::command
