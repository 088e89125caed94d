// Cutting: what is used up goes, what is left comes back.
#include <algorithm>
#include <cmath>
#include <optional>
#include <span>

#include "bin_parts.hpp"
#include "haftwright/design/ids.hpp"
#include "haftwright/design/limits.hpp"
#include "haftwright/design/quantities.hpp"
#include "haftwright/geometry/outline_ops.hpp"
#include "haftwright/offcuts/bin_checks.hpp"
#include "haftwright/offcuts/bin_edits.hpp"
#include "haftwright/offcuts/bin_schema.hpp"

namespace haftwright {

using namespace offcuts;
namespace {

constexpr unsigned kBothFaces = upper_face | lower_face;
constexpr std::string_view kRest = "_rest";
/// How far a leftover may stand out over its offcut: plans are made on a grid of micrometres.
constexpr double kRoundingMm = 0.01;
/// An outline that is this little beyond a line lies behind it all the same.
constexpr double kOnLineMm = 1e-6;

/// "walnut" of "walnut_rest" and "walnut_rest_3": what is left of a leftover is numbered on.
std::string first_id(const std::string& id) {
  const std::size_t at = id.rfind(kRest);
  if (at == std::string::npos || at == 0) return id;
  const std::string end = id.substr(at + kRest.size());
  const bool numbered = end.size() > 1 && end[0] == '_' &&
                        std::all_of(end.begin() + 1, end.end(), [](char c) { return c >= '0' && c <= '9'; });
  return end.empty() || numbered ? id.substr(0, at) : id;
}

/// The first free of "walnut_rest", "walnut_rest_2" ...; it is taken from then on.
std::string rest_id(const std::string& id, std::vector<std::string>& taken) {
  const std::string first = first_id(id);
  for (std::size_t number = 1;; ++number) {
    const std::string end = std::string(kRest) + (number > 1 ? "_" + std::to_string(number) : "");
    std::string rest = first.substr(0, limits::kIdBytes - end.size()) + end;
    if (std::ranges::find(taken, rest) != taken.end()) continue;
    taken.push_back(rest);
    return rest;
  }
}

std::string rest_name(const std::string& name) {
  constexpr std::string_view kEnd = " (rest)";
  if (name.empty() || name.ends_with(kEnd) || name.size() + kEnd.size() > limits::kTextBytes) return name;
  return name + std::string(kEnd);
}

/// Its chain from the lowest of its leftmost corners on, counter-clockwise, so that a rectangle is seen to be
/// one; and where the lower left of its bounds, which becomes the origin, was.
struct Settled {
  std::vector<Node> chain;
  Vec2 origin{0, 0};
};
Settled settled(const Outline& outline) {
  Settled made{outline.nodes(), outline.bounds().low};
  for (Node& node : made.chain) node.at -= made.origin;
  const auto first = std::min_element(made.chain.begin(), made.chain.end(), [](const Node& a, const Node& b) {
    return a.at.x != b.at.x ? a.at.x < b.at.x : a.at.y < b.at.y;
  });
  std::rotate(made.chain.begin(), first, made.chain.end());
  return made;
}

/// The parts of a defect on this side of the straight edges that all of the outline lies behind; of an
/// outline that is convex and straight, just those inside it.
std::vector<Outline> trimmed(const Outline& defect, const Outline& outline) {
  std::vector<Outline> parts{defect};
  for (const Edge& edge : outline.edges()) {
    if (edge.is_arc()) continue;
    const Vec2 out = -turned_left(edge.direction(0));
    const double limit = glm::dot(out, edge.from);
    if (reach_mm(outline, out) <= limit + kOnLineMm) parts = clip(parts, HalfPlane{out, limit});
  }
  return parts;
}

std::vector<Defect> defects_in(const std::vector<Defect>& defects, const Outline& outline, Vec2 origin) {
  std::vector<Defect> found;
  const auto keep = [&](const Defect& defect, const std::vector<Node>& chain) {
    found.push_back({defect.kind, chain, defect.note});
    for (Node& node : found.back().outline) node.at -= origin;
  };
  for (const Defect& defect : defects) {
    const Outline whole(defect.outline);
    if (!reaches_into(whole, outline)) continue;
    std::vector<Outline> parts = trimmed(whole, outline);
    // Parts so thin that no file could hold them are no reason to lose the defect: it may stick out.
    const bool sound = std::ranges::all_of(parts, [](const Outline& part) {
      return !find_fault(part.nodes()) && part.nodes().size() <= limits::kCutoutNodes;
    });
    if (!sound || parts.size() + found.size() > limits::kDefects) parts = {whole};
    for (const Outline& part : parts)
      if (reaches_into(part, outline)) keep(defect, part.nodes());
  }
  return found;
}

std::vector<OffcutPhoto> photos_of(const Offcut& offcut, unsigned faces, Vec2 origin) {
  std::vector<OffcutPhoto> photos;
  for (OffcutPhoto photo : offcut.photos) {
    const unsigned face = photo.face == Face::upper ? upper_face : lower_face;
    if ((faces & face) == 0) continue;
    for (PhotoMark& mark : photo.marks) mark.at_mm -= origin;
    photos.push_back(std::move(photo));
  }
  return photos;
}

std::string rest_note(const Offcut& offcut) {
  if (offcut.matched_set.empty()) return offcut.note;
  const std::string of = "From slice " + std::to_string(offcut.slice) + " of " + offcut.matched_set + ".";
  if (offcut.note.size() + of.size() + 1 > limits::kTextBytes) return offcut.note;
  return offcut.note.empty() ? of : offcut.note + "\n" + of;
}

Offcut rest_of(const Offcut& offcut, const Leftover& leftover, std::string id) {
  const Outline outline(leftover.outline);
  Settled place = settled(outline);
  Offcut rest = offcut;
  rest.id = std::move(id);
  rest.name = rest_name(offcut.name);
  rest.outline = std::move(place.chain);
  rest.thickness_mm = leftover.thickness_mm;
  rest.show_faces = (offcut.show_faces & leftover.faces) | (kBothFaces & ~leftover.faces);
  rest.defects = defects_in(offcut.defects, outline, place.origin);
  rest.alike = 1;
  rest.matched_set.clear();
  rest.slice = 0;
  rest.photos = photos_of(offcut, leftover.faces, place.origin);
  rest.note = rest_note(offcut);
  rest.reserved.clear();
  return rest;
}

/// What keeps these from being left of it; empty when nothing does.
std::string leftover_problem(std::span<const std::vector<Node>> leftovers, const std::vector<Node>& whole) {
  const Outline offcut(whole);
  for (std::size_t i = 0; i < leftovers.size(); ++i) {
    const std::string which = "leftover " + std::to_string(i + 1) + " ";
    if (const auto fault = find_fault(leftovers[i]))
      return which + "is no outline: at node " + std::to_string(fault->node) + " " + fault->what;
    const Outline outline(leftovers[i]);
    if (contains(offcut, outline)) continue;
    const auto grown = offset(offcut, kRoundingMm);
    if (grown.size() != 1 || !contains(grown.front().outer, outline))
      return which + "lies partly outside of what it is left of";
  }
  return {};
}

std::string leftover_problem(const std::vector<Leftover>& leftovers, const Offcut& offcut) {
  std::vector<std::vector<Node>> chains;
  chains.reserve(leftovers.size());
  for (const Leftover& leftover : leftovers) chains.push_back(leftover.outline);
  if (std::string problem = leftover_problem(chains, offcut.outline); !problem.empty()) return problem;
  double volume = 0;
  for (std::size_t i = 0; i < leftovers.size(); ++i) {
    if (!(leftovers[i].thickness_mm > 0) || leftovers[i].thickness_mm > offcut.thickness_mm)
      return "leftover " + std::to_string(i + 1) +
             " must be as thick as its offcut or thinner: more than 0 and at most " +
             shortest_number(offcut.thickness_mm) + " mm";
    volume += Outline(leftovers[i].outline).area_mm2() * leftovers[i].thickness_mm;
  }
  const Outline whole(offcut.outline);
  const double most = (whole.area_mm2() + whole.perimeter_mm() * kRoundingMm) * offcut.thickness_mm;
  return volume > most ? "the leftovers are more than the offcut itself; no two may overlap" : std::string();
}

/// The projects beside this one for which there would be none left; empty when there are enough.
std::string too_few_for(const std::string& id, const std::vector<Reservation>& reserved, int left,
                        const std::string& project) {
  std::set<std::string> others = projects_of(reserved);
  others.erase(project);
  return others.size() > static_cast<std::size_t>(left) ? reserved_words(id, reserved, project)
                                                        : std::string();
}

/// One less of it, or none. The project needs it no longer.
template <class Stock>
void take_one(std::vector<Stock>& list, std::size_t at, const std::string& project) {
  release_in(list[at].reserved, project);
  if (--list[at].alike == 0) list.erase(list.begin() + static_cast<std::ptrdiff_t>(at));
}

}  // namespace

EditedBin cut(const Bin& bin, const std::string& id, const std::string& project,
              const std::vector<Leftover>& leftovers) {
  const std::size_t at = index_of(bin.offcuts, id);
  if (at == bin.offcuts.size()) return EditedBin::refused(not_there(bin, id));
  const Offcut offcut = bin.offcuts[at];
  if (std::string others = too_few_for(id, offcut.reserved, offcut.alike - 1, project); !others.empty())
    return EditedBin::refused(std::move(others));
  if (std::string problem = leftover_problem(leftovers, offcut); !problem.empty())
    return EditedBin::refused(std::move(problem));
  Bin changed = bin;
  std::vector<std::string> taken = bin_ids(bin);
  take_one(changed.offcuts, at, project);
  for (const Leftover& leftover : leftovers)
    changed.offcuts.push_back(rest_of(offcut, leftover, rest_id(id, taken)));
  return changed;
}

EditedBin cut_sheet(const Bin& bin, const std::string& id, const std::string& project,
                    const std::vector<std::vector<Node>>& leftovers) {
  const std::size_t at = index_of(bin.sheets, id);
  if (at == bin.sheets.size()) return EditedBin::refused(not_there(bin, id));
  const SheetStock sheet = bin.sheets[at];
  const bool some_left = sheet.alike > 1 || !leftovers.empty();
  if (std::string others = too_few_for(id, sheet.reserved, 0, project); !some_left && !others.empty())
    return EditedBin::refused(std::move(others));
  if (std::string problem = leftover_problem(leftovers, sheet.outline); !problem.empty())
    return EditedBin::refused(std::move(problem));
  std::vector<std::vector<Node>> chains;
  chains.reserve(leftovers.size());
  for (const std::vector<Node>& leftover : leftovers) chains.push_back(settled(Outline(leftover)).chain);
  std::ranges::stable_sort(chains, std::greater(),
                           [](const auto& chain) { return Outline(chain).area_mm2(); });
  Bin changed = bin;
  std::vector<std::string> taken = bin_ids(bin);
  std::size_t next = 0;
  if (sheet.alike == 1 && !chains.empty()) {
    changed.sheets[at].outline = chains[next++];
    release_in(changed.sheets[at].reserved, project);
  } else {
    take_one(changed.sheets, at, project);
  }
  for (; next < chains.size(); ++next) {
    SheetStock rest = sheet;
    rest.id = rest_id(id, taken);
    rest.name = rest_name(sheet.name);
    rest.outline = chains[next];
    rest.alike = 1;
    rest.reserved.clear();
    changed.sheets.push_back(std::move(rest));
  }
  return changed;
}

EditedBin cut_rod(const Bin& bin, const std::string& id, const std::string& project, double used_mm) {
  const std::size_t at = index_of(bin.rods, id);
  if (at == bin.rods.size()) return EditedBin::refused(not_there(bin, id));
  RodStock rod = bin.rods[at];
  if (!(used_mm > 0) || used_mm > rod.length_mm)
    return EditedBin::refused(
        schema::quoted(id) + " is " + shortest_number(rod.length_mm) +
        " mm long; what is cut from it must be more than 0 and no more than that, but is " +
        shortest_number(used_mm) + " mm");
  const double uncut_mm = rod.length_mm - used_mm;
  const double left_mm = uncut_mm < kLeastOffcutMm ? 0 : uncut_mm;
  const bool some_left = rod.alike > 1 || left_mm > 0;
  if (std::string others = too_few_for(id, rod.reserved, 0, project); !some_left && !others.empty())
    return EditedBin::refused(std::move(others));
  Bin changed = bin;
  if (rod.alike == 1 && left_mm > 0) {
    changed.rods[at].length_mm = left_mm;
    release_in(changed.rods[at].reserved, project);
    return changed;
  }
  std::vector<std::string> taken = bin_ids(bin);
  take_one(changed.rods, at, project);
  if (!(left_mm > 0)) return changed;
  rod.id = rest_id(id, taken);
  rod.name = rest_name(rod.name);
  rod.length_mm = left_mm;
  rod.alike = 1;
  rod.reserved.clear();
  changed.rods.push_back(std::move(rod));
  return changed;
}

}  // namespace haftwright
