// The drill guide's mesh: closed, as large as its plan says, and telling of what has no room.
#include "haftwright/preview/guide_mesh.hpp"

#include <catch2/catch.hpp>
#include <numbers>
#include <optional>

#include "haftwright/design/validate.hpp"
#include "haftwright/handle/lay_out.hpp"
#include "preview/open_edges.hpp"
#include "support/hand_made_guide.hpp"
#include "support/random_design.hpp"

using namespace haftwright;

namespace {

constexpr double kPi = std::numbers::pi;
/// Every triangle's own direction and the normals stored at its corners agree.
bool normals_agree(const Body& body) {
  const auto vec = [](const std::array<float, 3>& v) { return Vec3(v[0], v[1], v[2]); };
  for (std::size_t i = 0; i < body.triangles.size(); i += 3) {
    const auto corner = [&](std::size_t k) { return body.vertices[body.triangles[i + k]]; };
    const Vec3 a = vec(corner(0).position);
    const Vec3 across = glm::cross(vec(corner(1).position) - a, vec(corner(2).position) - a);
    if (glm::length(across) < 1e-3) continue;  // a sliver: single precision does not know its direction
    for (std::size_t k = 0; k < 3; ++k)
      if (glm::dot(glm::normalize(across), vec(corner(k).normal)) < 0.8) return false;
  }
  return true;
}

/// A plate with rounded ends and one of everything.
DrillGuide hand_made() {
  return test::hand_made_guide(Outline({{{0, 0}, 0}, {{120, 0}, 1}, {{120, 60}, 0}, {{0, 60}, 1}}));
}

double hand_made_volume() {
  const double plate = (120 * 60 + kPi * 30 * 30) * 12;
  const double fences = 2 * kPi * 16 * 2 * 5;
  const double holes = kPi / 4 * (3.25 * 3.25 + 9.55 * 9.55 + 6 * 6) * 12 + 5 * 9 * 12;
  return plate + fences - holes;
}

}  // namespace

TEST_CASE("the guide's plate is closed and has the volume of its plan") {
  const Preview preview = build_guide_preview(hand_made(), 0.001);
  REQUIRE(preview.bodies.size() == 3);
  const Body& plate = preview.bodies.front();
  CHECK(test::open_edges(plate).empty());
  CHECK(normals_agree(plate));
  CHECK(mesh_volume_mm3(plate) == Approx(hand_made_volume()).epsilon(1e-4));
  // Coarser chords take some off the rounds, but no more than their deviation all along them.
  const double rounds = kPi * (60 * 12 + 2 * 8 * 10 + (3.25 + 9.55 + 6) * 12);
  CHECK(std::abs(mesh_volume_mm3(build_guide_preview(hand_made(), 0.05).bodies.front()) -
                 hand_made_volume()) < 0.05 * rounds);
  CHECK(glm::distance(preview.low, Vec3(-30, 0, -11)) < 0.01);
  CHECK(glm::distance(preview.high, Vec3(150, 60, 11)) < 0.01);
}

TEST_CASE("a wedge's mesh is closed and has the volume of its plan") {
  constexpr double kSlope = -0.03;
  DrillGuide guide = hand_made();
  guide.thickness_slope = kSlope;
  const Preview preview = build_guide_preview(guide, 0.001);
  REQUIRE(preview.bodies.size() == 3);
  CHECK(test::open_edges(preview.bodies.front()).empty());
  CHECK(normals_agree(preview.bodies.front()));
  // Area times thickness at the centroid, and as much for everything that stands or is bored upright.
  const double plate = (120 * 60 + kPi * 30 * 30) * kSlope * 60;
  const double holes = kSlope * (kPi / 4 * (3.25 * 3.25 * 30 + 9.55 * 9.55 * 80 + 36 * 10) + 45 * 57.5);
  CHECK(mesh_volume_mm3(preview.bodies.front()) == Approx(hand_made_volume() + plate - holes).epsilon(1e-4));
  for (const Body& body : preview.bodies) CHECK(mesh_volume_mm3(body) > 0);
}

