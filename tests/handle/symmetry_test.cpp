// What must not change when a handle is turned over, mirrored, swapped or parted once more.
#include <catch2/catch.hpp>

#include "bar.hpp"
#include "support/random_design.hpp"

using namespace haftwright;

namespace {

constexpr std::uint64_t kDesigns = 200;

/// Spine and belly change places. The chain's order turns round too, which is why each edge's bulge moves to
/// its other end and keeps its sign.
std::vector<Node> turned_over(const std::vector<Node>& chain) {
  std::vector<Node> turned;
  for (std::size_t i = chain.size(); i-- > 0;) {
    const double bulge = chain[(i + chain.size() - 1) % chain.size()].bulge;
    turned.push_back({{chain[i].at.x, -chain[i].at.y}, bulge});
  }
  return turned;
}

Side turned_over(Side side) {
  for (Joint& joint : side.joints) joint.slant_deg = -joint.slant_deg;
  side.front.slant_deg = -side.front.slant_deg;
  side.finish.crest_y_mm = -side.finish.crest_y_mm;
  return side;
}

SideOverrides overrides_of(const Side& side) {
  return {side.liners, side.pieces, side.joints, side.front, side.butt_proud_mm, side.finish};
}

Design turned_over(Design design) {
  const Side right = turned_over(design.right_side());
  design.tang.outline = turned_over(design.tang.outline);
  for (auto& cutout : design.tang.cutouts) cutout = turned_over(cutout);
  for (TangHole& hole : design.tang.holes) hole.at_mm.y = -hole.at_mm.y;
  for (Pin& pin : design.pins) pin.at_mm.y = -pin.at_mm.y;
  design.left = turned_over(design.left);
  design.right = overrides_of(right);
  return design;
}

/// A handle with its volumes.
struct Measured {
  explicit Measured(const Design& design) : handle(lay_out(design)), volumes(volumes_of(design, handle)) {}
  Handle handle;
  HandleVolumes volumes;
};

void check_same_volumes(const SideVolumes& a, const SideVolumes& b, double share) {
  REQUIRE(a.parts.size() == b.parts.size());
  for (std::size_t i = 0; i < a.parts.size(); ++i) {
    CHECK(a.parts[i].whole_mm3 == Approx(b.parts[i].whole_mm3).epsilon(share));
    CHECK(a.parts[i].drilled_mm3 == Approx(b.parts[i].drilled_mm3).epsilon(1e3 * share).margin(share));
  }
  CHECK(a.scale_mm3 == Approx(b.scale_mm3).epsilon(share));
}

void check_same_amounts(const Measured& first, Which side, const Measured& second, Which other,
                        double share) {
  check_same_volumes(first.volumes.side(side), second.volumes.side(other), share);
  const SideLayout& a = first.handle.side(side);
  const SideLayout& b = second.handle.side(other);
  REQUIRE(a.parts.size() == b.parts.size());
  for (std::size_t i = 0; i < a.parts.size(); ++i) {
    CHECK(a.parts[i].inner_face_area_mm2 == Approx(b.parts[i].inner_face_area_mm2).epsilon(share));
    CHECK(a.parts[i].s_high_mm == Approx(b.parts[i].s_high_mm).epsilon(100 * share));
  }
  REQUIRE(a.bonds.size() == b.bonds.size());
  for (std::size_t i = 0; i < a.bonds.size(); ++i)
    CHECK(a.bonds[i].area_mm2 == Approx(b.bonds[i].area_mm2).epsilon(1e3 * share));
}

void check_mirrored(const LineEnd& a, const LineEnd& b) {
  for (const auto& [p, q] : {std::pair(a.inner, b.inner), std::pair(a.outer, b.outer)})
    CHECK(glm::distance(p, Vec3(q.x, q.y, -q.z)) < 1e-9);
}

}  // namespace

