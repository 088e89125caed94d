// Where in its offcut each piece lies: held against the planned outlines, the slab and the saw.
#include "haftwright/cutting/wood_places.hpp"

#include <glm/matrix.hpp>

#include <catch2/catch.hpp>

#include "bin_for.hpp"
#include "haftwright/design/starters.hpp"
#include "haftwright/handle/lay_out.hpp"
#include "support/random_design.hpp"

using namespace haftwright;

namespace {

const PlacedBlank& blank_of(const CuttingPlan& plan, std::size_t need) {
  for (const BoardUse& use : plan.offcuts)
    for (const PlacedBlank& blank : use.blanks)
      if (blank.need == need) return blank;
  throw std::logic_error("no place");
}

/// z in the handle of a height above the inner face.
double z_at(const Handle& handle, Which side, double x, double s) {
  const double base = handle.tang_thickness_mm(x) / 2 + handle.side(side).liner_total_mm;
  return (side == Which::left ? 1 : -1) * (base + s);
}

struct Planned {
  Planned(Design made, Bin given, CuttingWishes wishes = {})
      : design(std::move(made)), bin(std::move(given)), handle(lay_out(design)) {
    wishes.blanks_too = true;
    plans = plan_cutting(design, handle, bin, wishes);
    places = wood_places(handle, plans.needs, plans.plans.front(), bin, design.rules);
  }
  const CuttingPlan& plan() const { return plans.plans.front(); }
  Design design;
  Bin bin;
  Handle handle;
  CuttingPlans plans;
  std::vector<WoodPlace> places;
};

Design one_wood() {
  Design design = starter_design(starter_outline(StraightTang{}), 4, LengthUnit::millimetre);
  for (Piece& piece : design.left.pieces) piece.material = "olive";
  return design;
}

Bin board(double thickness_mm, unsigned show_faces = upper_face | lower_face) {
  Bin bin;
  Offcut offcut{"board", "wide board", "olive", rectangle({400, 200}), thickness_mm};
  offcut.show_faces = show_faces;
  bin.offcuts.push_back(offcut);
  return bin;
}

OffcutPhoto marked(Face face, const char* file = "a.jpg") {
  OffcutPhoto photo{file, face};
  photo.marks.resize(4);
  return photo;
}

}  // namespace

TEST_CASE("places agree with the planned outlines and lie in the offcut") {
  int held = 0;
  for (std::uint64_t seed = 1; seed <= 60; ++seed) {
    const Design design = test::random_design(seed);
    test::Random random(seed);
    const Handle handle = lay_out(design);
    Planned planned(design, test::bin_for(design, needs_of(design, handle), random),
                    {.book_shows_outside = random.chance(0.3)});
    INFO("seed " << seed);
    for (const WoodPlace& place : planned.places) {
      ++held;
      const PieceNeed& need = planned.plans.needs.pieces[place.need];
      const PlacedBlank& blank = blank_of(planned.plan(), place.need);
      REQUIRE(place.side == need.side);
      REQUIRE(place.piece == need.piece);
      // Wood is turned, never mirrored: in space both ways of looking at it come out even.
      CHECK(glm::determinant(place.axes) == Approx(1));
      // Of a mirrored blank the outline is in the other order.
      for (std::size_t i = 0; i < need.outline.size(); ++i) {
        const std::size_t k = blank.mirrored ? need.outline.size() - 1 - i : i;
        const Vec2 corner = need.outline[i];
        const double z = z_at(planned.handle, place.side, corner.x, 3);
        CHECK(glm::distance(Vec2(place.in_offcut({corner, z})), blank.outline[k]) < 1e-9);
      }
      // From the face that shows down to the inner face, within the offcut.
      const double top = need.thickness_mm - planned.design.rules.blank_thickness_allowance_mm;
      const double thick = planned.bin.offcuts[place.offcut].thickness_mm;
      for (const double s : {0.0, top}) {
        const Vec3 at{30, 2, z_at(planned.handle, place.side, 30, s)};
        CHECK(place.depth_mm(at) == Approx(top - s).margin(1e-9));
        CHECK(place.in_offcut(at).z < 1e-9);
        CHECK(place.in_offcut(at).z > -thick - 1e-9);
      }
      CHECK(place.in_handle({0, 0, place.lower_face ? -1. : 1.}).z * (place.side == Which::left ? 1 : -1) >
            0.99);
    }
  }
  CHECK(held > 100);
}

