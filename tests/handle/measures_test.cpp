// What can be measured on a handle, against distances worked out by hand and against dense sampling.
#include <catch2/catch.hpp>
#include <cmath>
#include <cstdlib>
#include <numbers>

#include "bar.hpp"
#include "haftwright/files/project_file.hpp"
#include "haftwright/handle/measures.hpp"
#include "support/nearly.hpp"
#include "support/random_design.hpp"

using namespace haftwright;
using test::bar;
using test::part;
using test::pin_at;

namespace {

constexpr double kPi = std::numbers::pi;
constexpr const char* kSamples[] = {"shucking_knife.json", "paring_knife.json", "reed_knife.json",
                                    "marking_knife.json"};

double tan_deg(double degrees) {
  return std::tan(degrees * kPi / 180);
}

/// The samples and some random designs.
std::vector<Handle> handles(std::uint64_t random) {
  std::vector<Handle> all;
  for (const char* name : kSamples)
    all.push_back(lay_out(read_project(std::string(HAFTWRIGHT_PROJECTS "/") + name)));
  for (std::uint64_t seed = 0; seed < random; ++seed) all.push_back(lay_out(test::random_design(seed)));
  return all;
}

/// Visits plan places over a side, `step_mm` apart in x and y.
template <class Visit>
void sweep(const SideLayout& side, double step_mm, Visit&& visit) {
  const Bounds& box = side.edge.bounds();
  for (double x = box.low.x; x <= box.high.x; x += step_mm)
    for (double y = box.low.y; y <= box.high.y; y += step_mm) visit(Vec2{x, y});
}

}  // namespace

TEST_CASE("a caliper reads the straight distance between two ends of an edge") {
  Design design = bar();
  design.left.front = {2, -20, 10};
  design.left.joints[0] = {40, 15, -5, {}};
  const SideLayout side = lay_out(design).left;
  const JointLine& line = side.joints[0].lines[0];
  // Spine and belly of the bar run along x, so that here the caliper reads a difference in x.
  const double front_spine = 2 + 10 * tan_deg(-20);
  const double joint_spine = 40 + 10 * tan_deg(15);
  CHECK(caliper_from_front(side, line, HandleEdge::spine).inner_mm ==
        Approx(joint_spine - front_spine).epsilon(1e-12));
  CHECK(caliper_from_front(side, line, HandleEdge::belly).inner_mm ==
        Approx((40 - 10 * tan_deg(15)) - (2 - 10 * tan_deg(-20))).epsilon(1e-12));
  CHECK(caliper_from_front(side, line, HandleEdge::spine).surface_mm ==
        Approx(joint_spine + 8 * tan_deg(-5) - front_spine - 8 * tan_deg(10)).epsilon(1e-9));
  // On a spine that climbs 3 in 4 it is the way along the slope, a quarter longer than in x.
  design.tang.outline = {{{-10, -10}, 0}, {{100, -10}, 0}, {{100, 90}, 0}, {{-10, 7.5}, 0}};
  design.left.front = {0, 0, 0};
  design.left.joints[0] = {40, 0, 0, {}};
  const SideLayout wide = lay_out(design).left;
  CHECK(caliper_from_front(wide, wide.joints[0].lines[0], HandleEdge::spine).inner_mm ==
        Approx(50).epsilon(1e-9));
  CHECK(caliper_from_front(wide, wide.joints[0].lines[0], HandleEdge::belly).inner_mm ==
        Approx(40).epsilon(1e-9));
}

