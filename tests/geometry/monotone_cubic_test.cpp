// Thickness curves: through the stations, monotone, smooth.
#include "haftwright/geometry/monotone_cubic.hpp"

#include <algorithm>
#include <catch2/catch.hpp>
#include <cmath>
#include <limits>
#include <stdexcept>
#include <vector>

#include "support/random.hpp"

using namespace haftwright;
using haftwright::test::Random;
using Station = MonotoneCubic::Station;

namespace {

std::vector<Station> random_stations(Random& random) {
  std::vector<Station> stations;
  double x = random.between(-50, 50);
  const std::size_t count = random.count(2, 9);
  for (std::size_t i = 0; i < count; ++i) {
    // Level stretches and steep steps beside each other: what makes ordinary splines overshoot.
    const double value = random.chance(0.2) && i > 0 ? stations.back().value : random.between(2, 14);
    stations.push_back({x, value});
    x += random.chance(0.3) ? random.between(0.1, 1) : random.between(1, 60);
  }
  return stations;
}

/// Fritsch and Carlson, SIAM J. Numer. Anal. 17 (1980), theorem 1 and the lemmas before it: with alpha and
/// beta the end slopes over the chord's slope, a cubic is monotone if and only if both are at least 0 and
/// either alpha + beta <= 2, or 2 alpha + beta <= 3, or alpha + 2 beta <= 3, or phi(alpha, beta) >= 0.
bool in_monotone_region(double alpha, double beta) {
  constexpr double slack = 1e-9;
  if (alpha < -slack || beta < -slack) return false;
  if (alpha + beta <= 2 + slack || 2 * alpha + beta <= 3 + slack || alpha + 2 * beta <= 3 + slack)
    return true;
  const double bow = 2 * alpha + beta - 3;
  return alpha - bow * bow / (3 * (alpha + beta - 2)) >= -slack;
}

/// The slope changes over a hair round x by no more than the curvature there makes of it.
void check_no_kink(const MonotoneCubic& curve, double x) {
  const double bend = std::abs(curve.at(x - 1e-9).curvature) + std::abs(curve.at(x + 1e-9).curvature);
  CHECK(curve.slope(x - 1e-9) == Approx(curve.slope(x + 1e-9)).epsilon(0).margin(1.1e-9 * bend + 1e-12));
}

}  // namespace

TEST_CASE("a thickness curve passes through its stations and levels out beyond them without a kink") {
  Random random(11);
  for (int round = 0; round < 200; ++round) {
    const std::vector<Station> stations = random_stations(random);
    const MonotoneCubic curve(stations);
    for (const Station& station : stations)
      CHECK(curve.value(station.x) == Approx(station.value).epsilon(1e-13));
    for (const Station& end : {stations.front(), stations.back()}) {
      const double outward = end.x == stations.front().x ? -1 : 1;
      const double slope = curve.slope(end.x);
      // A parabola: half-way out the slope is half, three quarters of the whole rise are done.
      const double half = end.x + outward * MonotoneCubic::kLevelling / 2;
      const double far = end.x + outward * MonotoneCubic::kLevelling;
      CHECK(curve.slope(half) == Approx(slope / 2).epsilon(0).margin(1e-12));
      CHECK(curve.value(far) - end.value ==
            Approx(outward * slope * MonotoneCubic::kLevelling / 2).epsilon(0).margin(1e-9));
      CHECK(curve.value(half) - end.value ==
            Approx(0.75 * (curve.value(far) - end.value)).epsilon(0).margin(1e-9));
      CHECK(curve.slope(far) == 0);
      CHECK(curve.value(far + outward * 50) == curve.value(far));
      check_no_kink(curve, end.x);
    }
  }
}

TEST_CASE("a thickness curve never leaves the range of the two stations beside it nor turns between them") {
  Random random(12);
  for (int round = 0; round < 500; ++round) {
    const std::vector<Station> stations = random_stations(random);
    const MonotoneCubic curve(stations);
    for (std::size_t i = 0; i + 1 < stations.size(); ++i) {
      const Station& a = stations[i];
      const Station& b = stations[i + 1];
      const double rise = b.value - a.value;
      double before = a.value;
      for (int k = 1; k <= 200; ++k) {
        const double here = curve.value(a.x + (b.x - a.x) * k / 200);
        REQUIRE((here - before) * rise >= -1e-12);
        if (rise == 0) REQUIRE(here == Approx(a.value).epsilon(1e-13));
        before = here;
      }
    }
  }
}

TEST_CASE("the slopes keep the published condition for a monotone cubic") {
  Random random(13);
  for (int round = 0; round < 500; ++round) {
    const std::vector<Station> stations = random_stations(random);
    const MonotoneCubic curve(stations);
    for (std::size_t i = 0; i + 1 < stations.size(); ++i) {
      const Station& a = stations[i];
      const Station& b = stations[i + 1];
      const double chord = (b.value - a.value) / (b.x - a.x);
      if (chord == 0) continue;
      REQUIRE(in_monotone_region(curve.slope(a.x) / chord, curve.slope(b.x) / chord));
    }
  }
}

