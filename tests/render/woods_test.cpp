// The wood that is seen is the very wood that was planned.
#include "support/random_design.hpp"
#include "wood_scene.hpp"

using namespace haftwright;
using namespace haftwright::test;

namespace {

/// Handles that slant, rake, taper and bulge.
Design shaped(double taper, double crown, double rake_deg) {
  Design design = sample();
  design.left.joints[0].rake_deg = rake_deg;
  design.left.joints[0].slant_deg = 12;
  design.left.finish.crown_radius_mm = crown;
  design.left.finish.round_over_mm = 2.5;
  design.tang.thickness_butt_mm = design.tang.thickness_front_mm - taper;
  return design;
}

/// Neither on the round-over nor on an end that leans into sight.
bool on_the_face(const Handle& handle, const WoodPlace& wood, Vec2 place) {
  const SideLayout& side = handle.side(wood.side);
  const double s = side.scale_height_mm(place);
  for (const Part& part : side.parts)
    if (part.kind == PartKind::piece && part.index == wood.piece &&
        (part.front.behind_mm(place.x, place.y, s) < 0.3 ||
         (!part.to_butt && part.rear.behind_mm(place.x, place.y, s) > -0.3)))
      return false;
  const HeightField& surface = side.surface;
  return surface.edge().nearest(place).distance_mm > 2 * surface.shape().round_over_mm + 0.3;
}

/// How many pixels of the face were held against the plan.
int hold_against_plan(WoodScene& scene) {
  scene.show(photo_of(kAround, 8, code_at));
  int held = 0;
  for (const Which side : {Which::left, Which::right}) {
    const Camera camera = scene.camera(side == Which::left ? StandardView::left : StandardView::right);
    const FlatView view(camera);
    const Picture ids = scene.draw(camera, flat());
    const Picture seen = scene.draw(camera, colours_alone());
    for (const WoodPlace& place : scene.places) {
      const MaterialKind kind = scene.preview.find({BodyKind::piece, place.side, place.piece})->material_kind;
      if (place.side != side || (kind != MaterialKind::wood && kind != MaterialKind::natural)) continue;
      const std::size_t body = index_of(scene.preview, {BodyKind::piece, side, place.piece});
      for (int y = 0; y < kSize.height; y += 3)
        for (int x = 0; x < kSize.width; x += 3) {
          if (colour_at(ids, x, y) != flat_id_colour(body) || !well_inside(ids, x, y, 2)) continue;
          const Vec2 at = view.place(x, y);
          if (!on_the_face(scene.handle, place, at)) continue;
          const Vec2 planned = planned_place(at, scene.blank(place));
          if (near_cell_rim(planned, 1)) continue;
          ++held;
          const Vec3 wanted = code_at(planned);
          const Rgb found = colour_at(seen, x, y);
          INFO("side " << static_cast<int>(side) << ", piece " << place.piece << ", at " << at.x << ", "
                       << at.y);
          // 12.5 steps a millimetre, and 20 from cell to cell.
          REQUIRE(std::abs(found[0] - wanted.x) < 3.5);
          REQUIRE(std::abs(found[1] - wanted.y) < 3.5);
          REQUIRE(std::abs(found[2] - wanted.z) < 3.5);
        }
    }
  }
  return held;
}

}  // namespace

TEST_CASE("each place of the handle shows what the photo shows of its planned place") {
  // As the offcuts lie: a book, turned, end for end, a face that looks down, no book.
  for (const Board& board : {Board{}, Board{40, 37, upper_face | lower_face}, Board{40, 178, upper_face},
                             Board{12, 90, lower_face}, Board{12, -140, upper_face | lower_face}}) {
    WoodScene scene(shaped(0.8, 45, 15), board);
    INFO("thickness " << board.thickness_mm << ", along " << board.along_deg);
    CHECK(scene.places.size() == 4);
    CHECK(hold_against_plan(scene) > 2000);
  }
  WoodScene outside(shaped(0, 200, 0), {}, {.book_shows_outside = true});
  CHECK(hold_against_plan(outside) > 2000);
}

TEST_CASE("a photo of end grain shows where end grain shows") {
  Design design = shaped(0, 45, 0);
  for (Piece& piece : design.left.pieces) piece.grain.dip_deg = 90;
  WoodScene scene(design, {40, 0, upper_face | lower_face, 90});
  CHECK(scene.places.size() == 4);
  CHECK(hold_against_plan(scene) > 2000);
}

TEST_CASE("so it is on random handles") {
  int held = 0;
  for (std::uint64_t seed = 300; seed < 312; ++seed) {
    WoodScene scene(random_design(seed), {80, static_cast<double>(seed * 37 % 360), upper_face | lower_face});
    INFO("seed " << seed);
    held += hold_against_plan(scene);
  }
  CHECK(held > 5000);
}