TEST_CASE("the paring knife's first joint lies where a caliper finds it") {
  // x and the distances along x between the ends were worked out apart from this program.
  const Handle handle = lay_out(read_project(HAFTWRIGHT_PROJECTS "/paring_knife.json"));
  const JointLine& line = handle.left.joints[0].lines[0];
  CHECK(line.belly.inner.x == Approx(27.53).margin(0.005));
  CHECK(line.spine.inner.x == Approx(23.59).margin(0.005));
  const Vec3 belly = line.belly.inner - handle.left.front_belly.inner;
  const Vec3 spine = line.spine.inner - handle.left.front_spine.inner;
  CHECK(belly.x == Approx(24.69).margin(0.005));
  CHECK(spine.x == Approx(24.43).margin(0.005));
  // The spine climbs, so that straight from corner to corner it is a little longer.
  CHECK(caliper_from_front(handle.left, line, HandleEdge::belly).inner_mm ==
        Approx(std::sqrt(belly.x * belly.x + belly.y * belly.y + belly.z * belly.z)).epsilon(1e-12));
  CHECK(caliper_from_front(handle.left, line, HandleEdge::spine).inner_mm ==
        Approx(std::sqrt(spine.x * spine.x + spine.y * spine.y + spine.z * spine.z)).epsilon(1e-12));
}

TEST_CASE("the lowest wall counts a leaning front's overhang and not what was cut away") {
  Design design = bar();
  design.left.finish.thickness_mm = {{-20, 4}, {100, 10}};  // thinner toward the front: 0.05 mm a mm
  const auto wall = [&] { return lay_out(design).left.lowest_wall; };
  const auto thick = [](double x) { return 5 + 0.05 * x; };
  CHECK(wall().wood_mm == Approx(thick(0)).epsilon(1e-9));
  // Leaning forward by 20 degrees the top reaches ahead: x = -s tan(20), s = thick(x).
  design.left.front.rake_deg = -20;
  const double x = -5 * tan_deg(20) / (1 + 0.05 * tan_deg(20));
  CHECK(wall().wood_mm == Approx(thick(x)).epsilon(1e-9));
  CHECK(wall().at.x == Approx(x).epsilon(1e-9));
  // Leaning back, the top starts behind; slanted, at one edge only.
  design.left.front.rake_deg = 20;
  CHECK(wall().wood_mm == Approx(thick(5 * tan_deg(20) / (1 - 0.05 * tan_deg(20)))).epsilon(1e-9));
  design.left.front = {6, 25, 0};
  CHECK(wall().wood_mm == Approx(thick(6 - 10 * tan_deg(25))).epsilon(1e-9));
  CHECK(wall().at.y == test::nearly(-10));
}

TEST_CASE("no place of a side wall is lower than the lowest") {
  for (const Handle& handle : handles(40))
    for (const Which which : {Which::left, Which::right}) {
      const SideLayout& side = handle.side(which);
      const LowWall& low = side.lowest_wall;
      double least = 1e9;
      for (std::size_t i = 0; i < side.surface.edge().edges().size(); ++i) {
        const Edge& edge = side.surface.edge().edges()[i];
        const int steps = 4 + static_cast<int>(edge.length() * 20);
        for (int k = 0; k < steps; ++k) {
          const Vec2 p = edge.point((k + 0.5) / steps);
          const double s = side.surface.wall_height_mm({0, p, i, 0}) - side.liner_total_mm;
          if (side.front.behind_mm(p.x, p.y, s) >= 0) least = std::min(least, s);
        }
      }
      CHECK(low.wood_mm <= least + 1e-5);
      CHECK(low.wood_mm == Approx(least).margin(0.02));
    }
}

TEST_CASE("a piece is as thick as its highest place, not higher") {
  for (const Handle& handle : handles(25))
    for (const Which which : {Which::left, Which::right}) {
      const SideLayout& side = handle.side(which);
      std::vector<double> highest(side.parts.size(), 0);
      sweep(side, 0.2, [&](Vec2 p) {
        const double s = side.scale_height_mm(p);
        for (std::size_t i = 0; i < side.parts.size(); ++i) {
          const Part& part = side.parts[i];
          if (part.kind == PartKind::liner || part.front.behind_mm(p.x, p.y, s) < 0) continue;
          if (part.to_butt || part.rear.behind_mm(p.x, p.y, s) <= 0) highest[i] = std::max(highest[i], s);
        }
      });
      for (std::size_t i = 0; i < side.parts.size(); ++i) {
        if (side.parts[i].kind != PartKind::piece) continue;
        INFO(side.parts[i].name);
        CHECK(side.parts[i].s_high_mm >= highest[i] - 1e-6);
        // What the grid leaves out: a tenth of a millimetre of the steepest thickness.
        CHECK(side.parts[i].s_high_mm <= highest[i] + 0.012);
      }
    }
}