TEST_CASE("two stations give a straight line and three on a parabola the parabola") {
  const MonotoneCubic line({{-10, 4}, {90, 9}});
  for (double x = -10; x <= 90; x += 3.7) CHECK(line.value(x) == Approx(4 + 0.05 * (x + 10)).epsilon(1e-14));
  CHECK(line.slope(90) == Approx(0.05).epsilon(1e-14));

  // Unequal steps: a slope taken as the mean of the chords would miss.
  const auto parabola = [](double x) { return 12 - 0.001 * (x - 120) * (x - 120); };
  const MonotoneCubic curve({{0, parabola(0)}, {20, parabola(20)}, {75, parabola(75)}, {110, parabola(110)}});
  for (double x = 0; x <= 110; x += 1.3) {
    CHECK(curve.value(x) == Approx(parabola(x)).epsilon(1e-13));
    CHECK(curve.slope(x) == Approx(-0.002 * (x - 120)).epsilon(1e-12));
    CHECK(curve.at(x).curvature == Approx(-0.002).epsilon(1e-10));
  }
}

TEST_CASE("slope and curvature are the derivatives of the value and the slope has no jump") {
  Random random(14);
  for (int round = 0; round < 100; ++round) {
    const std::vector<Station> stations = random_stations(random);
    const MonotoneCubic curve(stations);
    for (std::size_t i = 0; i + 1 < stations.size(); ++i) {
      const double width = stations[i + 1].x - stations[i].x;
      const double h = 1e-4 * width;
      const double rise = std::abs(stations[i + 1].value - stations[i].value);
      for (double share : {0.1, 0.35, 0.8}) {
        const double x = stations[i].x + share * width;
        const double slope = (curve.value(x + h) - curve.value(x - h)) / (2 * h);
        const double curvature = (curve.slope(x + h) - curve.slope(x - h)) / (2 * h);
        CHECK(curve.slope(x) == Approx(slope).epsilon(0).margin(1e-7 * (1 + rise / width)));
        CHECK(curve.at(x).curvature ==
              Approx(curvature).epsilon(0).margin(1e-7 * (1 + rise / width / width)));
      }
      if (i == 0) continue;
      check_no_kink(curve, stations[i].x);
    }
  }
}

TEST_CASE("mirrored stations give the mirrored curve") {
  Random random(15);
  for (int round = 0; round < 200; ++round) {
    const std::vector<Station> stations = random_stations(random);
    std::vector<Station> mirrored;
    for (auto it = stations.rbegin(); it != stations.rend(); ++it) mirrored.push_back({-it->x, it->value});
    const MonotoneCubic curve(stations);
    const MonotoneCubic mirror(mirrored);
    for (int k = 0; k < 30; ++k) {
      const double x = random.between(stations.front().x - 5, stations.back().x + 5);
      CHECK(mirror.value(-x) == Approx(curve.value(x)).epsilon(1e-12));
    }
  }
}

TEST_CASE("the steepest slope bounds every slope and is reached") {
  Random random(16);
  for (int round = 0; round < 200; ++round) {
    const std::vector<Station> stations = random_stations(random);
    const MonotoneCubic curve(stations);
    double seen = 0;
    const double length = stations.back().x - stations.front().x;
    for (int k = 0; k <= 20000; ++k)
      seen = std::max(seen, std::abs(curve.slope(stations.front().x + length * k / 20000)));
    for (const Station& station : stations) seen = std::max(seen, std::abs(curve.slope(station.x)));
    CHECK(curve.steepest() >= seen * (1 - 1e-12));
    CHECK(curve.steepest() <= seen * 1.01);
  }
}

TEST_CASE("a curve refuses stations that make no curve") {
  const double nan = std::numeric_limits<double>::quiet_NaN();
  const double infinity = std::numeric_limits<double>::infinity();
  CHECK_THROWS_AS(MonotoneCubic({}), std::invalid_argument);
  CHECK_THROWS_AS(MonotoneCubic({{0, 1}, {0, 2}}), std::invalid_argument);
  CHECK_THROWS_AS(MonotoneCubic({{5, 1}, {0, 2}}), std::invalid_argument);
  CHECK_THROWS_AS(MonotoneCubic({{0, nan}}), std::invalid_argument);
  CHECK_THROWS_AS(MonotoneCubic({{0, 1}, {nan, 2}}), std::invalid_argument);
  CHECK_THROWS_AS(MonotoneCubic({{0, 1}, {infinity, 2}}), std::invalid_argument);
  CHECK(MonotoneCubic({{3, 7}}).value(-100) == 7);
  CHECK(MonotoneCubic({{3, 7}}).slope(3) == 0);
}
