#include <algorithm>
#include <cmath>

#include "patterns.hpp"
#include "sawing.hpp"
#include "turns.hpp"

namespace haftwright::nesting::inner {

namespace {

void add_options(ReadyStock& stock, const Polygon& shape, std::size_t kind, const Candidate& candidate,
                 const Others& others) {
  const auto add = [&](const Angles& angles, double turn, Turned turned) {
    const double off_deg = std::abs(std::remainder(turn - angles.middle_deg, 360.0));
    const double penalty = candidate.penalty + candidate.penalty_per_deg * off_deg;
    Option option{kind, turn, std::llround(penalty * 1000), area_mm2(turned.full.outline), {}};
    option.shape = std::move(turned);
    stock.options.push_back(std::move(option));
  };
  for (const Angles& angles : candidate.angles) {
    const FitFound found = fit_in(stock.room, shape, angles, others);
    if (found.answer != Answer::yes) continue;
    stock.fits[kind] = 1;
    bool known = false;
    for (const double turn : tried_turns(stock.room, shape, angles)) {
      Turned tried = turned_of(turned(shape, turn));
      if (!any_place(stock.room, tried, others)) continue;
      known = true;
      add(angles, turn, std::move(tried));
    }
    if (!known) add(angles, found.angle_deg, turned_of(turned(shape, found.angle_deg)));
  }
}

/// A way whose parts come from one stock needs a place there for each.
void drop_incomplete_ways(ReadyStock& stock, const Tasks& tasks) {
  for (const Group& group : tasks.groups)
    for (const GroupWay& way : group.ways) {
      const auto fits = [&](std::size_t kind) { return stock.fits[kind] != 0; };
      if (!way.one_stock || std::all_of(way.kinds.begin(), way.kinds.end(), fits)) continue;
      for (const std::size_t kind : way.kinds) stock.fits[kind] = 0;
    }
  stock.options.erase(std::remove_if(stock.options.begin(), stock.options.end(),
                                     [&](const Option& option) { return !stock.fits[option.kind]; }),
                      stock.options.end());
}

}  // namespace

std::optional<Clear> best_clear(const ReadyStock& stock, const std::vector<Path>& outlines,
                                const Rules& rules) {
  const Int kerf = to_grid(rules.kerf_mm);
  std::vector<Box> boxes;
  for (const Path& outline : outlines) boxes.push_back(grown_by(box_of(outline), kerf));
  std::vector<Path> all = outlines;
  all.emplace_back();
  for (const Clear& clear : clear_rectangles(stock.space, boxes, rules)) {
    all.back() = corners_of(clear.box);
    if (!rules.straight_cuts || partable(all, kerf)) return clear;
  }
  return std::nullopt;
}

ReadyStock make_ready(const Problem& problem, const Tasks& tasks, std::size_t stock) {
  ReadyStock ready;
  ready.room = room_of(problem.stocks[stock], problem.rules);
  ready.outline = to_grid(problem.stocks[stock].outline);
  ready.fits.assign(tasks.kinds.size(), 0);
  for (const Fixed& fixed : problem.fixed)
    if (fixed.stock == stock) {
      const Part& part = problem.demands[fixed.demand].ways[fixed.way].parts[fixed.part];
      ready.fixed.push_back(moved(turned(part.shape, fixed.angle_deg), to_grid(fixed.at_mm)));
    }
  const Others others{ready.fixed, to_grid(problem.rules.kerf_mm)};
  for (std::size_t k = 0; k < tasks.kinds.size(); ++k) {
    const Kind& kind = tasks.kinds[k];
    if (kind.only_stock != kNoOther && kind.only_stock != stock) continue;
    for (const Candidate& candidate : kind.data->candidates)
      if (candidate.stock == stock) add_options(ready, kind.data->shape, k, candidate, others);
  }
  drop_incomplete_ways(ready, tasks);
  if (ready.options.empty() && ready.fixed.empty()) return ready;
  ready.space = clear_space_of(ready.room);
  const std::optional<Clear> clear = best_clear(ready, ready.fixed, problem.rules);
  ready.worth = clear ? clear->worth : 0;
  if (problem.rules.straight_cuts && !ready.fixed.empty()) {
    std::optional<Box> box;
    if (clear) box = clear->box;
    ready.cuts = static_cast<std::int64_t>(saw(ready.outline, ready.fixed, box, others.gap).cuts.size());
  }
  return ready;
}

}  // namespace haftwright::nesting::inner
