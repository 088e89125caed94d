// From marks to millimetres: against a camera that is known.
#include <catch2/catch.hpp>
#include <functional>

#include "haftwright/pictures/squaring.hpp"
#include "support/nearly.hpp"
#include "support/seeds.hpp"
#include "support/synthetic_camera.hpp"

using namespace haftwright;
using namespace haftwright::test;

namespace {

const Vec2 kLow{0, 0};
const Vec2 kHigh{150, 110};

Squaring squared(const SyntheticCamera& camera, const SquaringInput& input) {
  return square_up(input, camera.width_px, camera.height_px);
}

/// Places inside the marks, and how far each comes out from where it is.
struct Off {
  Vec2 mm{0, 0};
  double by_mm = 0;
};
std::vector<Off> offs(const SyntheticCamera& camera, const Squaring& squaring, double height_mm = 0) {
  std::vector<Off> all;
  for (int i = 0; i <= 10; ++i)
    for (int k = 0; k <= 10; ++k) {
      const Vec2 mm = kLow + (kHigh - kLow) * Vec2{i / 10.0, k / 10.0};
      all.push_back({mm, glm::distance(squaring.to_mm(camera.project(mm, height_mm)), mm)});
    }
  return all;
}
double largest(const std::vector<Off>& all) {
  double most = 0;
  for (const Off& off : all) most = std::max(most, off.by_mm);
  return most;
}
void check_within_bound(const std::vector<Off>& all, const Squaring& squaring) {
  for (const Off& off : all) CHECK(off.by_mm <= squaring.bound_mm(off.mm) * (1 + 1e-9) + 1e-9);
}

/// Shifts each mark by exactly that many pixels, any way.
std::vector<Mark> shaken(std::vector<Mark> marks, double by_px, Random& random) {
  for (Mark& mark : marks) {
    const double turn = random.between(0, 2 * std::numbers::pi);
    mark.at_px += by_px * Vec2{std::cos(turn), std::sin(turn)};
  }
  return marks;
}

std::vector<Vec2> ring_of_places() {
  std::vector<Vec2> places;
  for (int i = 0; i <= 8; ++i)
    for (int k = 0; k <= 6; ++k)
      if (i == 0 || i == 8 || k == 0 || k == 6)
        places.push_back(kLow + (kHigh - kLow) * Vec2{i / 8.0, k / 6.0});
  return places;
}

/// The map of the unit square to a quadrilateral in closed form (Heckbert, Fundamentals of Texture Mapping,
/// UCB/CSD 89/516, 1989, 2.2.3): shares no code and no method with the fit.
std::function<Vec2(Vec2)> square_to(const std::array<Vec2, 4>& q) {
  const Vec2 sum = q[0] - q[1] + q[2] - q[3];
  const Vec2 d1 = q[1] - q[2];
  const Vec2 d2 = q[3] - q[2];
  const double g = cross(sum, d2) / cross(d1, d2);
  const double h = cross(d1, sum) / cross(d1, d2);
  const Vec2 a = q[1] - q[0] + g * q[1];
  const Vec2 b = q[3] - q[0] + h * q[3];
  const Vec2 c = q[0];
  return [=](Vec2 p) { return (a * p.x + b * p.y + c) / (g * p.x + h * p.y + 1); };
}

}  // namespace

TEST_CASE("four marks give the map in closed form") {
  Random random(11);
  for (int i = 0; i < 200; ++i) {
    const SyntheticCamera camera = random_camera(random, {75, 55}, 45);
    const auto marks = shaken(marks_seen(camera, corners_of(kLow, kHigh)), random.between(0, 40), random);
    const Squaring squaring = squared(camera, {.marks = marks});
    const auto direct = square_to({marks[0].at_px, marks[1].at_px, marks[2].at_px, marks[3].at_px});
    for (int k = 0; k < 20; ++k) {
      const Vec2 part{random.between(-0.2, 1.2), random.between(-0.2, 1.2)};
      CHECK(glm::distance(squaring.to_px(kLow + part * (kHigh - kLow)), direct(part)) < 1e-6);
    }
  }
}

