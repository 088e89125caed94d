// Preview meshes: closed, on the height field, as large as the handle says.
#include "haftwright/preview/meshes.hpp"

#include <catch2/catch.hpp>
#include <cmath>
#include <cstdlib>
#include <map>

#include "haftwright/design/starters.hpp"
#include "haftwright/handle/lay_out.hpp"
#include "haftwright/handle/volumes.hpp"
#include "preview/open_edges.hpp"
#include "support/random.hpp"
#include "support/random_design.hpp"

using namespace haftwright;

namespace {

bool all_finite(const Body& body) {
  for (const Vertex& vertex : body.vertices)
    for (std::size_t k = 0; k < 3; ++k)
      if (!std::isfinite(vertex.position[k]) || !std::isfinite(vertex.normal[k])) return false;
  return true;
}

Vec3 at(const std::array<float, 3>& v) {
  return {v[0], v[1], v[2]};
}

std::uint64_t designs() {
  return std::getenv("HAFTWRIGHT_SHORT") ? 40 : 400;
}

}  // namespace

TEST_CASE("every body of every random design is closed, finite and has unit normals") {
  for (std::uint64_t seed = 1; seed <= designs(); ++seed) {
    const Design design = test::random_design(seed);
    const Handle handle = lay_out(design);
    const Preview preview = build_preview(design, handle);
    INFO("seed " << seed);
    for (const Body& body : preview.bodies) {
      INFO(body.name);
      REQUIRE(body.triangle_count() > 0);
      REQUIRE(all_finite(body));
      REQUIRE(test::open_edges(body).empty());
      for (const Vertex& vertex : body.vertices)
        REQUIRE(glm::length(at(vertex.normal)) == Approx(1).margin(1e-5));
    }
  }
}

namespace {

const Part& part_of(const Handle& handle, const BodyId& id) {
  static constexpr PartKind kKinds[] = {PartKind::piece, PartKind::liner, PartKind::piece, PartKind::spacer,
                                        PartKind::piece};
  const PartKind kind = kKinds[static_cast<std::size_t>(id.kind)];
  for (const Part& part : handle.side(id.side).parts)
    if (part.kind == kind && part.index == id.index && (kind != PartKind::spacer || part.joint == id.joint))
      return part;
  FAIL("no such part");
  return handle.left.parts.front();
}

/// What holes leave of a body's part.
double net_mm3(const Handle& handle, const HandleVolumes& volumes, const BodyId& id) {
  const auto place = static_cast<std::size_t>(&part_of(handle, id) - handle.side(id.side).parts.data());
  return volumes.side(id.side).parts[place].left_mm3();
}

/// Height of a vertex above the tang face of its side.
double height_of(const Handle& handle, Which side, Vec3 p) {
  return (side == Which::left ? p.z : -p.z) - handle.tang_thickness_mm(p.x) / 2;
}

/// Least radius of the arcs that bow outward.
double tightest_corner_mm(const Outline& outline) {
  double least = std::numeric_limits<double>::infinity();
  for (const Edge& edge : outline.edges())
    if (edge.sweep > 0) least = std::min(least, edge.radius);
  return least;
}

/// How far a vertex's normal is from the height field's. On a crease, where two round-overs meet at a corner,
/// that of either side will do.
double normal_error(const Handle& handle, Which which, const Vertex& vertex) {
  const Vec3 p = at(vertex.position);
  const double sign = which == Which::left ? 1 : -1;
  double least = 2;
  for (const Vec2 aside : {Vec2{0, 0}, Vec2{1e-4, 0}, Vec2{-1e-4, 0}, Vec2{0, 1e-4}, Vec2{0, -1e-4}}) {
    const Vec2 gradient = handle.side(which).surface.sample(Vec2{p.x, p.y} + aside).gradient;
    const Vec3 normal{-gradient.x - handle.tang_slope / 2, -gradient.y, 1};
    least = std::min(least, glm::distance(glm::normalize(normal * Vec3{1, 1, sign}), at(vertex.normal)));
  }
  return least;
}

/// A plain block: square butt, upright joint, one liner, no strip.
Design block() {
  Design design =
      starter_design(starter_outline(StraightTang{
                         .length_mm = 100, .front_height_mm = 24, .butt_height_mm = 24, .butt_corner_mm = 0}),
                     4, LengthUnit::millimetre);
  design.left.finish = {.thickness_mm = {{0, 9}}};
  design.left.joints[0] = {.place_mm = 40};
  return design;
}

}  // namespace

