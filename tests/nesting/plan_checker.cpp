#include <algorithm>
#include <cmath>
#include <map>
#include <set>

#include "nesting/checker.hpp"

namespace haftwright::test {

using namespace nesting;

namespace {

/// Trim and margin are met within this where rims are slanted (problem.hpp).
constexpr std::int64_t kRounding_um = 2;
/// What rounding of a cut's ends makes of areas, mm2 for each mm of its length.
constexpr double kSliver_mm = 0.01;

const Part& part_of(const Problem& problem, const Placed& placed) {
  return problem.demands.at(placed.demand).ways.at(placed.way).parts.at(placed.part);
}

GridPath laid_part(const Problem& problem, const Placed& placed) {
  return laid(part_of(problem, placed).shape, placed.at_mm, placed.angle_deg);
}

bool on_grid(double mm) {
  return std::abs(mm * 1000 - std::round(mm * 1000)) < 1e-6;
}

bool allowed(const Part& part, const Placed& placed) {
  for (const Candidate& candidate : part.candidates)
    for (const Angles& angles : candidate.angles)
      if (candidate.stock == placed.stock &&
          std::abs(std::remainder(placed.angle_deg - angles.middle_deg, 360.0)) <= angles.play_deg + 1e-9)
        return true;
  return false;
}

std::string wrong_with_one(const Problem& problem, const Placed& placed) {
  const Stock& stock = problem.stocks.at(placed.stock);
  const GridPath shape = laid_part(problem, placed);
  const auto strip = [](double mm) {
    return std::max<std::int64_t>(0, std::llround(mm * 1000) - kRounding_um);
  };
  if (!allowed(part_of(problem, placed), placed)) return "stock or angle not allowed";
  if (!on_grid(placed.at_mm.x) || !on_grid(placed.at_mm.y)) return "place off the grid";
  if (!lies_within(shape, grid_path(stock.outline), strip(stock.trim_mm))) return "outside the stock";
  for (const Polygon& keep_out : stock.keep_outs)
    if (!lies_clear(shape, grid_path(keep_out), strip(problem.rules.defect_margin_mm)))
      return "touches a keep-out";
  return "";
}

std::string wrong_with_demands(const Problem& problem, const Plan& plan) {
  std::map<std::size_t, std::vector<Placed>> by_demand;
  for (const Placed& placed : plan.placed) by_demand[placed.demand].push_back(placed);
  for (const Fixed& f : problem.fixed)
    by_demand[f.demand].push_back({f.demand, f.way, f.part, f.stock, f.at_mm, f.angle_deg});
  std::set<std::size_t> unplaced(plan.unplaced_demands.begin(), plan.unplaced_demands.end());
  std::set<std::size_t> used;
  for (std::size_t d = 0; d < problem.demands.size(); ++d) {
    std::vector<Placed> parts = by_demand[d];
    for (const Placed& placed : parts) used.insert(placed.stock);
    if (unplaced.contains(d)) {
      for (const Placed& placed : plan.placed)
        if (placed.demand == d) return "an unplaced demand has a part";
      continue;
    }
    if (parts.empty()) return "a demand is neither placed nor unplaced";
    const Way& way = problem.demands[d].ways.at(parts[0].way);
    std::set<std::size_t> seen;
    for (const Placed& placed : parts) {
      if (placed.way != parts[0].way) return "two ways mixed";
      if (way.on_one_stock && placed.stock != parts[0].stock) return "not on one stock";
      seen.insert(placed.part);
    }
    if (seen.size() != way.parts.size() || parts.size() != way.parts.size()) return "parts missing or twice";
  }
  for (const std::size_t a : used)
    for (const std::size_t b : problem.stocks[a].excludes)
      if (used.contains(b) && a != b) return "stocks that exclude each other";
  return "";
}

struct Piece {
  std::vector<Vec2> outline;
  std::set<std::size_t> shapes;
};

std::vector<Vec2> in_mm(const GridPath& path) {
  std::vector<Vec2> result;
  for (const GridPoint p : path)
    result.push_back({static_cast<double>(p.x) / 1000, static_cast<double>(p.y) / 1000});
  return result;
}

/// The shape lies on the near side of the cut's edge (negative: beyond the kerf), or its kerf touches it.
enum class Side { near, beyond, touched };
Side side_of(const GridPath& shape, const Cut& cut, double kerf_mm) {
  const Vec2 e = glm::normalize(cut.edge_to_mm - cut.edge_from_mm);
  double low = 1e300, high = -1e300;
  for (const Vec2 p : in_mm(shape)) {
    const double s = cross(e, p - cut.edge_from_mm);
    low = std::min(low, s);
    high = std::max(high, s);
  }
  constexpr double rounding_mm = 1e-6;
  if (low >= -rounding_mm) return Side::near;
  return high <= -kerf_mm + rounding_mm ? Side::beyond : Side::touched;
}

std::string wrong_with_cut(const Cut& cut, const std::vector<GridPath>& shapes, std::vector<Piece>& pieces,
                           const StockCuts& cuts, double kerf_mm) {
  if (cut.piece >= pieces.size()) return "cuts a piece that is not there";
  const Piece piece = pieces[cut.piece];
  if (piece.outline.empty()) return "cuts a piece that was cut before";
  const Vec2 e = glm::normalize(cut.edge_to_mm - cut.edge_from_mm);
  const Vec2 out = -kerf_mm * turned_left(e);
  const std::vector<Vec2> near = left_of(piece.outline, cut.edge_from_mm, cut.edge_to_mm);
  const std::vector<Vec2> beyond = left_of(piece.outline, cut.edge_to_mm + out, cut.edge_from_mm + out);
  double made_area = 0;
  std::set<std::size_t> carried;
  const double sliver = kSliver_mm * (1 + glm::distance(cut.from_mm, cut.to_mm));
  for (const std::size_t number : cut.made) {
    if (number != pieces.size()) return "pieces not numbered in order";
    Piece made{cuts.pieces.at(number), {}};
    made_area += area_mm2(made.outline);
    const GridPath border = grid_path(made.outline);
    for (const std::size_t s : piece.shapes) {
      GridPoint middle{};
      for (const GridPoint p : shapes[s]) middle = {middle.x + p.x, middle.y + p.y};
      const auto n = static_cast<std::int64_t>(shapes[s].size());
      if (!holds_point(border, {middle.x / n, middle.y / n})) continue;
      made.shapes.insert(s);
      carried.insert(s);
    }
    pieces.push_back(made);
  }
  if (std::abs(made_area - area_mm2(near) - area_mm2(beyond)) > sliver * 4) return "pieces do not add up";
  if (carried != piece.shapes) return "a shape went missing";
  for (const std::size_t s : piece.shapes)
    if (side_of(shapes[s], cut, kerf_mm) == Side::touched) return "the saw touches a shape";
  // The middle of the kerf, as far as the piece reaches.
  const double aside = cross(e, cut.from_mm - cut.edge_from_mm);
  if (std::abs(aside + kerf_mm / 2) > 0.002 && std::abs(aside) > 0.002) return "cut not beside its edge";
  pieces[cut.piece] = {};
  return "";
}

std::string wrong_with_cuts(const Problem& problem, const StockCuts& cuts) {
  std::vector<GridPath> shapes;
  for (const Placed& placed : cuts.shapes) shapes.push_back(laid_part(problem, placed));
  std::vector<Piece> pieces{{problem.stocks[cuts.stock].outline, {}}};
  for (std::size_t s = 0; s < shapes.size(); ++s) pieces[0].shapes.insert(s);
  for (const Cut& cut : cuts.cuts) {
    const std::string wrong =
        wrong_with_cut(cut, shapes, pieces, cuts, std::round(problem.rules.kerf_mm * 1000) / 1000);
    if (!wrong.empty()) return wrong;
  }
  for (std::size_t s = 0; s < shapes.size(); ++s) {
    const Piece& piece = pieces.at(cuts.freed.at(s));
    if (piece.shapes != std::set<std::size_t>{s}) return "a shape is not alone in its piece";
    double around = 0;
    for (std::size_t i = 0; i < shapes[s].size(); ++i)
      around +=
          std::sqrt(
              std::pow(static_cast<double>(shapes[s][i].x - shapes[s][(i + 1) % shapes[s].size()].x), 2) +
              std::pow(static_cast<double>(shapes[s][i].y - shapes[s][(i + 1) % shapes[s].size()].y), 2)) /
          1000;
    const double more = area_mm2(piece.outline) - area_um2(shapes[s]) / 1e6;
    if (std::abs(more) > kSliver_mm * around) return "the freed piece is not the shape";
  }
  return "";
}

}  // namespace

std::string wrong_with(const Problem& problem, const Plan& plan) {
  for (const Placed& placed : plan.placed)
    if (const std::string wrong = wrong_with_one(problem, placed); !wrong.empty()) return wrong;
  if (const std::string wrong = wrong_with_demands(problem, plan); !wrong.empty()) return wrong;
  std::vector<Placed> all = plan.placed;
  for (const Fixed& f : problem.fixed)
    all.push_back({f.demand, f.way, f.part, f.stock, f.at_mm, f.angle_deg});
  const std::int64_t kerf = std::llround(problem.rules.kerf_mm * 1000);
  for (std::size_t i = 0; i < plan.placed.size(); ++i)
    for (std::size_t j = i + 1; j < all.size(); ++j)
      if (all[i].stock == all[j].stock &&
          nearer_than(laid_part(problem, all[i]), laid_part(problem, all[j]), kerf))
        return "shapes nearer than the kerf";
  for (const StockCuts& cuts : plan.cuts) {
    if (!problem.rules.straight_cuts) continue;
    if (!cuts.complete) return "cuts not complete";
    if (const std::string wrong = wrong_with_cuts(problem, cuts); !wrong.empty()) return wrong;
  }
  return "";
}

}  // namespace haftwright::test