TEST_CASE("a plane seen without distortion comes back exactly, with noise within the bound and 0.2 mm") {
  Random random(12);
  const Seeds seeds = seeds_to_try("HAFTWRIGHT_CAMERAS", {20, 150, 2000}, 0);
  double worst = 0;
  for (std::uint64_t i = 0; i < seeds.count; ++i) {
    const SyntheticCamera camera = random_camera(random, {75, 55}, 35);
    const auto exact = marks_seen(camera, corners_of(kLow, kHigh));
    CHECK(largest(offs(camera, squared(camera, {.marks = exact}))) < 1e-9);
    const Squaring noisy = squared(camera, {.marks = shaken(exact, 0.3, random),
                                            .height_error_mm = 0,
                                            .mark_error_px = 0.3,
                                            .lens_bow_share = 0});
    const auto all = offs(camera, noisy);
    check_within_bound(all, noisy);
    worst = std::max(worst, largest(all));
  }
  CHECK(worst < 0.2);
  CHECK(worst > 0.01);  // the noise was there
}

TEST_CASE("more marks are least squares, with a residual that tells") {
  Random random(13);
  const SyntheticCamera camera = random_camera(random, {75, 55}, 30);
  const auto exact = marks_seen(camera, ring_of_places());
  const Squaring clean = squared(camera, {.marks = exact});
  REQUIRE(clean.largest_residual_mm());
  CHECK(*clean.largest_residual_mm() < 1e-6);
  const auto noisy = shaken(exact, 0.3, random);
  const Squaring squaring = squared(camera, {.marks = noisy, .lens_bow_share = 0});
  CHECK(*squaring.largest_residual_mm() > 0.01);
  CHECK(*squaring.largest_residual_mm() < 0.2);
  CHECK_FALSE(squared(camera, {.marks = marks_seen(camera, corners_of(kLow, kHigh))}).largest_residual_mm());
  // At the least sum of squares of pixels no mark's place can be bettered: tried by moving the whole map a
  // bit, which is the same as moving all marks the other way.
  const auto cost = [&](const Squaring& s, Vec2 shift) {
    double sum = 0;
    for (const Mark& mark : noisy) {
      const Vec2 off = s.to_px(mark.at_mm) + shift - mark.at_px;
      sum += glm::dot(off, off);
    }
    return sum;
  };
  for (const Vec2 shift : {Vec2{0.05, 0}, Vec2{-0.05, 0}, Vec2{0, 0.05}, Vec2{0, -0.05}})
    CHECK(cost(squaring, {0, 0}) < cost(squaring, shift));
}

TEST_CASE("the fit does not depend on where and how large pictures and sizes are") {
  // The property for which the transformation is scaled first: Hartley & Zisserman, 2nd ed., 4.4.4.
  Random random(14);
  const SyntheticCamera camera = random_camera(random, {75, 55}, 30);
  const auto marks = shaken(marks_seen(camera, ring_of_places()), 0.5, random);
  const SquaringInput input{.marks = marks, .lens_bow_share = 0};
  const Squaring squaring = squared(camera, input);
  SquaringInput moved = input;
  const Vec2 shift_mm{70'000, -30'000};
  for (Mark& mark : moved.marks) mark.at_mm = 0.01 * mark.at_mm + shift_mm;
  const Squaring other = squared(camera, moved);
  for (int i = 0; i < 20; ++i) {
    const Vec2 px{random.between(1000, 3000), random.between(800, 2200)};
    CHECK(glm::distance(0.01 * squaring.to_mm(px) + shift_mm, other.to_mm(px)) < 1e-6);
  }
}