TEST_CASE("mates out of one book mirror each other across the handle") {
  WoodScene scene(shaped(0.5, 45, 10), {40, 20, upper_face | lower_face});
  for (const WoodPlace& place : scene.places) {
    REQUIRE(scene.blank(place).pairing == Pairing::book);
    REQUIRE(place.shown == scene.places[(place.need + 2) % 4].shown);
  }
  scene.show(photo_of(kAround, 8, code_at));
  Camera from_left = scene.camera(StandardView::left);
  Camera from_right = scene.camera(StandardView::right);
  // As in a mirror: what is seen at a column from the left is seen at the other end from the right.
  from_left.target.x = from_right.target.x = 55;
  from_left.target.y = from_right.target.y = 0;
  const Picture left = scene.draw(from_left, colours_alone());
  const Picture right = scene.draw(from_right, colours_alone());
  const Picture ids = scene.draw(from_left, flat());
  int same = 0;
  for (int y = 0; y < kSize.height; ++y)
    for (int x = 0; x < kSize.width; ++x) {
      const bool wood =
          colour_at(ids, x, y) ==
              flat_id_colour(index_of(scene.preview, {BodyKind::piece, Which::left, 0})) ||
          colour_at(ids, x, y) == flat_id_colour(index_of(scene.preview, {BodyKind::piece, Which::left, 1}));
      if (!wood || !well_inside(ids, x, y, 2)) continue;
      const Vec2 place = planned_place(FlatView(from_left).place(x, y), scene.blank(scene.places[0]));
      if (near_cell_rim(place, 1)) continue;
      ++same;
      const Rgb here = colour_at(left, x, y);
      const Rgb there = colour_at(right, kSize.width - 1 - x, y);
      for (std::size_t c = 0; c < 3; ++c) REQUIRE(std::abs(here[c] - there[c]) <= 5);
    }
  CHECK(same > 20000);
}

TEST_CASE("over the edge the picture goes on without a jump, a smear or a hole") {
  // It rises evenly across the fibre: 2 steps a millimetre.
  constexpr double kStepsPerMm = 2;
  const auto even = photo_of(kAround, 4, [](Vec2 mm) {
    return Vec3{128 + kStepsPerMm * std::clamp(mm.y - 165, -60., 60.), 128, 128};
  });
  for (const double crown : {30.0, 200.0}) {
    WoodScene scene(shaped(0, crown, 0), {12, 0, upper_face | lower_face});
    // About the blanks, wherever they lie, so that the ramp does not run out.
    scene.pictures.clear();
    for (const WoodPlace& place : scene.places) {
      auto picture = wood_picture(place, even, scene.bin.offcuts[place.offcut]);
      REQUIRE(picture);
      picture->down.z += (scene.blank(place).at_mm.y - 165) / (kAround.size().y);
      scene.pictures.push_back(*picture);
    }
    scene.view.set_woods(scene.pictures);
    for (const double lean : {1.0, -1.0}) {
      Camera camera = standard_camera(StandardView::left, false);
      orbit(camera, 0, lean * 45);
      fit(camera, scene.preview, 0, kSize);
      const double mm = 1 / pixels_per_mm(camera);
      const Picture ids = scene.draw(camera, flat());
      const Picture seen = scene.draw(camera, colours_alone());
      const Rgb piece = flat_id_colour(index_of(scene.preview, {BodyKind::piece, Which::left, 1}));
      int steps = 0;
      for (int x = 0; x < kSize.width; x += 5) {
        if (std::abs(FlatView(camera).place(x, 0).x - 75) > 20) continue;
        int first = -1;
        int last = -1;
        for (int y = 1; y < kSize.height; ++y) {
          const bool both = colour_at(ids, x, y) == piece && colour_at(ids, x, y - 1) == piece &&
                            well_inside(ids, x, y, 1) && well_inside(ids, x, y - 1, 1);
          if (!both) continue;
          if (first < 0) first = y;
          last = y;
          ++steps;
          const int step = std::abs(seen.at(x, y)[0] - seen.at(x, y - 1)[0]);
          // Seen at 45 degrees or less of slant on face and wall, and drawn together by up to 1.6 over the
          // round-over; rounding adds a step.
          INFO("column " << x << ", row " << y << ", crown " << crown);
          REQUIRE(step <= kStepsPerMm * mm * 1.6 * 1.6 + 1);
        }
        if (first < 0) continue;
        // And it goes on all the way: face, round-over and wall are longer than they are seen to be.
        REQUIRE(std::abs(seen.at(x, last)[0] - seen.at(x, first)[0]) >=
                kStepsPerMm * mm * (last - first) - 2);
      }
      CHECK(steps > 500);
    }
  }
}

