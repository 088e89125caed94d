#include "haftwright/offcuts/bin_checks.hpp"

#include <algorithm>
#include <cmath>
#include <map>
#include <set>

#include "bin_parts.hpp"
#include "haftwright/design/range_visitor.hpp"
#include "haftwright/geometry/outline_ops.hpp"
#include "haftwright/offcuts/bin_schema.hpp"

namespace haftwright {

using namespace offcuts;
using schema::indexed;
namespace {

using Problems = std::vector<Problem>;

std::string mm(double length) {
  return shortest_number(length) + " mm";
}

void validate_materials(const Bin& bin, Problems& problems) {
  std::set<std::string_view> seen;
  for (std::size_t i = 0; i < bin.own_materials.size(); ++i)
    if (!seen.insert(bin.own_materials[i].key).second)
      problems.push_back({indexed("materials", i, "key"),
                          "a second material called " + schema::quoted(bin.own_materials[i].key)});
}

/// Where each id was met first.
using IdPlaces = std::map<std::string_view, std::string>;

template <class Stock>
void validate_ids(const std::vector<Stock>& stocks, const char* list, IdPlaces& places, Problems& problems) {
  for (std::size_t i = 0; i < stocks.size(); ++i) {
    if (stocks[i].id.empty()) continue;
    const auto [place, is_new] = places.emplace(stocks[i].id, indexed(list, i));
    if (!is_new)
      problems.push_back({indexed(list, i, "id"), "is " + schema::quoted(stocks[i].id) + ", as that of " +
                                                      place->second + "; no two things in a bin share one"});
  }
}

/// The widest circle that goes in is at least that wide. Of any outline it is at least twice the area over
/// the perimeter, which is all that has to be asked of most.
bool wider_than(const Outline& outline, double width_mm) {
  if (2 * outline.area_mm2() / outline.perimeter_mm() >= width_mm) return true;
  return !offset(outline, -width_mm / 2).empty();
}

/// The chain as an outline wide enough to be sawn, or a problem.
std::optional<Outline> good_outline(const std::vector<Node>& chain, const std::string& field,
                                    Problems& problems) {
  if (const auto fault = find_fault(chain)) {
    problems.push_back({indexed(field, fault->node), fault->what});
    return std::nullopt;
  }
  Outline outline(chain);
  if (wider_than(outline, kLeastOffcutMm)) return outline;
  problems.push_back({field, "is nowhere as wide as " + mm(kLeastOffcutMm) +
                                 ": a saw cut takes 1 to 3 mm, so that nothing could be cut from it"});
  return std::nullopt;
}

void validate_defects(const Offcut& offcut, const Outline& outline, const std::string& field,
                      Problems& problems) {
  for (std::size_t i = 0; i < offcut.defects.size(); ++i) {
    const std::string defect = field + indexed(".defects", i);
    const std::vector<Node>& chain = offcut.defects[i].outline;
    if (const auto fault = find_fault(chain))
      problems.push_back({indexed(defect + ".outline", fault->node), fault->what});
    else if (!reaches_into(Outline(chain), outline))
      problems.push_back(
          {defect, "lies beside the offcut; its places are measured in the offcut's own x and y"});
  }
}

void validate_photos(const Offcut& offcut, const std::string& field, Problems& problems) {
  for (std::size_t i = 0; i < offcut.photos.size(); ++i) {
    const OffcutPhoto& photo = offcut.photos[i];
    const std::string here = field + indexed(".photos", i);
    if (std::string problem = photo_name_problem(photo.file); !problem.empty())
      problems.push_back({here + ".file", std::move(problem)});
    const std::vector<PhotoMark>& marks = photo.marks;
    if (!marks.empty() && marks.size() < kLeastPhotoMarks)
      problems.push_back({here + ".marks", "must have none or at least " + std::to_string(kLeastPhotoMarks) +
                                               " entries, but has " + std::to_string(marks.size())});
    for (std::size_t k = 0; k < marks.size(); ++k)
      for (std::size_t j = 0; j < k; ++j)
        if (marks[j].at_px == marks[k].at_px || marks[j].at_mm == marks[k].at_mm)
          problems.push_back({here + indexed(".marks", k), "lies where mark " + std::to_string(j) +
                                                               " does, in the picture or on the offcut"});
  }
}

void validate_reservations(const std::vector<Reservation>& reserved, const std::string& field,
                           Problems& problems) {
  for (std::size_t i = 0; i < reserved.size(); ++i)
    if (std::find(reserved.begin(), reserved.begin() + static_cast<std::ptrdiff_t>(i), reserved[i]) !=
        reserved.begin() + static_cast<std::ptrdiff_t>(i))
      problems.push_back({field + indexed(".reserved", i), "is the same as one before it"});
}

void validate_slice(const Offcut& offcut, const std::string& field, Problems& problems) {
  if (offcut.matched_set.empty()) {
    if (offcut.slice != 0)
      problems.push_back({field + ".slice", "must be left out where there is no matched_set"});
    return;
  }
  if (offcut.slice == 0)
    problems.push_back({field + ".slice",
                        "is missing: a slice of a matched_set has its number, from 1, in the "
                        "order in which the slices lay in the block"});
  if (offcut.alike != 1)
    problems.push_back({field + ".alike",
                        "must be 1 in a matched_set, where every slice is an offcut of its "
                        "own"});
}

void validate_offcut(const Offcut& offcut, const std::string& field, Problems& problems) {
  if (const auto outline = good_outline(offcut.outline, field + ".outline", problems))
    validate_defects(offcut, *outline, field, problems);
  validate_slice(offcut, field, problems);
  validate_photos(offcut, field, problems);
  validate_reservations(offcut.reserved, field, problems);
  const std::size_t projects = projects_of(offcut.reserved).size();
  if (projects > static_cast<std::size_t>(offcut.alike))
    problems.push_back(
        {field + ".reserved",
         "names " + std::to_string(projects) + " projects, but there " +
             (offcut.alike == 1 ? "is 1 offcut" : "are " + std::to_string(offcut.alike) + " offcuts") +
             " of it; 'haftwright bin release PROJECT' lets one go"});
}

/// Slices of one block: of one material, as thick as each other, each in a place of its own.
void validate_sets(const std::vector<Offcut>& offcuts, Problems& problems) {
  std::map<std::string_view, std::map<int, std::size_t>> sets;
  for (std::size_t i = 0; i < offcuts.size(); ++i) {
    const Offcut& slice = offcuts[i];
    if (slice.matched_set.empty() || slice.slice == 0) continue;
    auto& set = sets[slice.matched_set];
    const auto [same, is_new] = set.emplace(slice.slice, i);
    if (!is_new) {
      problems.push_back(
          {indexed("offcuts", i, "slice"), "is " + std::to_string(slice.slice) + ", as that of offcuts[" +
                                               std::to_string(same->second) + "] in the same matched_set"});
      continue;
    }
    std::size_t first = i;
    for (const auto& entry : set) first = std::min(first, entry.second);
    const Offcut& other = offcuts[first];
    const std::string it = "offcuts[" + std::to_string(first) + "] of the same matched_set";
    if (slice.material != other.material)
      problems.push_back(
          {indexed("offcuts", i, "material"), "must be that of " + it + ", " + other.material});
    if (std::abs(slice.thickness_mm - other.thickness_mm) > kSliceThicknessMm)
      problems.push_back({indexed("offcuts", i, "thickness_mm"),
                          "must be within " + mm(kSliceThicknessMm) + " of that of " + it + ", " +
                              mm(other.thickness_mm) + ", but is " + mm(slice.thickness_mm)});
  }
}

void validate_rod(const RodStock& rod, const std::string& field, Problems& problems) {
  if (rod.stock.bore_mm >= rod.stock.diameter_mm())
    problems.push_back(
        {field + ".stock.bore_mm", "must be less than the diameter, " + mm(rod.stock.diameter_mm())});
  if (rod.length_mm < kLeastOffcutMm)
    problems.push_back(
        {field + ".length_mm", "must be at least " + mm(kLeastOffcutMm) + ", but is " + mm(rod.length_mm)});
  validate_reservations(rod.reserved, field, problems);
}

}  // namespace

std::string photo_name_problem(std::string_view file) {
  if (file.empty()) return "must not be empty";
  if (file.find_first_of("/\\") != std::string_view::npos)
    return "must be a file's name alone, without a folder: pictures lie in the folder beside the bin";
  if (file.front() == '.') return "must not begin with a dot";
  if (file.size() > 200) return "is too long for a file's name: at most 200 bytes";
  return schema::text_problem(file, schema::Lines::one);
}

std::vector<Problem> validate(const Bin& bin) {
  Problems problems;
  schema::RangeVisitor ranges(bin.own_materials, problems);
  visit_fields(ranges, bin);
  // What follows computes with the numbers, so they must make sense first.
  if (!problems.empty()) return problems;
  validate_materials(bin, problems);
  IdPlaces places;
  validate_ids(bin.offcuts, "offcuts", places, problems);
  validate_ids(bin.sheets, "sheets", places, problems);
  validate_ids(bin.rods, "rods", places, problems);
  for (std::size_t i = 0; i < bin.offcuts.size(); ++i)
    validate_offcut(bin.offcuts[i], indexed("offcuts", i), problems);
  validate_sets(bin.offcuts, problems);
  for (std::size_t i = 0; i < bin.sheets.size(); ++i) {
    good_outline(bin.sheets[i].outline, indexed("sheets", i, "outline"), problems);
    validate_reservations(bin.sheets[i].reserved, indexed("sheets", i), problems);
  }
  for (std::size_t i = 0; i < bin.rods.size(); ++i) validate_rod(bin.rods[i], indexed("rods", i), problems);
  return problems;
}

}  // namespace haftwright