TEST_CASE("a bowed lens stays within the stated bound, and is found from edges known to be straight") {
  Random random(15);
  const Seeds seeds = seeds_to_try("HAFTWRIGHT_LENSES", {10, 60, 1000}, 0);
  double found_worst = 0;
  for (std::uint64_t i = 0; i < seeds.count; ++i) {
    SyntheticCamera camera = random_camera(random, {75, 55}, 25);
    camera.brown_k = random.between(-0.0099, 0.0099);
    const auto marks = shaken(marks_seen(camera, corners_of(kLow, kHigh)), 0.3, random);
    SquaringInput input{.marks = marks, .height_error_mm = 0, .mark_error_px = 0.3};
    const Squaring unknown = squared(camera, input);
    CHECK_FALSE(unknown.lens_is_found());
    const auto before = offs(camera, unknown);
    check_within_bound(before, unknown);
    // Two rules laid along the sides.
    for (const double y : {-12.0, 122.0}) {
      std::vector<Vec2> edge;
      for (int k = 0; k <= 30; ++k)
        edge.push_back(camera.project(Vec2{-20 + 190 * k / 30.0, y}) +
                       Vec2{random.between(-0.2, 0.2), random.between(-0.2, 0.2)});
      input.straight_edges_px.push_back(edge);
    }
    const Squaring found = squared(camera, input);
    CHECK(found.lens_is_found());
    const auto after = offs(camera, found);
    check_within_bound(after, found);
    CHECK(found.bound({75, 0}).lens_mm < unknown.bound({75, 0}).lens_mm);
    found_worst = std::max(found_worst, largest(after));
  }
  CHECK(found_worst < 0.2);
}

TEST_CASE("a strongly bowed lens is worth finding") {
  Random random(21);
  for (const double k : {-0.03, 0.03}) {
    SyntheticCamera camera = random_camera(random, {75, 55}, 15);
    camera.brown_k = k;
    SquaringInput input{.marks = marks_seen(camera, corners_of(kLow, kHigh))};
    const double unknown = largest(offs(camera, squared(camera, input)));
    for (const double y : {-12.0, 122.0}) {
      std::vector<Vec2> edge;
      for (int i = 0; i <= 30; ++i) edge.push_back(camera.project(Vec2{-20 + 190 * i / 30.0, y}));
      input.straight_edges_px.push_back(edge);
    }
    CHECK(unknown > 0.05);
    CHECK(largest(offs(camera, squared(camera, input))) < unknown / 5);
  }
}

TEST_CASE("many marks find the lens by themselves") {
  Random random(16);
  for (const double k : {-0.06, -0.02, 0.02, 0.06}) {
    SyntheticCamera camera = random_camera(random, {75, 55}, 25);
    camera.focal_px *= 1.6;  // the marks fill the picture's middle
    camera.brown_k = k;
    const Squaring squaring =
        squared(camera, {.marks = shaken(marks_seen(camera, ring_of_places()), 0.2, random),
                         .height_error_mm = 0,
                         .mark_error_px = 0.2});
    INFO("k " << k << ", found " << squaring.lens().k1);
    CHECK(squaring.lens_is_found());
    const auto all = offs(camera, squaring);
    check_within_bound(all, squaring);
    CHECK(largest(all) < 0.15);
  }
}