TEST_CASE("marks lie on the face they are read from") {
  const Preview preview = build_guide_preview(hand_made());
  const auto reaches = [](const Body& body, double z) {
    return std::any_of(body.vertices.begin(), body.vertices.end(), [&](const Vertex& vertex) {
      return std::abs(static_cast<double>(vertex.position[2]) - z) < 0.2;
    });
  };
  CHECK(reaches(preview.bodies[1], 6));
  CHECK_FALSE(reaches(preview.bodies[1], -6));
  CHECK(reaches(preview.bodies[2], -6));
  CHECK_FALSE(reaches(preview.bodies[2], 6));
}

TEST_CASE("what has no room stands apart and the plate stays whole") {
  DrillGuide guide = hand_made();
  guide.windows.push_back({.outline = test::box(28, 20, 33, 29)});                            // into a bore
  guide.windows.push_back({.outline = test::box(40, 55, 45, 64)});                            // over the edge
  guide.windows.push_back({.outline = test::box(56, 40, 58, 42)});                            // in a window
  guide.locators.push_back({LocatorRole::edge_fence, Serves::tang, {92, 52}, 8, false, {}});  // into a fence
  const Preview preview = build_guide_preview(guide, 0.001);
  REQUIRE(preview.bodies.size() == 3 + 4);
  CHECK(mesh_volume_mm3(preview.bodies[0]) == Approx(hand_made_volume()).epsilon(1e-4));
  std::size_t plugs = 0;
  for (const Body& body : preview.bodies) {
    CHECK(test::open_edges(body).empty());
    if (body.name == "no room here") ++plugs;
  }
  CHECK(plugs == 3);
  CHECK(preview.bodies[3].name == "fence");
}

namespace {

/// Of the plate with everything that stands on it or goes through it: areas times the thickness at their
/// centroids.
double planned_volume(const DrillGuide& guide) {
  const auto disc = [&](Vec2 at, double diameter) {
    return kPi / 4 * diameter * diameter * guide.thickness_at_mm(at.x);
  };
  const auto prism = [&](const Outline& outline) {
    const Moments moments = outline.moments();
    return moments.area_mm2 * guide.thickness_at_mm(moments.centroid.x);
  };
  double volume = prism(guide.plate);
  for (const GuideBore& bore : guide.bores) volume -= disc(bore.at, bore.diameter_mm);
  for (const SightWindow& window : guide.windows) volume -= prism(window.outline);
  for (const GuideLocator& locator : guide.locators)
    if (locator.loose)
      volume -= disc(locator.at, locator.diameter_mm);
    else
      volume += kPi / 4 * locator.diameter_mm * locator.diameter_mm * 2 * guide.fence_height_mm;
  return volume;
}

}  // namespace

TEST_CASE("the guide of every random design is closed and as large as planned") {
  std::size_t whole = 0;
  std::size_t troubled = 0;
  std::size_t refused = 0;
  for (std::uint64_t seed = 1; seed <= 60; ++seed) {
    const Design design = test::random_design(seed);
    INFO("seed " << seed);
    std::optional<DrillGuide> guide;
    try {
      guide = lay_out_guide(design, lay_out(design));
    } catch (const InputError&) {
      ++refused;  // no pins, or no room for the fences: there is no plan to draw
      continue;
    }
    const Preview preview = build_guide_preview(*guide);
    bool all_fits = true;
    for (const Body& body : preview.bodies) {
      INFO(body.name);
      REQUIRE(test::open_edges(body).empty());
      REQUIRE(normals_agree(body));
      REQUIRE(mesh_volume_mm3(body) > 0);
      if (body.name == "no room here" || body.name == "fence") all_fits = false;
    }
    ++(all_fits ? whole : troubled);
    if (all_fits) {
      REQUIRE(mesh_volume_mm3(preview.bodies[0]) == Approx(planned_volume(*guide)).epsilon(0.002));
    }
  }
  CHECK(whole >= 20);
  CHECK(refused + troubled < 40);
}

TEST_CASE("a guide's mesh refuses a deviation that makes no sense") {
  CHECK_THROWS_AS(build_guide_preview(hand_made(), 0), std::invalid_argument);
  CHECK_THROWS_AS(build_guide_preview(hand_made(), 2), std::invalid_argument);
}
