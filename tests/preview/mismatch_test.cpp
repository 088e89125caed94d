// Joint lines of both sides held against each other, and how the grain lies.
#include "haftwright/preview/mismatch.hpp"

#include <catch2/catch.hpp>
#include <cmath>

#include "haftwright/design/starters.hpp"
#include "haftwright/handle/lay_out.hpp"
#include "haftwright/preview/meshes.hpp"
#include "support/nearly.hpp"
#include "support/random_design.hpp"

using namespace haftwright;

TEST_CASE("mirrored sides have no step anywhere") {
  std::size_t checked = 0;
  for (std::uint64_t seed = 1; seed <= 60; ++seed) {
    Design design = test::random_design(seed);
    design.right = {};
    const Handle handle = lay_out(design);
    const std::vector<LinePair> pairs = pair_joint_lines(handle);
    std::size_t lines = 1;
    for (const JointLayout& joint : handle.left.joints) lines += joint.lines.size();
    REQUIRE(pairs.size() == lines);
    REQUIRE(pairs.front().front_face);
    for (const LinePair& pair : pairs) {
      REQUIRE(pair.largest_mm() == 0);
      REQUIRE(pair.left == pair.right);
      REQUIRE(pair.left.front().y < pair.left.back().y);
      REQUIRE(glm::distance(pair.spine, pair.left.back()) < 1e-9);
      REQUIRE(glm::distance(pair.belly, pair.left.front()) < 1e-9);
      ++checked;
    }
  }
  CHECK(checked > 100);
}

TEST_CASE("lines lie on the finished surface, the front face's too") {
  for (std::uint64_t seed = 1; seed <= 60; ++seed) {
    const Handle handle = lay_out(test::random_design(seed));
    for (const LinePair& pair : pair_joint_lines(handle))
      // Between the ends, which stand on the edge itself.
      for (std::size_t i = 1; i + 1 < pair.left.size(); ++i) {
        const Vec3 p = pair.left[i];
        const double height = p.z - handle.tang_thickness_mm(p.x) / 2;
        INFO("seed " << seed << ", joint " << pair.joint << " at " << p.x << ", " << p.y);
        REQUIRE(height == Approx(handle.left.surface.height_mm({p.x, p.y})).margin(1e-6));
        if (pair.front_face)
          REQUIRE(std::abs(handle.left.front.behind_mm(p.x, p.y, height - handle.left.liner_total_mm)) <
                  1e-6);
      }
  }
}

TEST_CASE("steps are those that were put in") {
  Design design = starter_design(starter_outline(StraightTang{}), 4, LengthUnit::millimetre);
  design.left.joints[0] = {.place_mm = 40};
  design.right.joints = design.left.joints;
  design.right.joints->front() = {.place_mm = 40.2, .slant_deg = 1};
  const Handle handle = lay_out(design);
  const std::vector<LinePair> pairs = pair_joint_lines(handle);
  REQUIRE(pairs.size() == 2);
  CHECK(pairs[0].largest_mm() == 0);
  // x = 40.2 + y tan 1 deg against x = 40, at the y where the right line meets the edge.
  const double tangent = std::tan(3.14159265358979 / 180);
  CHECK(pairs[1].step_at_spine_mm == Approx(0.2 + pairs[1].right.back().y * tangent).margin(1e-9));
  CHECK(pairs[1].step_at_belly_mm == Approx(0.2 + pairs[1].right.front().y * tangent).margin(1e-9));
  CHECK(pairs[1].spine.x == Approx(40 + pairs[1].step_at_spine_mm / 2).margin(1e-9));
}

TEST_CASE("a line without a partner stands alone") {
  Design design = starter_design(starter_outline(StraightTang{}), 4, LengthUnit::millimetre);
  design.left.joints[0] = {.place_mm = 40, .spacers = {{"brass_c36000", 1}}};
  design.right.joints = design.left.joints;
  design.right.joints->front().spacers.clear();
  const std::vector<LinePair> pairs = pair_joint_lines(lay_out(design));
  REQUIRE(pairs.size() == 3);
  CHECK_FALSE(pairs[1].right.empty());
  CHECK(pairs[2].right.empty());
  CHECK(pairs[2].largest_mm() == 0);
}

TEST_CASE("grain lies as the piece says") {
  Design design = starter_design(starter_outline(StraightTang{}), 4, LengthUnit::millimetre);
  const auto frame = [&](const Grain& grain, Which side) {
    design.left.pieces[0].grain = grain;
    const Preview preview = build_preview(design, lay_out(design));
    const Body* body = preview.find({BodyKind::piece, side, 0});
    REQUIRE(body);
    CHECK(std::abs(glm::dot(body->grain.fibre, body->grain.radial)) < 1e-12);
    CHECK(glm::length(body->grain.fibre) == test::nearly(1));
    CHECK(glm::length(body->grain.radial) == test::nearly(1));
    return body->grain;
  };
  const auto same = [](Vec3 a, Vec3 b) { return glm::distance(a, b) < 1e-12; };
  // As sawn: along the handle, rings flat in the face.
  CHECK(same(frame({}, Which::left).fibre, {1, 0, 0}));
  CHECK(same(frame({}, Which::left).radial, {0, 0, 1}));
  CHECK(same(frame({}, Which::right).radial, {0, 0, -1}));
  CHECK(same(frame({.along_deg = 90}, Which::left).fibre, {0, 1, 0}));
  CHECK(same(frame({.dip_deg = 90}, Which::left).fibre, {0, 0, 1}));
  CHECK(same(frame({.dip_deg = 90}, Which::right).fibre, {0, 0, -1}));
  CHECK(same(frame({.rings_deg = 90}, Which::left).radial, {0, -1, 0}));
  // Mirror images at any angle.
  const Grain any{.along_deg = 20, .dip_deg = 35, .rings_deg = 50};
  const GrainFrame left = frame(any, Which::left);
  const GrainFrame right = frame(any, Which::right);
  for (const auto& [a, b] : {std::pair{left.fibre, right.fibre}, std::pair{left.radial, right.radial}})
    CHECK(same(a, Vec3{b.x, b.y, -b.z}));
}