TEST_CASE("bodies have the volume that the handle says") {
  for (std::uint64_t seed = 1; seed <= designs() / 2; ++seed) {
    const Design design = test::random_design(seed);
    const Handle handle = lay_out(design);
    const HandleVolumes volumes = volumes_of(design, handle);
    for (const bool fine : {false, true}) {
      if (fine && seed % 8 != 0) continue;
      const Preview preview = build_preview(design, handle, fine ? MeshSettings::fine() : MeshSettings{});
      double tang = 0;
      for (const Body& body : preview.bodies) {
        INFO("seed " << seed << ", " << body.name);
        if (body.id.kind == BodyKind::tang) {
          tang = mesh_volume_mm3(body);
          // Chords cut inside outlines and outside of holes by up to the deviation.
          CHECK(tang == Approx(volumes.tang_mm3).epsilon(fine ? 5e-4 : 4e-3));
        } else if (body.id.kind != BodyKind::pin) {
          const double net = net_mm3(handle, volumes, body.id);
          CHECK(mesh_volume_mm3(body) == Approx(net).epsilon(fine ? 1e-3 : 6e-3).margin(0.3));
        }
      }
    }
  }
}

TEST_CASE("a plain block's mesh has its volume in closed form") {
  const Design design = block();
  const Handle handle = lay_out(design);
  const Preview preview = build_preview(design, handle);
  const auto hole = [&](const PinLayout& pin, HoleLayer::Kind kind) {
    for (const HoleLayer& layer : pin.layers)
      if (layer.kind == kind) return layer.diameter_mm;
    return 0.0;
  };
  double drilled_front = 0;
  for (const PinLayout& pin : handle.pins) {
    const double d = hole(pin, HoleLayer::Kind::scale);
    if (pin.at.x < 40) drilled_front += 3.14159265358979 / 4 * d * d;
  }
  const double wood = 9 - handle.left.liner_total_mm;
  const Body* front = preview.find({BodyKind::piece, Which::left, 0});
  REQUIRE(front);
  // A hole's polygon of n corners leaves out 1 - sin(2 pi / n) n / (2 pi) of its circle: under 2 % from 16
  // on.
  CHECK(mesh_volume_mm3(*front) ==
        Approx((40 * 24 - drilled_front) * wood).margin(0.02 * drilled_front * wood));
  CHECK(mesh_volume_mm3(*front) >= (40 * 24 - drilled_front) * wood * (1 - 1e-6));
}

TEST_CASE("points away from edges lie on the height field, with its normals") {
  std::size_t checked = 0;
  for (std::uint64_t seed = 1; seed <= designs() / 4; ++seed) {
    const Design design = test::random_design(seed);
    const Handle handle = lay_out(design);
    const Preview preview = build_preview(design, handle);
    for (const Body& body : preview.bodies) {
      if (body.id.kind != BodyKind::piece) continue;
      const Part& part = part_of(handle, body.id);
      const SideLayout& side = handle.side(body.id.side);
      // Where a round-over is larger than the corner it runs round, the height field's own gradient is not
      // single on the lines square to the ends of that corner.
      const bool tight = tightest_corner_mm(side.edge) < side.surface.shape().round_over_mm;
      for (const Vertex& vertex : body.vertices) {
        const Vec3 p = at(vertex.position);
        const double height = height_of(handle, body.id.side, p);
        const double s = height - side.liner_total_mm;
        const bool on_joint = std::abs(part.front.behind_mm(p.x, p.y, s)) < 1e-3 ||
                              (!part.to_butt && std::abs(part.rear.behind_mm(p.x, p.y, s)) < 1e-3);
        bool on_rim = side.edge.nearest({p.x, p.y}).distance_mm < 1e-3;
        for (const PinLayout& pin : handle.pins)
          for (const HoleLayer& layer : pin.layers)
            on_rim = on_rim || glm::distance(pin.at, {p.x, p.y}) < layer.diameter_mm / 2 + 1e-3;
        if (s < 1e-4 || on_joint || on_rim) continue;
        const HeightField::Sample sample = side.surface.sample({p.x, p.y});
        INFO("seed " << seed << ", " << body.name << " at " << p.x << " " << p.y << " " << p.z);
        // Float positions are good to about 1e-5 mm; near the wall the surface is steep.
        const double steep = 1 + glm::length(sample.gradient);
        REQUIRE(height == Approx(sample.height_mm).margin(2e-5 * steep * steep));
        if (steep < 10 && !tight) REQUIRE(normal_error(handle, body.id.side, vertex) < 2e-3 * steep);
        ++checked;
      }
    }
  }
  CHECK(checked > 10000);
}