TEST_CASE("a face over the marks is brought down to its true size") {
  Random random(17);
  const Seeds seeds = seeds_to_try("HAFTWRIGHT_HEIGHTS", {5, 30, 500}, 0);
  for (const double height : {-4.0, 0.8, 3.0, 10.0, 25.0})
    for (std::uint64_t i = 0; i < seeds.count; ++i) {
      const SyntheticCamera camera = random_camera(random, {75, 55}, 25);
      SquaringInput input{.marks = marks_seen(camera, corners_of(kLow, kHigh)), .mark_error_px = 0};
      const double ignored = largest(offs(camera, squared(camera, input), height));
      input.face_above_marks_mm = height;
      input.focal_px = camera.focal_px;
      const Squaring known = squared(camera, input);
      REQUIRE(known.camera());
      CHECK(known.camera()->height_mm == Approx(camera.eye_mm.z).epsilon(1e-9));
      CHECK(glm::distance(known.camera()->foot_mm, Vec2{camera.eye_mm.x, camera.eye_mm.y}) < 1e-6);
      CHECK(largest(offs(camera, known, height)) < 1e-8);
      // With the focal length not quite right, or not known at all, or the height measured: within the bound.
      input.focal_px = camera.focal_px * random.between(0.95, 1.05);
      const Squaring stated = squared(camera, input);
      check_within_bound(offs(camera, stated, height), stated);
      input.focal_px.reset();
      const Squaring assumed = squared(camera, input);
      check_within_bound(offs(camera, assumed, height), assumed);
      CHECK(largest(offs(camera, assumed, height)) < ignored);
      input.camera_height_mm = camera.eye_mm.z * random.between(0.98, 1.02);
      const Squaring measured = squared(camera, input);
      check_within_bound(offs(camera, measured, height), measured);
      CHECK(measured.camera()->height_mm == Approx(*input.camera_height_mm).epsilon(1e-6));
    }
}

TEST_CASE("a bound follows its causes") {
  Random random(18);
  const SyntheticCamera camera = random_camera(random, {75, 55}, 20);
  SquaringInput input{.marks = marks_seen(camera, corners_of(kLow, kHigh)), .height_error_mm = 0};
  const Vec2 at{40, 30};
  const PlaceBound bound = squared(camera, input).bound(at);
  input.mark_error_px = 3;
  CHECK(squared(camera, input).bound(at).marks_mm == Approx(3 * bound.marks_mm).epsilon(0.05));
  CHECK(bound.height_mm == 0);
  CHECK(bound.size_mm == 0);
  CHECK(bound.lens_mm > 0);
  CHECK(bound.total_mm() == nearly(bound.marks_mm + bound.lens_mm));
  input.lens_bow_share = 0;
  input.size_error_share = 0.01;
  const PlaceBound other = squared(camera, input).bound(at);
  CHECK(other.lens_mm == 0);
  CHECK(other.size_mm == nearly(0.01 * glm::distance(at, Vec2{75, 55})));
  // Outside the marks errors grow.
  CHECK(squared(camera, input).bound({-100, 55}).marks_mm > 2 * other.marks_mm);
}

TEST_CASE("two sides of a rectangle, in either order, and scans") {
  Random random(19);
  const SyntheticCamera camera = random_camera(random, {75, 55}, 30);
  const auto corners = corners_of(kLow, kHigh);
  std::array<Vec2, 4> px{};
  for (std::size_t i = 0; i < 4; ++i) px[i] = camera.project(corners[i]);
  const auto length = [](const Squaring& s, Vec2 a, Vec2 b) { return glm::distance(s.to_mm(a), s.to_mm(b)); };
  for (const bool backward : {false, true}) {
    if (backward) std::swap(px[1], px[3]);
    const Squaring squaring =
        from_two_sides(px, backward ? 110 : 150, backward ? 150 : 110, {}, camera.width_px, camera.height_px);
    for (int i = 0; i < 20; ++i) {
      const Vec2 a{random.between(0, 150), random.between(0, 110)};
      const Vec2 b{random.between(0, 150), random.between(0, 110)};
      CHECK(length(squaring, camera.project(a), camera.project(b)) ==
            Approx(glm::distance(a, b)).margin(1e-8));
    }
    // Not mirrored: the way round stays.
    CHECK(cross(squaring.to_mm(camera.project(Vec2{1, 0})) - squaring.to_mm(camera.project(Vec2{0, 0})),
                squaring.to_mm(camera.project(Vec2{0, 1})) - squaring.to_mm(camera.project(Vec2{0, 0}))) > 0);
  }
  const Squaring scan = from_dpi(600, 4960, 7016);
  CHECK(glm::distance(scan.to_mm({0, 7016}), Vec2{0, 0}) < 1e-9);
  CHECK(glm::distance(scan.to_mm({600, 7016 - 1200}), Vec2{25.4, 50.8}) < 1e-9);
  CHECK(scan.px_per_mm({10, 10}) == Approx(600 / 25.4).epsilon(1e-9));
  CHECK(scan.bound({0, 0}).total_mm() == scan.bound({0, 0}).size_mm);
}

