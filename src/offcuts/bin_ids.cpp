#include <algorithm>

#include "bin_parts.hpp"
#include "haftwright/design/ids.hpp"
#include "haftwright/geometry/outline_ops.hpp"
#include "haftwright/offcuts/bin_checks.hpp"

namespace haftwright {

using namespace offcuts;
namespace {

template <class Stock>
void add_ids(const std::vector<Stock>& stocks, std::vector<std::string>& ids) {
  for (const Stock& stock : stocks)
    if (!stock.id.empty()) ids.push_back(stock.id);
}

template <class Stock>
void fill(std::vector<Stock>& stocks, std::string_view noun, std::vector<std::string>& taken) {
  for (std::size_t i = 0; i < stocks.size(); ++i) {
    if (!stocks[i].id.empty()) continue;
    // Where the name leaves none, its own place in the list counts, not that among those without an id.
    std::string wanted = id_from(stocks[i].name);
    if (wanted.empty()) wanted = std::string(noun) + "_" + std::to_string(i + 1);
    stocks[i].id = ids_from_names({wanted}, noun, taken).front();
    taken.push_back(stocks[i].id);
  }
}

}  // namespace

std::vector<std::string> bin_ids(const Bin& bin) {
  std::vector<std::string> ids;
  add_ids(bin.offcuts, ids);
  add_ids(bin.sheets, ids);
  add_ids(bin.rods, ids);
  return ids;
}

std::set<std::string> offcuts::projects_of(const std::vector<Reservation>& reserved) {
  std::set<std::string> projects;
  for (const Reservation& reservation : reserved) projects.insert(reservation.project);
  return projects;
}

bool offcuts::reaches_into(const Outline& defect, const Outline& outline) {
  const Bounds& p = defect.bounds();
  const Bounds& q = outline.bounds();
  if (p.high.x < q.low.x || q.high.x < p.low.x || p.high.y < q.low.y || q.high.y < p.low.y) return false;
  return boundary_distance_mm(defect, outline) <= 0 || contains(outline, defect) || contains(defect, outline);
}

Bin with_ids(Bin bin) {
  std::vector<std::string> taken = bin_ids(bin);
  fill(bin.offcuts, "offcut", taken);
  fill(bin.sheets, "sheet", taken);
  fill(bin.rods, "rod", taken);
  return bin;
}

}  // namespace haftwright