TEST_CASE("cut faces lie in the joint planes and reach the finished surface") {
  for (std::uint64_t seed = 1; seed <= designs() / 4; ++seed) {
    const Design design = test::random_design(seed);
    const Handle handle = lay_out(design);
    const Preview preview = build_preview(design, handle);
    for (const Body& body : preview.bodies) {
      if (body.id.kind != BodyKind::piece && body.id.kind != BodyKind::spacer) continue;
      const Part& part = part_of(handle, body.id);
      const SideLayout& side = handle.side(body.id.side);
      int on_line = 0;
      double low = 1e9;
      double high = -1e9;
      for (const Vertex& vertex : body.vertices) {
        const Vec3 p = at(vertex.position);
        const double s = height_of(handle, body.id.side, p) - side.liner_total_mm;
        INFO("seed " << seed << ", " << body.name << " at " << p.x << " " << p.y << " " << p.z);
        REQUIRE(part.front.behind_mm(p.x, p.y, s) > -5e-5);
        if (!part.to_butt) REQUIRE(part.rear.behind_mm(p.x, p.y, s) < 5e-5);
        // On an arc that bows inward a chord runs outside of it, by at most the deviation.
        REQUIRE(side.edge.depth_mm({p.x, p.y}) > -MeshSettings{}.deviation_mm - 1e-6);
        if (std::abs(part.front.behind_mm(p.x, p.y, s)) > 5e-5) continue;
        low = std::min(low, p.y);
        high = std::max(high, p.y);
        const HeightField::Sample sample = side.surface.sample({p.x, p.y});
        const double steep = 1 + glm::length(sample.gradient);
        if (std::abs(sample.height_mm - side.liner_total_mm - s) < 5e-5 * steep) ++on_line;
      }
      INFO("seed " << seed << ", " << body.name);
      CHECK(on_line > 5);
      // The joint line's own ends are vertices.
      const LineEnd* spine = &side.front_spine;
      const LineEnd* belly = &side.front_belly;
      for (const JointLayout& joint : side.joints)
        for (const JointLine& line : joint.lines)
          if (line.plane == part.front) spine = &line.spine, belly = &line.belly;
      CHECK(high >= spine->outer.y - 5e-5);
      CHECK(low <= belly->outer.y + 5e-5);
    }
  }
}

TEST_CASE("the preview is as large as the handle") {
  for (std::uint64_t seed = 1; seed <= designs() / 4; ++seed) {
    const Design design = test::random_design(seed);
    const Handle handle = lay_out(design);
    const Preview preview = build_preview(design, handle);
    const Bounds& tang = handle.tang.bounds();
    const double low_y =
        std::min({tang.low.y, handle.left.finished.bounds().low.y, handle.right.finished.bounds().low.y});
    const double high_y =
        std::max({tang.high.y, handle.left.finished.bounds().high.y, handle.right.finished.bounds().high.y});
    INFO("seed " << seed);
    CHECK(preview.low.x == Approx(tang.low.x).margin(0.02));
    CHECK(preview.low.y == Approx(low_y).margin(0.02));
    CHECK(preview.high.y == Approx(high_y).margin(0.02));
    const double butt = std::max(handle.left.edge.bounds().high.x, handle.right.edge.bounds().high.x);
    CHECK(preview.high.x == Approx(butt).margin(0.02));
  }
}