namespace {

std::string refusal(const SquaringInput& input) {
  try {
    square_up(input, 4000, 3000);
  } catch (const SquaringError& error) {
    return error.what();
  }
  return "";
}

}  // namespace

TEST_CASE("marks that can't be are refused with what is wrong") {
  const auto has = [](const char* text) { return Catch::Contains(text); };
  Random random(20);
  SyntheticCamera camera;
  camera.eye_mm = {75, 55, 400};
  const auto good = marks_seen(camera, corners_of(kLow, kHigh));
  REQUIRE(refusal({.marks = good}).empty());
  CHECK_THAT(refusal({}), has("Four marks or more") && has("there are 0"));
  auto marks = good;
  marks.pop_back();
  CHECK_THAT(refusal({.marks = marks}), has("there are 3"));
  marks = good;
  marks[2].at_px = (marks[1].at_px + marks[3].at_px) / 2.0;
  CHECK_THAT(refusal({.marks = marks}), has("mark 2, mark 3 and mark 4 lie on one line"));
  marks = good;
  marks[2].at_mm = {75, 0};
  CHECK_THAT(refusal({.marks = marks}), has("In millimetres, mark 1, mark 2 and mark 3 lie on one line"));
  marks = good;
  std::swap(marks[2].at_px, marks[3].at_px);
  CHECK_THAT(refusal({.marks = marks}), has("cross"));
  marks = good;
  std::swap(marks[1].at_px, marks[3].at_px);
  CHECK_THAT(refusal({.marks = marks}), has("mirror"));
  marks = good;
  marks[3].at_px = marks[0].at_px;
  CHECK_THAT(refusal({.marks = marks}), has("mark 1 and mark 4 are at one place"));
  marks = good;
  marks[1].at_px.x = 4100;
  CHECK_THAT(refusal({.marks = marks}), has("mark 2 must lie on the picture"));
  marks = good;
  marks[1].at_mm.x = std::nan("");
  CHECK_THAT(refusal({.marks = marks}), has("mark 2 must be given in numbers"));
  marks = marks_seen(camera, ring_of_places());
  std::swap(marks[4].at_mm, marks[9].at_mm);
  CHECK_THAT(refusal({.marks = marks}), has("do not agree"));
  marks.resize(6);  // all on one side
  for (std::size_t i = 0; i < 6; ++i) marks[i] = {{100.0 + 100 * double(i), 200}, {double(i), 0}};
  CHECK_THAT(refusal({.marks = marks}), has("do not determine"));
  // Nearly along the plane.
  SyntheticCamera flat;
  flat.eye_mm = {75, -60, 12};
  flat.ahead = glm::normalize(Vec3{0, 1, -0.2});
  flat.down = glm::cross(flat.ahead, flat.right);
  flat.focal_px = 1200;
  CHECK_THAT(refusal({.marks = marks_seen(flat, corners_of({40, 0}, {110, 600}))}), has("flatly"));
  CHECK_THAT(refusal({.marks = good, .face_above_marks_mm = 300, .camera_height_mm = 400}), has("too near"));
  CHECK_THROWS_AS(square_up({.marks = good, .mark_error_px = -1}, 4000, 3000), std::invalid_argument);
  CHECK_THROWS_AS(from_dpi(0, 100, 100), SquaringError);
  CHECK_THROWS_AS(from_two_sides({}, 0, 10, {}, 100, 100), SquaringError);
}
