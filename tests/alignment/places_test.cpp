// How far line ends move: the effects against handles that are laid out anew with the thing itself changed.
#include "haftwright/alignment/places.hpp"

#include <catch2/catch.hpp>
#include <cmath>
#include <cstdlib>
#include <functional>
#include <numbers>

#include "haftwright/design/validate.hpp"
#include "haftwright/files/project_file.hpp"
#include "haftwright/handle/lay_out.hpp"
#include "haftwright/words/words.hpp"
#include "support/random.hpp"
#include "support/random_design.hpp"
#include "support/sample_files.hpp"

using namespace haftwright;

namespace {

constexpr double kDegree = std::numbers::pi / 180;
/// Changes are made by this much both ways (mm or radians): third order stays below 1e-5, and places on the
/// surface are found to about 1e-8.
constexpr double kStep = 1e-3;

std::vector<Design> designs_to_try() {
  std::vector<Design> designs;
  for (const auto& file : test::sample_files(HAFTWRIGHT_PROJECTS)) designs.push_back(read_project(file));
  const std::uint64_t count = std::getenv("HAFTWRIGHT_SHORT") ? 10 : 60;
  for (std::uint64_t seed = 0; seed < count; ++seed) designs.push_back(test::random_design(seed));
  return designs;
}

/// The right side with numbers of its own, so that one side can be changed alone.
Design with_own_right(Design design) {
  const Side right = design.right_side();
  design.right = {right.liners, right.pieces, right.joints, right.front, right.butt_proud_mm, right.finish};
  return design;
}

/// On a tapered tang strips are as thick as they are square to planes in space. Laid out anew for a turned
/// scale they are so for a taper that has not turned with it, which is no motion of the scale: such a design
/// goes without one of both.
Design one_of_taper_and_strips(Design design, bool taper) {
  if (taper)
    for (Joint& joint : design.left.joints) joint.spacers.clear();
  else
    design.tang.thickness_butt_mm = design.tang.thickness_front_mm;
  return design;
}

/// A design with one thing changed by `amount`.
using Changed = std::function<Design(double amount)>;

/// Where the end of a place lies on the left side.
double end_x(const Handle& handle, const MeetingPlace& place, const CutPlane** plane = nullptr) {
  const SideLayout& side = handle.left;
  const JointLine* line = place.joint ? &side.joints.at(*place.joint).lines.at(place.line) : nullptr;
  if (plane) *plane = line ? &line->plane : &side.front;
  const LineEnd& end = place.edge == HandleEdge::spine ? (line ? line->spine : side.front_spine)
                                                       : (line ? line->belly : side.front_belly);
  return place.surface ? end.outer.x : end.inner.x;
}

/// Whether the end lies so near a corner of the edge that a small change may carry it round.
bool near_corner(const SideLayout& side, Vec2 at) {
  return std::ranges::any_of(side.edge.edges(),
                             [&](const Edge& edge) { return glm::distance(edge.from, at) < 0.05; });
}

/// The plane of x = place + y tan(slant) + s tan(rake) after the scale made a small motion: in closed form.
template <class Plane>
void move(Plane& plane, const Pose& pose) {
  const double slant = std::tan(plane.slant_deg * kDegree);
  const double rake = std::tan(plane.rake_deg * kDegree);
  const double cosine = std::cos(pose.turn_rad);
  const double sine = std::sin(pose.turn_rad);
  const Vec2 normal{cosine + slant * sine, sine - slant * cosine};
  const Vec2 at{plane.place_mm * cosine + pose.shift_mm.x, plane.place_mm * sine + pose.shift_mm.y};
  plane.place_mm = at.x + at.y * normal.y / normal.x;
  plane.slant_deg = std::atan(-normal.y / normal.x) / kDegree;
  plane.rake_deg = std::atan(rake / normal.x) / kDegree;
}

/// Calls `check(place, before, after)` for every place of both handles that a change makes.
struct Compared {
  std::size_t count = 0;