TEST_CASE("a cut along the handle shows the photo unfolded from the face down") {
  WoodScene scene(shaped(0, 45, 0), {});
  scene.show(photo_of(kAround, 8, code_at));
  const Camera camera = scene.camera(StandardView::spine);
  SceneOptions options = flat();
  options.section = SectionPlane{{0, 1, 0}, 1};
  const Picture ids = scene.draw(camera, options);
  options.mode = SceneMode::albedo;
  const Picture seen = scene.draw(camera, options);
  int held = 0;
  for (const WoodPlace& place : scene.places)
    for (double x = 4; x < 105; x += 0.7)
      for (double z = 3.5; z < 8.5; z += 0.6) {
        const Vec3 at{x, 1, place.side == Which::left ? z : -z};
        const Vec2 px = *project(camera, at, kSize);
        const int column = static_cast<int>(px.x);
        const int row = static_cast<int>(px.y);
        const std::size_t body = index_of(scene.preview, {BodyKind::piece, place.side, place.piece});
        if (!well_inside(ids, column, row, 2) || colour_at(ids, column, row) != flat_id_colour(body))
          continue;
        const Vec2 planned = planned_place({x, 1 + place.depth_mm(at)}, scene.blank(place));
        if (near_cell_rim(planned, 1)) continue;
        ++held;
        // Half a pixel off the middle of one.
        CHECK(std::abs(colour_at(seen, column, row)[0] - code_at(planned).x) < 5);
        CHECK(std::abs(colour_at(seen, column, row)[1] - code_at(planned).y) < 5);
      }
  CHECK(held > 500);
}

TEST_CASE("where a photo shows nothing the solid wood has its mean colour") {
  // Table colours and photos differ: a pale photo on ebony, a dark one on maple.
  for (const Vec3 colour : {Vec3{150, 110, 70}, Vec3{70, 48, 36}}) {
    auto blind = std::make_shared<WoodPhoto>(*photo_of(kAround, 1, [&](Vec2) { return colour; }));
    WoodScene scene(shaped(0, 200, 0), {});
    scene.show(blind);
    const std::vector<WoodPicture> shown = scene.pictures;
    std::fill(blind->picture.shown.begin(), blind->picture.shown.end(), std::uint8_t{0});
    for (WoodPicture& picture : scene.pictures) picture.photo = std::make_shared<const WoodPhoto>(*blind);
    scene.view.set_woods(scene.pictures);
    const Camera camera = scene.camera(StandardView::left);
    const Picture ids = scene.draw(camera, flat());
    const Picture solid = scene.draw(camera, colours_alone());
    scene.view.set_woods(shown);
    const Picture photo = scene.draw(camera, colours_alone());
    for (const std::size_t piece : {0u, 1u}) {
      const std::size_t body = index_of(scene.preview, {BodyKind::piece, Which::left, piece});
      const Vec3 mean = mean_colour(solid, ids, body);
      const Vec3 wanted = mean_colour(photo, ids, body);
      INFO("piece " << piece << ": " << mean.x << " " << mean.y << " " << mean.z << " for " << wanted.x << " "
                    << wanted.y << " " << wanted.z);
      CHECK(glm::distance(wanted, colour) < 12);  // rims of other bodies and end grain count too
      for (int c = 0; c < 3; ++c) CHECK(std::abs(mean[c] - wanted[c]) < 12);
    }
  }
}

TEST_CASE("a handle without photos is as before, and photos go again") {
  WoodScene scene(shaped(0, 45, 0), {});
  const Camera camera = scene.camera(StandardView::three_quarter, 0, true);
  const Picture before = scene.draw(camera, {});
  scene.show(photo_of(kAround, 2, code_at));
  const Picture with = scene.draw(camera, {});
  CHECK(with.rgba != before.rgba);
  CHECK(scene.draw(camera, {}).rgba == with.rgba);
  scene.view.set_woods({});
  CHECK(scene.draw(camera, {}).rgba == before.rgba);
}

TEST_CASE("light, finish and shadow fall on a photo as on any wood") {
  WoodScene scene(shaped(0, 45, 0), {});
  scene.show(photo_of(kAround, 2, [](Vec2) { return Vec3{150, 110, 70}; }));
  const Camera camera = scene.camera(StandardView::three_quarter, 0, true);
  const Picture ids = scene.draw(camera, flat());
  const Picture lit = scene.draw(camera, {});
  int darkest = 255;
  int lightest = 0;
  for (int y = 0; y < kSize.height; ++y)
    for (int x = 0; x < kSize.width; ++x) {
      if (colour_at(ids, x, y) != flat_id_colour(index_of(scene.preview, {BodyKind::piece, Which::left, 1})))
        continue;
      darkest = std::min(darkest, static_cast<int>(lit.at(x, y)[0]));
      lightest = std::max(lightest, static_cast<int>(lit.at(x, y)[0]));
    }
  CHECK(lightest - darkest > 60);
}
