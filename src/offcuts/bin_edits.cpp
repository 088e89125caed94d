#include "haftwright/offcuts/bin_edits.hpp"

#include <algorithm>

#include "bin_parts.hpp"
#include "haftwright/design/ids.hpp"
#include "haftwright/design/quantities.hpp"
#include "haftwright/offcuts/bin_checks.hpp"

namespace haftwright {

using namespace offcuts;
namespace {

template <class Stock>
EditedBin added(const Bin& bin, std::vector<Stock> Bin::*list, Stock stock) {
  if (!stock.id.empty() && is_there(bin, stock.id))
    return EditedBin::refused(schema::quoted(stock.id) +
                              " is in the bin already; two things can't share an id");
  Bin changed = bin;
  (changed.*list).push_back(std::move(stock));
  return with_ids(std::move(changed));
}

template <class Stock>
EditedBin changed_in(const Bin& bin, std::vector<Stock> Bin::*list, std::string_view noun,
                     const std::string& id, const std::function<void(Stock&)>& edit) {
  const std::size_t at = index_of(bin.*list, id);
  if (at == (bin.*list).size())
    return EditedBin::refused(is_there(bin, id) ? schema::quoted(id) + " is no " + std::string(noun)
                                                : not_there(bin, id));
  Bin changed = bin;
  Stock& stock = (changed.*list)[at];
  edit(stock);
  stock.id = id;
  return changed;
}

/// Refused where the offcut has no defect of that index.
EditedBin with_defect(const Bin& bin, const std::string& id, std::size_t defect,
                      const std::function<void(std::vector<Defect>&)>& edit) {
  const std::size_t at = index_of(bin.offcuts, id);
  if (at < bin.offcuts.size() && defect >= bin.offcuts[at].defects.size())
    return EditedBin::refused(schema::quoted(id) + " has no defect " + std::to_string(defect + 1));
  return change_offcut(bin, id, [&](Offcut& offcut) { edit(offcut.defects); });
}

}  // namespace

bool offcuts::is_there(const Bin& bin, const std::string& id) {
  return with_stock(bin, id, [](const auto&, std::size_t) {});
}

std::string offcuts::not_there(const Bin& bin, const std::string& id) {
  return "nothing in the bin is called " + schema::quoted(id) +
         schema::did_you_mean(nearest_word(id, bin_ids(bin)));
}

std::string offcuts::reserved_words(const std::string& id, const std::vector<Reservation>& reserved,
                                    const std::string& but_for) {
  std::string projects;
  for (const std::string& project : projects_of(reserved))
    if (project != but_for) projects += (projects.empty() ? "" : ", ") + schema::quoted(project);
  return schema::quoted(id) + " is reserved for " + projects + "; release that first";
}

EditedBin add(const Bin& bin, Offcut offcut) {
  return added(bin, &Bin::offcuts, std::move(offcut));
}
EditedBin add(const Bin& bin, SheetStock sheet) {
  return added(bin, &Bin::sheets, std::move(sheet));
}
EditedBin add(const Bin& bin, RodStock rod) {
  return added(bin, &Bin::rods, std::move(rod));
}

EditedBin remove(const Bin& bin, const std::string& id) {
  Bin changed = bin;
  std::string refusal;
  const bool found = with_stock(changed, id, [&](auto& list, std::size_t at) {
    if (!list[at].reserved.empty())
      refusal = reserved_words(id, list[at].reserved);
    else
      list.erase(list.begin() + static_cast<std::ptrdiff_t>(at));
  });
  if (!found) return EditedBin::refused(not_there(bin, id));
  return refusal.empty() ? EditedBin(std::move(changed)) : EditedBin::refused(std::move(refusal));
}

EditedBin rename(const Bin& bin, const std::string& id, const std::string& name) {
  Bin changed = bin;
  if (!with_stock(changed, id, [&](auto& list, std::size_t at) { list[at].name = name; }))
    return EditedBin::refused(not_there(bin, id));
  return changed;
}

EditedBin change_offcut(const Bin& bin, const std::string& id, const std::function<void(Offcut&)>& edit) {
  return changed_in(bin, &Bin::offcuts, "offcut", id, edit);
}
EditedBin change_sheet(const Bin& bin, const std::string& id, const std::function<void(SheetStock&)>& edit) {
  return changed_in(bin, &Bin::sheets, "sheet", id, edit);
}
EditedBin change_rod(const Bin& bin, const std::string& id, const std::function<void(RodStock&)>& edit) {
  return changed_in(bin, &Bin::rods, "rod", id, edit);
}

EditedBin add_defect(const Bin& bin, const std::string& id, Defect defect) {
  return change_offcut(bin, id, [&](Offcut& offcut) { offcut.defects.push_back(std::move(defect)); });
}

EditedBin remove_defect(const Bin& bin, const std::string& id, std::size_t defect) {
  return with_defect(bin, id, defect, [&](std::vector<Defect>& defects) {
    defects.erase(defects.begin() + static_cast<std::ptrdiff_t>(defect));
  });
}

EditedBin move_defect(const Bin& bin, const std::string& id, std::size_t defect, Vec2 by_mm) {
  return with_defect(bin, id, defect, [&](std::vector<Defect>& defects) {
    for (Node& node : defects[defect].outline) node.at += by_mm;
  });
}

EditedBin reserve(const Bin& bin, const std::string& id, const Reservation& reservation) {
  Bin changed = bin;
  std::string refusal;
  const bool found = with_stock(changed, id, [&](auto& list, std::size_t at) {
    auto& stock = list[at];
    std::set<std::string> others = projects_of(stock.reserved);
    others.erase(reservation.project);
    if (is_offcut(stock) && others.size() >= static_cast<std::size_t>(stock.alike))
      refusal = reserved_words(id, stock.reserved, reservation.project);
    else if (std::ranges::find(stock.reserved, reservation) == stock.reserved.end())
      stock.reserved.push_back(reservation);
  });
  if (!found) return EditedBin::refused(not_there(bin, id));
  return refusal.empty() ? EditedBin(std::move(changed)) : EditedBin::refused(std::move(refusal));
}

EditedBin reserve_only(const Bin& bin, const std::string& project, const std::vector<Claim>& claims) {
  Bin changed = bin;
  each_stock(changed, [&](auto& stock) { release_in(stock.reserved, project); });
  for (const Claim& claim : claims) {
    EditedBin reserved = reserve(changed, claim.id, {project, claim.piece});
    if (!reserved) return reserved;
    changed = *reserved;
  }
  return changed;
}

EditedBin release(const Bin& bin, const std::string& project) {
  if (reserved_by(bin, project) == 0) {
    std::vector<std::string> known;
    each_stock(bin, [&](const auto& stock) {
      for (const Reservation& reservation : stock.reserved) known.push_back(reservation.project);
    });
    return EditedBin::refused("nothing is reserved for " + schema::quoted(project) +
                              schema::did_you_mean(nearest_word(project, known)));
  }
  Bin changed = bin;
  each_stock(changed, [&](auto& stock) { release_in(stock.reserved, project); });
  return changed;
}

std::size_t reserved_by(const Bin& bin, const std::string& project) {
  std::size_t count = 0;
  each_stock(bin,
             [&](const auto& stock) { count += projects_of(stock.reserved).contains(project) ? 1u : 0u; });
  return count;
}

}  // namespace haftwright