TEST_CASE("strips on a tapered tang are as thick as a caliper finds them in space") {
  Design design = bar();
  design.tang.thickness_front_mm = 8;
  design.tang.thickness_butt_mm = 2;
  for (const double slant : {0.0, 25.0})
    for (const double rake : {-35.0, 0.0, 30.0}) {
      INFO("slant " << slant << ", rake " << rake);
      design.left.joints[0] = {40, slant, rake, {{"g10", 1.5}, {"brass_c36000", 0.4}}};
      const std::vector<JointLine> lines = lay_out(design).left.joints[0].lines;
      // The plane of each line through three points in space, and how far the next line lies from it.
      for (std::size_t i = 0; i + 1 < lines.size(); ++i) {
        const Vec3 a = lines[i].spine.inner;
        const Vec3 normal = glm::normalize(glm::cross(lines[i].belly.inner - a, lines[i].spine.outer - a));
        const double thick = i == 0 ? 1.5 : 0.4;
        CHECK(std::abs(glm::dot(normal, lines[i + 1].belly.outer - a)) == Approx(thick).epsilon(1e-9));
        CHECK(std::abs(glm::dot(normal, lines[i + 1].spine.inner - a)) == Approx(thick).epsilon(1e-9));
      }
    }
}

namespace {

bool in_round_over(const SideLayout& side, Vec2 p) {
  return side.edge.depth_mm(p) <= 0 || side.surface.height_mm(p) < side.surface.crown_mm(p) - 1e-9;
}

/// From p along a ray to where the surface leaves the crown behind the front face: walked in steps, then by
/// halving. At most `most`.
double walked_mm(const SideLayout& side, Vec2 p, double angle, double most) {
  const Vec2 way{std::cos(angle), std::sin(angle)};
  constexpr double kStep = 0.05;
  for (double d = kStep; d < most + kStep; d += kStep) {
    if (!in_round_over(side, p + d * way)) continue;
    double low = d - kStep;
    double high = d;
    while (high - low > 1e-6) {
      const double middle = (low + high) / 2;
      (in_round_over(side, p + middle * way) ? high : low) = middle;
    }
    const Vec2 q = p + high * way;
    return side.front.behind_mm(q.x, q.y, side.scale_height_mm(q)) >= 0 ? std::min(most, high) : most;
  }
  return most;
}

/// The shortest such way, over rays 2 degrees apart and then closer and closer to the best.
double shortest_mm(const SideLayout& side, Vec2 p) {
  double least = 30;
  double best = 0;
  const auto look = [&](double angle) {
    if (const double way = walked_mm(side, p, angle, least); way < least) least = way, best = angle;
  };
  for (int ray = 0; ray < 180; ++ray) look(ray * kPi / 90);
  for (double step = kPi / 90; step > 1e-4; step /= 4) {
    const double about = best;
    for (int k = -4; k <= 4; ++k) look(about + k * step / 4);
  }
  return least;
}

/// Places along the handle, and toward the butt's corners with the spine or the belly a little nearer.
std::vector<Vec2> places_on(const SideLayout& side) {
  const Bounds& box = side.finished.bounds();
  std::vector<Vec2> places;
  for (int k = 0; k < 4; ++k)
    places.push_back(box.low + box.size() * Vec2{0.06 + 0.3 * k, k % 2 == 0 ? 0.3 : 0.72});
  for (const double d : {3.5, 5.0, 6.5}) {
    places.push_back(Vec2{box.high.x - 1.08 * d, box.low.y + d});
    places.push_back(Vec2{box.high.x - 1.08 * d, box.high.y - d});
  }
  std::erase_if(places, [&](Vec2 p) {
    return side.edge.depth_mm(p) < 0.2 || side.front.behind_mm(p.x, p.y, side.scale_height_mm(p)) < 0.2;
  });
  return places;
}

}  // namespace