TEST_CASE("a mirrored handle has mirrored bodies") {
  int checked = 0;
  for (std::uint64_t seed = 1; seed <= designs() / 4; ++seed) {
    Design design = test::random_design(seed);
    design.right = {};
    const Preview preview = build_preview(design, lay_out(design));
    for (const Body& left : preview.bodies) {
      if (left.id.kind == BodyKind::tang || left.id.kind == BodyKind::pin || left.id.side == Which::right)
        continue;
      BodyId id = left.id;
      id.side = Which::right;
      const Body* right = preview.find(id);
      REQUIRE(right);
      REQUIRE(right->vertices.size() == left.vertices.size());
      for (std::size_t i = 0; i < left.vertices.size(); ++i) {
        const test::Place mirror{left.vertices[i].position[0], left.vertices[i].position[1],
                                 -left.vertices[i].position[2]};
        REQUIRE(right->vertices[i].position == mirror);
      }
      CHECK(mesh_volume_mm3(*right) == Approx(mesh_volume_mm3(left)).epsilon(1e-6));
      ++checked;
    }
  }
  CHECK(checked > static_cast<int>(designs()) / 2);
}

TEST_CASE("sides made on their own are the same as sides made by mirroring") {
  const Design design = test::random_design(5);
  Design spelt_out = design;
  spelt_out.right = {};
  const Preview linked = build_preview(spelt_out, lay_out(spelt_out));
  // A hair more butt on the right: too little to see, enough not to count as mirrored.
  spelt_out.right.butt_proud_mm = spelt_out.left.butt_proud_mm + 1e-9;
  REQUIRE_FALSE(spelt_out.mirrored());
  const Preview apart = build_preview(spelt_out, lay_out(spelt_out));
  REQUIRE(linked.bodies.size() == apart.bodies.size());
  for (std::size_t i = 0; i < linked.bodies.size(); ++i) {
    CHECK(linked.bodies[i].id == apart.bodies[i].id);
    CHECK(mesh_volume_mm3(linked.bodies[i]) == Approx(mesh_volume_mm3(apart.bodies[i])).epsilon(1e-4));
  }
}

TEST_CASE("holes that break out, run over a joint or into each other leave closed bodies") {
  for (const double x : {40.0, 39.2, 41.3, 2.0, 70.0})
    for (const double y : {0.0, 11.9, -11.2, 10.4})
      for (const double other_x : {x + 1.1, x + 2.9, x + 9}) {
        Design design = block();
        design.left.joints[0].slant_deg = 12;
        design.left.joints[0].rake_deg = 15;
        design.left.joints[0].spacers = {{"brass_c36000", 0.8}};
        design.left.finish = {.thickness_mm = {{0, 9}}, .crown_radius_mm = 30, .round_over_mm = 2};
        design.pins.resize(2);
        design.pins[0].at_mm = {x, y};
        design.pins[1].at_mm = {other_x, y};
        const Handle handle = lay_out(design);
        const HandleVolumes volumes = volumes_of(design, handle);
        const Preview preview = build_preview(design, handle);
        for (const Body& body : preview.bodies) {
          INFO("pins at " << x << " and " << other_x << ", " << y << ": " << body.name);
          CHECK(all_finite(body));
          CHECK(test::open_edges(body).empty());
          if (body.id.kind == BodyKind::piece || body.id.kind == BodyKind::spacer) {
            CHECK(mesh_volume_mm3(body) == Approx(net_mm3(handle, volumes, body.id)).epsilon(0.01).margin(1));
          }
        }
      }
}

