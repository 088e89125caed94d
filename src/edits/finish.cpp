#include "haftwright/edits/finish.hpp"

#include <algorithm>
#include <stdexcept>

#include "haftwright/design/limits.hpp"
#include "parts.hpp"

namespace haftwright {
namespace {

using edits::change_entry;
using edits::finish_of;
using edits::no_such;
using edits::on;

}  // namespace

Edited set_finish(const Design& design, Which side, const Finish& finish) {
  Design edited = design;
  finish_of(edited, side) = finish;
  return edited;
}

Edited move_station(const Design& design, Which side, std::size_t station, double x_mm, double thickness_mm) {
  const auto list = [side](Design & edited) -> auto& {
    return finish_of(edited, side).thickness_mm;
  };
  return change_entry(design, list, station, "thickness station", on(side),
                      [&](MonotoneCubic::Station& changed) {
                        changed = {x_mm, thickness_mm};
                      });
}

Edited add_station(const Design& design, Which side, double x_mm) {
  Design edited = design;
  auto& stations = finish_of(edited, side).thickness_mm;
  if (stations.size() >= limits::kStations) return edits::too_many("thickness stations", limits::kStations);
  const auto behind = std::ranges::lower_bound(stations, x_mm, {}, &MonotoneCubic::Station::x);
  if (behind != stations.end() && behind->x == x_mm)
    return Edited::refused("there is a thickness station at that place already");
  try {
    const double thickness_mm = MonotoneCubic(stations).value(x_mm);
    stations.insert(behind, {x_mm, thickness_mm});
  } catch (const std::invalid_argument& error) {
    return Edited::refused(error.what());
  }
  return edited;
}

Edited remove_station(const Design& design, Which side, std::size_t station) {
  Design edited = design;
  auto& stations = finish_of(edited, side).thickness_mm;
  if (station >= stations.size()) return no_such("thickness station", station, on(side));
  if (stations.size() == 1) return Edited::refused("a side keeps at least one thickness station");
  stations.erase(edits::at(stations, station));
  return edited;
}

}  // namespace haftwright