TEST_CASE("a mirrored design has the same numbers on both sides") {
  for (std::uint64_t seed = 0; seed < kDesigns; ++seed) {
    INFO("seed " << seed);
    Design design = test::random_design(seed);
    design.right = {};
    const Measured linked(design);
    const Handle& mirrored = linked.handle;
    check_same_amounts(linked, Which::left, linked, Which::right, 0);
    // Laid out as a side of its own instead of as a mirror image, the right side is the same: the grain, on
    // which nothing here depends, makes the two unequal.
    design.right.pieces = design.left.pieces;
    design.right.pieces->front().grain.along_deg += 1;
    REQUIRE_FALSE(design.mirrored());
    const Measured apart(design);
    const Handle& own = apart.handle;
    check_same_amounts(apart, Which::right, linked, Which::right, 0);
    for (std::size_t k = 0; k < own.right.joints.size(); ++k)
      for (std::size_t i = 0; i < own.right.joints[k].lines.size(); ++i) {
        const JointLine& line = own.right.joints[k].lines[i];
        CHECK(line.on_surface == mirrored.right.joints[k].lines[i].on_surface);
        check_mirrored(line.spine, own.left.joints[k].lines[i].spine);
        check_mirrored(line.belly, own.left.joints[k].lines[i].belly);
      }
    check_mirrored(own.right.front_spine, own.left.front_spine);
    for (const Part& part : mirrored.right.parts) CHECK(part.name.starts_with("right "));
    for (const Bond& bond : mirrored.right.bonds) CHECK(bond.name.starts_with("right "));
  }
}

TEST_CASE("sides that are swapped swap their numbers") {
  for (std::uint64_t seed = 0; seed < kDesigns; ++seed) {
    INFO("seed " << seed);
    const Design design = test::random_design(seed);
    Design swapped = design;
    swapped.left = design.right_side();
    swapped.right = overrides_of(design.left);
    const Measured before(design);
    const Measured after(swapped);
    check_same_amounts(before, Which::left, after, Which::right, 0);
    check_same_amounts(before, Which::right, after, Which::left, 0);
    CHECK(before.volumes.tang_mm3 == after.volumes.tang_mm3);
    const Handle& a = before.handle;
    const Handle& b = after.handle;
    REQUIRE(a.pins.size() == b.pins.size());
    for (std::size_t i = 0; i < a.pins.size(); ++i) {
      CHECK(a.pins[i].length_mm == b.pins[i].length_mm);
      CHECK(a.pins[i].layers.front().z_from_mm == -b.pins[i].layers.back().z_to_mm);
    }
  }
}

TEST_CASE("a handle turned over has spine and belly swapped and all else alike") {
  for (std::uint64_t seed = 0; seed < kDesigns; ++seed) {
    INFO("seed " << seed);
    const Design design = test::random_design(seed);
    const Measured before(design);
    const Measured after(turned_over(design));
    const Handle& a = before.handle;
    const Handle& b = after.handle;
    for (const Which which : {Which::left, Which::right}) {
      check_same_amounts(before, which, after, which, 1e-7);
      for (std::size_t k = 0; k < a.side(which).joints.size(); ++k) {
        const JointLine& here = a.side(which).joints[k].lines.front();
        const JointLine& there = b.side(which).joints[k].lines.front();
        CHECK(glm::distance(here.spine.outer, there.belly.outer * Vec3(1, -1, 1)) < 1e-6);
        CHECK(here.face_area_mm2 == Approx(there.face_area_mm2).epsilon(1e-7));
      }
    }
    CHECK(before.volumes.tang_mm3 == Approx(after.volumes.tang_mm3).epsilon(1e-7));
  }
}

TEST_CASE("a piece parted once more keeps its volume") {
  for (std::uint64_t seed = 0; seed < kDesigns; ++seed) {
    INFO("seed " << seed);
    Design design = test::random_design(seed);
    design.right = {};
    Side& side = design.left;
    const double before = test::piece_mm3(design, 0);
    const double end = side.joints.empty() ? 70 : side.joints[0].place_mm;
    const double slant = side.joints.empty() ? 0 : side.joints[0].slant_deg / 2;
    const double place = (side.front.place_mm + end) / 2;
    side.joints.insert(side.joints.begin(), Joint{place, slant, 4, {}});
    side.pieces.insert(side.pieces.begin(), side.pieces.front());
    const double after = test::piece_mm3(design, 0) + test::piece_mm3(design, 1);
    CHECK(after == Approx(before).epsilon(2e-6));
  }
}