TEST_CASE("a handle full of pins that overlap at random leaves closed bodies") {
  test::Random random(7);
  for (int round = 0; round < (std::getenv("HAFTWRIGHT_SHORT") ? 4 : 25); ++round) {
    Design design = block();
    design.left.joints[0].rake_deg = random.between(-15, 15);
    design.left.finish = {.thickness_mm = {{0, 9}}, .crown_radius_mm = 30, .round_over_mm = 2.5};
    design.tang.holes = {{"old", {random.between(20, 80), 0}, 6}};
    const Pin pin = design.pins.front();
    design.pins.assign(64, pin);
    for (std::size_t i = 0; i < design.pins.size(); ++i) {
      design.pins[i].name = "pin " + std::to_string(i + 1);
      // Every fourth on a grid, so that circles touch, coincide and share tangents.
      design.pins[i].at_mm = i % 4 == 0 ? Vec2{5.0 + std::floor(random.between(0, 30)) * 3,
                                               std::floor(random.between(-3, 4)) * 3}
                                        : Vec2{random.between(1, 99), random.between(-11.9, 11.9)};
    }
    const Preview preview = build_preview(design, lay_out(design));
    for (const Body& body : preview.bodies) {
      INFO("round " << round << ", " << body.name);
      REQUIRE(all_finite(body));
      REQUIRE(test::open_edges(body).empty());
    }
  }
}

TEST_CASE("pins fill their holes up to the finished surface") {
  const Design design = block();
  const Handle handle = lay_out(design);
  const Preview preview = build_preview(design, handle);
  for (const PinLayout& pin : handle.pins) {
    const Body* body = preview.find({.kind = BodyKind::pin, .index = pin.pin});
    REQUIRE(body);
    double low = 0;
    double high = 0;
    for (const Vertex& vertex : body->vertices) {
      low = std::min(low, static_cast<double>(vertex.position[2]));
      high = std::max(high, static_cast<double>(vertex.position[2]));
    }
    CHECK(high == Approx(11).margin(1e-5));
    CHECK(low == Approx(-11).margin(1e-5));
    const double d = pin.diameter_mm;
    CHECK(mesh_volume_mm3(*body) == Approx(3.14159265358979 / 4 * d * d * 22).epsilon(0.03));
  }
}

TEST_CASE("a finer setting has more triangles and less error") {
  const Design design = test::random_design(3);
  const Handle handle = lay_out(design);
  const HandleVolumes volumes = volumes_of(design, handle);
  const Preview coarse = build_preview(design, handle, {3, 0.05});
  const Preview fine = build_preview(design, handle, MeshSettings::fine());
  CHECK(fine.triangle_count() > 4 * coarse.triangle_count());
  double coarse_error = 0;
  double fine_error = 0;
  for (const Body& body : coarse.bodies) {
    if (body.id.kind != BodyKind::piece) continue;
    const double net = net_mm3(handle, volumes, body.id);
    coarse_error += std::abs(mesh_volume_mm3(body) - net);
    fine_error += std::abs(mesh_volume_mm3(*fine.find(body.id)) - net);
  }
  CHECK(fine_error < coarse_error / 3);
}

TEST_CASE("a drag's mesh stays small on a large handle") {
  const auto count = [](double length_mm) {
    const Design design =
        starter_design(starter_outline(StraightTang{.length_mm = length_mm}), 4, LengthUnit::millimetre);
    const Handle handle = lay_out(design);
    const MeshSettings settings = MeshSettings::dragging(handle);
    CHECK(settings.cell_mm >= MeshSettings{}.cell_mm);
    return build_preview(design, handle, settings).triangle_count();
  };
  CHECK(count(110) > 5000);
  CHECK(count(110) < 10000);
  CHECK(count(320) < 12500);
}

TEST_CASE("mesh settings out of range are refused") {
  const Design design = block();
  const Handle handle = lay_out(design);
  CHECK_THROWS_AS(build_preview(design, handle, {.cell_mm = 0.1}), std::invalid_argument);
  CHECK_THROWS_AS(build_preview(design, handle, {.cell_mm = std::nan("")}), std::invalid_argument);
  CHECK_THROWS_AS(build_preview(design, handle, {.deviation_mm = 0}), std::invalid_argument);
}
