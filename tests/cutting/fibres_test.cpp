// Turns of a piece against the angle between two fibres in space, computed anew here.
#include "fibres.hpp"

#include <catch2/catch.hpp>
#include <cmath>

#include "support/random.hpp"

using namespace haftwright;
using cutting::Lie;

namespace {

const double kDegree = std::acos(-1.0) / 180;

/// Rotation by columns, so that nothing is shared with the room: the piece is laid on the offcut as a hand
/// would, the right side's mirror image drawn first.
double off_deg(const Grain& piece, const Grain& offcut, const Lie& lie, double turn_deg) {
  const auto direction = [](const Grain& g) {
    return Vec3(std::cos(g.dip_deg * kDegree) * std::cos(g.along_deg * kDegree),
                std::cos(g.dip_deg * kDegree) * std::sin(g.along_deg * kDegree),
                std::sin(g.dip_deg * kDegree));
  };
  Vec3 v = direction(piece);
  // As seen from outside, x of the right side runs the other way.
  if (lie.side == Which::right) v.x = -v.x;
  // Turned face down about the y axis.
  if (lie.lower_face) v = {-v.x, v.y, -v.z};
  const double c = std::cos(turn_deg * kDegree), s = std::sin(turn_deg * kDegree);
  v = {c * v.x - s * v.y, s * v.x + c * v.y, v.z};
  const Vec3 w = direction(offcut);
  const double cosine = std::abs(v.x * w.x + v.y * w.y + v.z * w.z);
  return std::acos(std::min(1.0, cosine)) / kDegree;
}

}  // namespace

TEST_CASE("a turn is allowed just where the fibres lie within the limit of each other") {
  test::Random random(5);
  int inside = 0, outside = 0;
  for (int n = 0; n < 4000; ++n) {
    const Grain piece{random.between(-90, 90), random.between(-20, 20), 0};
    const Grain offcut{random.between(-90, 90), random.between(-20, 20), 0};
    const Lie lie{random.chance(0.5) ? Which::left : Which::right, random.chance(0.5)};
    const double limit = random.between(0.5, 40);
    const auto allowed = cutting::turns(piece, offcut, lie, limit);
    const double turn = random.between(-180, 180);
    bool in = false;
    for (const nesting::Angles& angles : allowed)
      in = in || std::abs(std::remainder(turn - angles.middle_deg, 360.0)) <= angles.play_deg;
    const double off = off_deg(piece, offcut, lie, turn);
    if (std::abs(off - limit) < 1e-6) continue;
    REQUIRE(in == (off < limit));
    REQUIRE(cutting::fibre_off_deg(piece, offcut, lie, turn) == Approx(off).margin(1e-5));
    ++(in ? inside : outside);
  }
  CHECK(inside > 300);
  CHECK(outside > 300);
}

TEST_CASE("level fibres that run alike may lie either way round") {
  const auto allowed = cutting::turns({0, 0, 0}, {30, 0, 0}, {Which::left, false}, 8);
  REQUIRE(allowed.size() == 2);
  CHECK(allowed[0].middle_deg == Approx(30).margin(1e-9));
  CHECK(std::abs(std::remainder(allowed[1].middle_deg - 210, 360.0)) < 1e-9);
  CHECK(allowed[0].play_deg == Approx(8).margin(1e-9));
  // With dips that differ by 10 degrees, one way round is within 8 of the fibre at best.
  CHECK(cutting::turns({0, 10, 0}, {0, 0, 0}, {Which::left, false}, 8).empty());
  CHECK(cutting::turns({0, 5, 0}, {0, 5, 0}, {Which::left, false}, 8).size() == 1);
}