TEST_CASE("the round-over starts where the surface leaves the crown, on whichever side that is nearest") {
  int inside = 0;
  int elsewhere = 0;
  std::size_t n = 0;
  for (const Handle& handle : handles(std::getenv("HAFTWRIGHT_SHORT") ? 4 : 20)) {
    INFO("handle " << n++);
    for (const Which which : {Which::left, Which::right}) {
      const SideLayout& side = handle.side(which);
      const std::vector<Vec2> places = places_on(side);
      const std::vector<RoundOverStart> starts = nearest_round_overs(side, places);
      REQUIRE(starts.size() == places.size());
      for (std::size_t i = 0; i < places.size(); ++i) {
        const Vec2 p = places[i];
        const RoundOverStart& start = starts[i];
        INFO(name_of(which) << " at " << p.x << ", " << p.y);
        if (start.distance_mm < 0) {
          CHECK(in_round_over(side, p));
          ++inside;
          continue;
        }
        CHECK(glm::distance(p, start.at) == Approx(start.distance_mm).epsilon(1e-9));
        const double least = shortest_mm(side, p);
        if (least >= 30) continue;
        // The surfaces part like a parabola: by 1e-9 mm after 1e-4 mm.
        CHECK(start.distance_mm <= least + 1e-6);
        CHECK(start.distance_mm >= least - 2e-3);
        if (glm::distance(side.surface.edge().nearest(p).point, start.wall) > 1) ++elsewhere;
      }
    }
  }
  CHECK(inside > 3);
  CHECK(elsewhere > 3);
}

TEST_CASE("pins whose holes run into each other are named, with the layers") {
  Design design = bar();
  design.left.liners = {{"g10", 1}};
  design.pins = {pin_at({20, 0}, 5.9, 6), pin_at({60, 0}, 5.9, 6), pin_at({66, 0}, 5.9, 6)};
  CHECK(overlapping_holes(lay_out(design)).empty());  // they only touch
  design.pins[2].at_mm.x = 63;
  auto overlaps = overlapping_holes(lay_out(design));
  REQUIRE(overlaps.size() == 1);
  CHECK(overlaps[0].pin == 1);
  CHECK(overlaps[0].other == 2);
  CHECK(overlaps[0].apart_mm == test::nearly(3));
  CHECK(overlaps[0].needed_mm == test::nearly(6));
  CHECK(overlaps[0].layers == "scales, liners and tang");
  design.pins[2].at_mm.x = 68;
  design.pins[1].liner_hole.diameter_mm = 12;
  overlaps = overlapping_holes(lay_out(design));
  REQUIRE(overlaps.size() == 1);
  CHECK(overlaps[0].layers == "liners");
}

TEST_CASE("a place inside of the handle shows on the surface over it") {
  for (const Handle& handle : handles(5)) {
    for (const PinLayout& pin : handle.pins) {
      const HoleLayer& right = pin.layers.front();
      const HoleLayer& left = pin.layers.back();
      const Vec3 over = on_finished_surface(handle, Vec3(pin.at, 0), Which::left);
      CHECK(over.z == test::nearly(left.z_to_mm));
      CHECK(Vec2(over) == pin.at);
      CHECK(on_finished_surface(handle, Vec3(pin.at, 0), Which::right).z == test::nearly(right.z_from_mm));
      // A place of one side stays there, whichever side is seen; one on the surface or above stays.
      CHECK(on_finished_surface(handle, Vec3(pin.at, 0.5), Which::right).z == test::nearly(left.z_to_mm));
      CHECK(on_finished_surface(handle, over + Vec3(0, 0, 1), Which::left) == over + Vec3(0, 0, 1));
    }
    for (const JointLayout& joint : handle.left.joints) {
      const Vec3 end = joint.lines.front().spine.inner;
      CHECK(on_finished_surface(handle, end, Which::left) == end);
    }
  }
}
