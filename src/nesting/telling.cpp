#include "telling.hpp"

#include <algorithm>
#include <map>

#include "sawing.hpp"

namespace haftwright::nesting::inner {

namespace {

/// Gives the parts of the chosen patterns to the demands of their groups.
class Sharing {
 public:
  Sharing(const Tasks& tasks, Plan& plan) : tasks_(tasks), plan_(plan), served_(tasks.groups.size(), 0) {}

  void take(std::size_t stock, const Pattern& pattern) {
    std::map<std::size_t, std::vector<Placed>> by_kind;
    for (const PlacedKind& item : pattern.items) {
      const Kind& kind = tasks_.kinds[item.kind];
      const std::size_t way = tasks_.groups[kind.group].ways[kind.way].way;
      by_kind[item.kind].push_back({kNoOther, way, kind.part, stock, to_mm(item.at), item.angle_deg});
    }
    for (auto& [kind, placed] : by_kind) {
      const GroupWay& way = tasks_.groups[tasks_.kinds[kind].group].ways[tasks_.kinds[kind].way];
      std::vector<Placed>& list = way.one_stock ? by_kind_[kind] : loose_[kind];
      list.insert(list.end(), placed.begin(), placed.end());
    }
    serve(by_kind_);
    by_kind_.clear();
  }

  void finish() {
    serve(loose_);
    for (std::size_t g = 0; g < tasks_.groups.size(); ++g)
      for (std::size_t i = served_[g]; i < tasks_.groups[g].demands.size(); ++i)
        plan_.unplaced_demands.push_back(tasks_.groups[g].demands[i]);
    std::sort(plan_.unplaced_demands.begin(), plan_.unplaced_demands.end());
    std::sort(plan_.placed.begin(), plan_.placed.end(), [](const Placed& a, const Placed& b) {
      return std::array{a.demand, a.way, a.part} < std::array{b.demand, b.way, b.part};
    });
  }

 private:
  void serve(std::map<std::size_t, std::vector<Placed>>& by_kind) {
    for (std::size_t g = 0; g < tasks_.groups.size(); ++g)
      for (const GroupWay& way : tasks_.groups[g].ways) {
        const std::size_t times = by_kind.contains(way.kinds[0]) ? by_kind[way.kinds[0]].size() : 0;
        for (std::size_t i = 0; i < times; ++i) {
          for (const std::size_t kind : way.kinds) {
            Placed placed = by_kind[kind][i];
            placed.demand = tasks_.groups[g].demands[served_[g]];
            plan_.placed.push_back(placed);
          }
          ++served_[g];
        }
      }
  }

  const Tasks& tasks_;
  Plan& plan_;
  std::vector<std::size_t> served_;
  std::map<std::size_t, std::vector<Placed>> by_kind_, loose_;
};

struct OnStock {
  std::vector<Placed> placed;
  std::vector<Path> outlines;
  std::optional<Box> clear;
};

const Polygon& shape_of(const Problem& problem, const Placed& placed) {
  return problem.demands[placed.demand].ways[placed.way].parts[placed.part].shape;
}

OnStock on_stock(const Problem& problem, const Plan& plan, std::size_t stock) {
  OnStock on;
  for (const Fixed& f : problem.fixed)
    if (f.stock == stock) on.placed.push_back({f.demand, f.way, f.part, f.stock, f.at_mm, f.angle_deg});
  for (const Placed& placed : plan.placed)
    if (placed.stock == stock) on.placed.push_back(placed);
  for (const Placed& placed : on.placed)
    on.outlines.push_back(moved(turned(shape_of(problem, placed), placed.angle_deg), to_grid(placed.at_mm)));
  return on;
}

/// A piece of a stock as a stock of its own: without the trim along the old rim, with the keep-outs.
Leftover leftover_of(const ReadyStock& ready, std::size_t stock, const Path& outline, const Rules& rules) {
  Leftover leftover{stock, to_mm(outline), 0, {0, 0}, {0, 0}};
  ClipperLib::Clipper clipper;
  clipper.AddPaths(ready.room.usable, ClipperLib::ptSubject, true);
  clipper.AddPath(outline, ClipperLib::ptClip, true);
  Room room;
  clipper.Execute(ClipperLib::ctIntersection, room.usable, ClipperLib::pftNonZero, ClipperLib::pftNonZero);
  for (const Path& path : ready.room.keep_outs) room.keep_outs.push_back(path);
  finish(room);
  Rules any = rules;
  any.useful_length_mm = 0;
  any.useful_width_mm = 0;
  const std::vector<Clear> clear = clear_rectangles(clear_space_of(room), {}, any);
  if (clear.empty()) return leftover;
  // The useful one first, if there is any: a longer or wider one can be useful where the largest is not.
  const std::vector<Clear> useful = clear_rectangles(clear_space_of(room), {}, rules);
  const Box box = useful.empty() ? clear[0].box : useful[0].box;
  leftover.worth = useful.empty() ? 0 : useful[0].worth;
  leftover.clear_from_mm = to_mm(Point{box.left, box.bottom});
  leftover.clear_size_mm = to_mm(Point{box.right - box.left, box.top - box.bottom});
  return leftover;
}

/// What is left where nothing is sawn straight: the stock less each shape and a kerf about it.
Paths left_around(const Path& stock, const std::vector<Path>& outlines, Int kerf) {
  ClipperLib::Clipper clipper;
  clipper.AddPath(stock, ClipperLib::ptSubject, true);
  clipper.AddPaths(grown(outlines, kerf), ClipperLib::ptClip, true);
  Paths left, outer;
  clipper.Execute(ClipperLib::ctDifference, left, ClipperLib::pftNonZero, ClipperLib::pftNonZero);
  for (Path& path : left)
    if (ClipperLib::Orientation(path)) outer.push_back(std::move(path));
  return outer;
}

void tell_stock(const Problem& problem, const Prepared& prepared, std::size_t stock, Plan& plan) {
  const ReadyStock& ready = prepared.stocks[stock];
  const OnStock on = on_stock(problem, plan, stock);
  if (on.placed.empty()) return;
  const Int kerf = to_grid(problem.rules.kerf_mm);
  Paths left;
  StockCuts cuts;
  if (problem.rules.straight_cuts) {
    const std::optional<Clear> clear = best_clear(ready, on.outlines, problem.rules);
    std::optional<Box> box;
    if (clear) box = clear->box;
    const Sawing sawing = saw(ready.outline, on.outlines, box, kerf);
    cuts = in_mm(sawing, kerf);
    for (const SawnPiece& piece : sawing.pieces)
      if (!piece.sawn && piece.shapes.empty()) left.push_back(piece.outline);
  } else {
    left = left_around(ready.outline, on.outlines, kerf);
  }
  cuts.stock = stock;
  cuts.shapes = on.placed;
  plan.cuts.push_back(std::move(cuts));
  for (const Path& outline : left)
    plan.leftovers.push_back(leftover_of(ready, stock, outline, problem.rules));
}

}  // namespace

Plan told(const Problem& problem, const Tasks& tasks, const Prepared& prepared,
          const std::vector<Offer>& offers, const Chosen& chosen) {
  Plan plan;
  plan.value = chosen.value;
  Sharing sharing(tasks, plan);
  for (const std::size_t offer : chosen.offers) sharing.take(offers[offer].stock, *offers[offer].data);
  sharing.finish();
  for (std::size_t stock = 0; stock < problem.stocks.size(); ++stock)
    tell_stock(problem, prepared, stock, plan);
  return plan;
}

}  // namespace haftwright::nesting::inner