  template <class Check>
  void each(const Design& design, const Changed& changed, Check check) {
    const Handle now = lay_out(design);
    const Handle less = lay_out(changed(-kStep));
    const Handle more = lay_out(changed(kStep));
    for (const MeetingPlace& place : meeting_places(design, now)) {
      const Vec2 at{place.left.at.x, place.left.at.y};
      if (near_corner(now.left, at)) continue;
      INFO(design.name << ", " << spot_words(design, place.spot) << " at " << at.x << ", " << at.y);
      const double moved = (end_x(more, place) - end_x(less, place)) / (2 * kStep);
      const CutPlane *low = nullptr, *high = nullptr;
      end_x(less, place, &low);
      end_x(more, place, &high);
      const CutPlane rate{(high->x0_mm - low->x0_mm) / (2 * kStep),
                          (std::atan(high->tan_slant) - std::atan(low->tan_slant)) / (2 * kStep),
                          (std::atan(high->tan_rake) - std::atan(low->tan_rake)) / (2 * kStep)};
      check(place, moved, rate);
      ++count;
    }
  }
};

void check_same(double found, double expected) {
  CHECK(found == Approx(expected).epsilon(2e-5).margin(2e-5));
}

}  // namespace

TEST_CASE("a line end goes as far as the effects of place, slant and rake say") {
  Compared compared;
  const std::vector<Design> designs = designs_to_try();
  for (const Design& given : designs) {
    const Design design = with_own_right(given);
    // The plane's own numbers say how far a joint's strips carry each of its lines along.
    const auto by_plane = [](const MeetingPlace& place, double moved, const CutPlane& rate) {
      const EndEffects& end = place.left;
      check_same(moved,
                 end.place * rate.x0_mm + end.square_mm * rate.tan_slant + end.rake_mm * rate.tan_rake);
    };
    for (std::size_t j = 0; j <= design.left.joints.size(); ++j) {
      const auto change = [&](double place, double turn_slant, double turn_rake) {
        Design changed = design;
        const auto apply = [&](auto& plane) {
          plane.place_mm += place;
          plane.slant_deg += turn_slant / kDegree;
          plane.rake_deg += turn_rake / kDegree;
        };
        if (j == 0)
          apply(changed.left.front);
        else
          apply(changed.left.joints[j - 1]);
        return changed;
      };
      compared.each(
          design, [&](double by) { return change(by, 0, 0); }, by_plane);
      compared.each(
          design, [&](double by) { return change(0, by, 0); }, by_plane);
      compared.each(
          design, [&](double by) { return change(0, 0, by); }, by_plane);
    }
  }
  CHECK(compared.count > 78 * designs.size());
}

TEST_CASE(
    "a scale that shifts and turns under an edge that stays carries its lines as the pose effect says") {
  Compared compared;
  test::Random random(4);
  const std::vector<Design> designs = designs_to_try();
  for (std::size_t d = 0; d < designs.size(); ++d) {
    const Design design = with_own_right(one_of_taper_and_strips(designs[d], d % 2 == 0));
    for (int i = 0; i < 3; ++i) {
      const Pose way{{i == 0 ? 1 : random.between(-1, 1), i == 1 ? 1 : random.between(-1, 1)},
                     i == 2 ? 1 : random.between(-0.05, 0.05)};
      const auto moved_by = [&](double amount) {
        Design changed = design;
        const Pose pose{way.shift_mm * amount, way.turn_rad * amount};
        move(changed.left.front, pose);
        for (Joint& joint : changed.left.joints) move(joint, pose);
        return changed;
      };
      compared.each(design, moved_by, [&](const MeetingPlace& place, double moved, const CutPlane&) {
        check_same(moved, place.left.pose.of(way));
      });
    }
  }
  CHECK(compared.count > 23 * designs.size());
}

TEST_CASE("wood left on carries the end of a raked line along") {
  Compared compared;
  const std::vector<Design> designs = designs_to_try();
  for (const Design& given : designs) {
    const Design design = with_own_right(given);
    const auto thicker = [&](double by) {
      Design changed = design;
      for (auto& station : changed.left.finish.thickness_mm) station.value += by;
      return changed;
    };
    compared.each(design, thicker, [](const MeetingPlace& place, double moved, const CutPlane&) {
      if (!place.surface) CHECK(place.left.thickness == 0);
      check_same(moved, place.left.thickness);
    });
  }
  CHECK(compared.count > 12 * designs.size());
}