TEST_CASE("the halves of a book lie on both sides of the saw cut and mirror each other about it") {
  for (const bool outside : {false, true}) {
    Planned planned(one_wood(), board(30), {.book_shows_outside = outside});
    REQUIRE(planned.places.size() == 4);
    const double kerf = planned.design.rules.saw_kerf_mm;
    for (const Mates& mates : planned.plans.needs.mates) {
      const WoodPlace& left = planned.places[mates.left];
      const WoodPlace& right = planned.places[mates.right];
      REQUIRE(blank_of(planned.plan(), mates.left).pairing == Pairing::book);
      CHECK(left.sawn_face == !outside);
      for (const Vec3 at : {Vec3{10, 5, 6}, Vec3{60, -3, 3}, Vec3{20, 0, 9}}) {
        const Vec3 a = left.in_offcut(at);
        const Vec3 b = right.in_offcut({at.x, at.y, -at.z});
        CHECK(glm::distance(Vec2(a), Vec2(b)) < 1e-9);
        // Equal heights lie as far from the saw cut, or as far from their outer faces, to both sides.
        CHECK(left.depth_mm(at) == Approx(right.depth_mm({at.x, at.y, -at.z})));
      }
      if (outside)
        CHECK(std::abs(left.show_z_mm - right.show_z_mm) == Approx(30));
      else
        CHECK(std::abs(left.show_z_mm - right.show_z_mm) == Approx(kerf));
    }
  }
}

TEST_CASE("the photo is that of the face that shows, or of the one next to a book's saw cut") {
  // Sawn in the middle of what is needed: 9.5 mm and more down in 60, next to the upper face.
  Bin bin = board(60);
  bin.offcuts[0].photos = {OffcutPhoto{"unmarked.jpg", Face::upper}, marked(Face::lower),
                           marked(Face::upper)};
  Planned book(one_wood(), bin);
  for (const WoodPlace& place : book.places) CHECK(place.shown == WoodPlace::Shown{0, 2});
  bin.offcuts[0].photos.pop_back();
  Planned far(one_wood(), bin);
  for (const WoodPlace& place : far.places) CHECK(place.shown == WoodPlace::Shown{0, 1});
  bin.offcuts[0].photos.pop_back();
  Planned none(one_wood(), bin);
  for (const WoodPlace& place : none.places) {
    CHECK_FALSE(place.shown);
    CHECK(no_photo_words(place, none.bin) == "no photo of either face of \"wide board\" has marks");
  }

  // Too thin for a book: the face that may show, and no other.
  for (const Face face : {Face::upper, Face::lower}) {
    const bool lower = face == Face::lower;
    Bin thin = board(12, lower ? lower_face : upper_face);
    thin.offcuts[0].photos = {marked(lower ? Face::upper : Face::lower)};
    Planned blind(one_wood(), thin);
    REQUIRE(blind.places.size() == 4);
    for (const WoodPlace& place : blind.places) {
      CHECK(place.lower_face == lower);
      CHECK_FALSE(place.shown);
    }
    thin.offcuts[0].photos.push_back(marked(face));
    Planned seen(one_wood(), thin);
    for (const WoodPlace& place : seen.places) CHECK(place.shown == WoodPlace::Shown{0, 1});
  }
}

TEST_CASE("slices show the faces that lay on each other, one photo serving both") {
  Bin bin = board(10.5);
  bin.offcuts[0].matched_set = "block";
  bin.offcuts[0].slice = 1;
  bin.offcuts.push_back(bin.offcuts[0]);
  bin.offcuts[1].id = "below";
  bin.offcuts[1].slice = 2;
  bin.offcuts[1].photos = {marked(Face::lower), marked(Face::upper)};
  const auto check = [&](WoodPlace::Shown of_upper, WoodPlace::Shown of_lower) {
    Planned planned(one_wood(), bin);
    REQUIRE(planned.places.size() == 4);
    for (const WoodPlace& place : planned.places) {
      REQUIRE(blank_of(planned.plan(), place.need).pairing == Pairing::slices);
      // The upper slice shows its lower face, the lower one its upper face.
      CHECK(place.lower_face == (place.offcut == 0));
      CHECK(place.shown == (place.offcut == 0 ? of_upper : of_lower));
    }
    const Mates& mates = planned.plans.needs.mates.front();
    CHECK(planned.places[mates.left].offcut != planned.places[mates.right].offcut);
  };
  check({1, 1}, {1, 1});
  bin.offcuts[0].photos = {marked(Face::lower)};
  check({0, 0}, {1, 1});
}
