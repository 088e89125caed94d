// Front faces shaped together: dressed where the scales lie on their pins in one pose, glued where they lie
// in another. Held against a simulation that knows only the two steps of that work.
#include <algorithm>
#include <cstdlib>
#include <limits>

#include "support/nearly.hpp"
#include "support/random.hpp"
#include "way_stacks.hpp"

using namespace haftwright;
using namespace haftwright::test;

namespace {

double room_at(const std::vector<PinBound>& pins, Vec2 at) {
  double room = std::numeric_limits<double>::infinity();
  for (const PinBound& pin : pins)
    if (pin.at_mm == at) room = std::min(room, pin.radius_mm);
  return room;
}

/// Tries poses of a scale against the other until every pin is within its room.
Pose pose_on_pins(const std::vector<PinBound>& pins, Random& random) {
  const double apart = glm::distance(pins.front().at_mm, pins.back().at_mm);
  const double room = room_at(pins, pins.front().at_mm);
  for (;;) {
    const double turn = random.between(-1, 1) * (room + room_at(pins, pins.back().at_mm)) / apart;
    const Vec2 first{random.between(-room, room), random.between(-room, room)};
    const Vec2 at = pins.front().at_mm;
    const Pose pose{{first.x + turn * at.y, first.y - turn * at.x}, turn};
    if (std::ranges::all_of(pins, [&](const PinBound& pin) {
          return glm::length(pose.motion_of(pin.at_mm)) <= pin.radius_mm;
        }))
      return pose;
  }
}

/// The bar, well made but for the room of its pins.
Design roomy_bar(DrillWay way) {
  Design design = pinned_bar({20, 80});
  design.drilling.errors = no_errors();
  design.drilling.way = way;
  design.rules.joint_step_mm = 0.1;
  return design;
}

}  // namespace

TEST_CASE("front faces shaped together miss each other by the difference of two poses") {
  const bool quick = std::getenv("HAFTWRIGHT_SHORT") != nullptr;
  const int count = quick ? 20'000 : 200'000;
  for (const DrillWay way : {DrillWay::to_first, DrillWay::taped}) {
    const LineUp made = line_up_of(roomy_bar(way), way);
    const std::size_t m = step_at(made, std::nullopt, HandleEdge::spine, false);
    const Vec2 end{made.places[made.measures[m].place].left.at};
    const std::vector<PinBound>& glued = made.stack.clearances.front().pins;
    const std::vector<PinBound>& dressed = made.stack.clearances.back().pins;
    Random random(7);
    std::vector<double> sizes;
    double squares = 0;
    for (int i = 0; i < count; ++i) {
      // The face is square to the axis: it is flush where the scales lie while it is shaped.
      const double flush = pose_on_pins(dressed, random).motion_of(end).x;
      const double step = pose_on_pins(glued, random).motion_of(end).x - flush;
      sizes.push_back(std::abs(step));
      squares += step * step;
    }
    std::ranges::sort(sizes);
    const double n = count;
    const Samples samples = sample(made.stack, {.samples = static_cast<std::uint64_t>(count)});
    const double deviation = std::sqrt(squares / n);
    // Five standard errors of a difference of two deviations and of two shares of n samples each.
    CHECK(samples.measures[m].deviation == Approx(deviation).margin(5 * deviation / std::sqrt(n)));
    const auto over = std::ranges::count_if(sizes, [](double size) { return size > 0.1; });
    const double share = static_cast<double>(over) / n;
    CHECK(share > 0.01);
    CHECK(samples.measures[m].shows.share ==
          Approx(share).margin(5 * std::sqrt(2 * share * (1 - share) / n) + 1 / n));
    CHECK(sizes.back() <= limits_of(made.stack, m).worst + 1e-9);
    CHECK(sizes.back() > 0.75 * limits_of(made.stack, m).worst);
  }
}

TEST_CASE("at worst, front faces shaped together part by both times that they lie on their pins") {
  for (const DrillWay way : {DrillWay::by_eye, DrillWay::to_first, DrillWay::guide}) {
    Design design = roomy_bar(way);
    const LineUp together = line_up_of(design, way);
    design.drilling.fronts_together = false;
    const LineUp apart = line_up_of(design, way);
    for (const HandleEdge edge : {HandleEdge::spine, HandleEdge::belly}) {
      const double once = limits_of(apart.stack, step_at(apart, std::nullopt, edge, false)).clearance;
      const double both = limits_of(together.stack, step_at(together, std::nullopt, edge, false)).clearance;
      INFO(way_row(way).key);
      // Without the tang between them the scales have no more room than on it.
      CHECK(both > 1.3 * once);
      CHECK(both <= 2 * once + 1e-9);
    }
    // A joint line lies as the scale was glued, however its front face was shaped.
    CHECK(limits_of(together.stack, step_at(together, 0, HandleEdge::spine, false)).worst ==
          test::nearly(limits_of(apart.stack, step_at(apart, 0, HandleEdge::spine, false)).worst));
  }
}
