#include "haftwright/alignment/reading_place.hpp"

#include <algorithm>
#include <vector>

#include "haftwright/design/ids.hpp"

namespace haftwright {
namespace {

/// Every reading of one kind and datum, in the order of a round.
std::vector<CaliperReading> whole_round(const Design& design, const Handle& handle,
                                        const CaliperReading& like) {
  std::vector<CaliperReading> round;
  for (std::size_t j = 0; j < std::min(common_joints(handle), design.left.joints.size()); ++j) {
    const bool strips = std::min(handle.left.joints[j].lines.size(), handle.right.joints[j].lines.size()) > 1;
    for (const StripEdge strip_edge : {StripEdge::front, StripEdge::rear}) {
      if (strip_edge == StripEdge::rear && !strips) continue;
      for (const HandleEdge at : {HandleEdge::spine, HandleEdge::belly})
        for (const Which side : {Which::left, Which::right}) {
          if (like.kind == ReadingKind::step && side != like.side) continue;
          CaliperReading reading = like;
          reading.joint = design.left.joints[j].id;
          reading.strip_edge = strip_edge;
          reading.at = at;
          reading.side = side;
          reading.reading_mm = 0;
          round.push_back(reading);
        }
    }
  }
  return round;
}

bool same_place(const CaliperReading& a, const CaliperReading& b) {
  if (a.kind != b.kind || a.joint != b.joint || a.strip_edge != b.strip_edge || a.at != b.at) return false;
  return a.kind == ReadingKind::step || (a.side == b.side && a.from_pin == b.from_pin);
}

}  // namespace

std::optional<std::size_t> joint_read(const Design& design, const CaliperReading& reading) {
  const std::vector<Joint>& left = design.joints(Which::left);
  const std::size_t joint = index_of(left, reading.joint);
  if (joint == left.size() || joint != index_of(design.joints(Which::right), reading.joint))
    return std::nullopt;
  return joint;
}

std::size_t common_joints(const Handle& handle) {
  return std::min(handle.left.joints.size(), handle.right.joints.size());
}

std::optional<ReadingPlace> reading_place(const Design& design, const Handle& handle,
                                          const CaliperReading& reading) {
  const SideLayout& side = handle.side(reading.side);
  const std::size_t joint = index_of(design.joints(reading.side), reading.joint);
  if (joint >= side.joints.size()) return std::nullopt;
  const auto& lines = side.joints[joint].lines;
  const JointLine& line = reading.strip_edge == StripEdge::front ? lines.front() : lines.back();
  const bool spine = reading.at == HandleEdge::spine;
  const Vec3& end = (spine ? line.spine : line.belly).inner;
  ReadingPlace place;
  place.to = {end.x, end.y};
  if (reading.kind == ReadingKind::step) {
    place.from = place.to;
    return place;
  }
  if (reading.from_pin.empty()) {
    const Vec3& front = (spine ? side.front_spine : side.front_belly).inner;
    place.from = {front.x, front.y};
    return place;
  }
  const std::size_t index = index_of(design.pins, reading.from_pin);
  if (index == design.pins.size()) return std::nullopt;
  const Pin& pin = design.pins[index];
  const double toward = end.x < pin.at_mm.x ? -1 : 1;
  place.from = {pin.at_mm.x + toward * pin.stock.diameter_mm() / 2, pin.at_mm.y};
  return place;
}

CaliperReading next_reading(const Design& design, const Handle& handle, const CaliperReading& last) {
  const std::vector<CaliperReading> round = whole_round(design, handle, last);
  if (round.empty()) return last;
  const auto here = std::ranges::find_if(round, [&](const auto& one) { return same_place(one, last); });
  const auto at = here == round.end() ? round.size() - 1 : static_cast<std::size_t>(here - round.begin());
  const auto after = [&](std::size_t steps) { return round[(at + steps) % round.size()]; };
  for (std::size_t steps = 1; steps <= round.size(); ++steps)
    if (std::ranges::none_of(design.dry_fit,
                             [&](const auto& read) { return same_place(read, after(steps)); }))
      return after(steps);
  return after(1);
}

}  // namespace haftwright
