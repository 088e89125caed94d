// Photos of the planned wood: read beside the window, kept while their files stay as they are.
#include "haftwright/session/wood_watch.hpp"

#include <catch2/catch.hpp>
#include <fstream>

#include "bell.hpp"
#include "desk.hpp"
#include "haftwright/files/bin_file.hpp"
#include "haftwright/session/bin_forms.hpp"

namespace haftwright {
namespace {

/// 2 pixels a millimetre over the whole board, one colour.
void write_photo(const fs::path& file, std::uint8_t red) {
  Photo photo{480, 240, {}};
  for (int i = 0; i < 480 * 240; ++i)
    photo.rgb.insert(photo.rgb.end(), {red, std::uint8_t{90}, std::uint8_t{60}});
  fs::create_directories(file.parent_path());
  std::ofstream(file, std::ios::binary) << png_bytes(photo);
}

OffcutPhoto photo_of_board(const std::string& file) {
  OffcutPhoto photo{file, Face::upper};
  for (const Vec2 mm : {Vec2{0, 0}, Vec2{220, 0}, Vec2{220, 100}, Vec2{0, 100}})
    photo.marks.push_back({{20 + 2 * mm.x, 220 - 2 * mm.y}, mm});
  return photo;
}

/// Thick enough to be sawn through for both sides.
Bin bin_for(const Design& design) {
  Bin bin;
  for (const Piece& piece : design.left.pieces) {
    Offcut offcut = offcut_to_begin_with(piece.material);
    offcut.outline = rectangle({220, 100});
    offcut.thickness_mm = 30;
    offcut.photos = {photo_of_board("board.png")};
    bin = *add(bin, std::move(offcut));
  }
  return bin;
}

struct Bench : Desk {
  Bench() { write_bin(bin_for(design()), bin_file); }
  fs::path photo() const { return picture_folder(bin_file) / "board.png"; }
  void plan() {
    session->want_cutting();
    test::Bell bell;
    REQUIRE(bell.until([&] { return !session->cutting().busy(); }));
    REQUIRE(session->cutting().answer()->problem.empty());
  }
  /// Once all are read.
  std::shared_ptr<const PlannedWoods> woods() {
    test::Bell bell;
    std::shared_ptr<const PlannedWoods> found;
    REQUIRE(bell.until([&] {
      found = session->planned_woods();
      return found && std::ranges::all_of(found->pieces, [](const PlannedWoods::Piece& piece) {
               return piece.photo || !piece.why_none.empty();
             });
    }));
    return found;
  }
};

}  // namespace

TEST_CASE("without a plan there is no planned wood, with one its photos come by and by") {
  Bench bench;
  write_photo(bench.photo(), 150);
  CHECK(bench.session->planned_woods() == nullptr);
  bench.plan();
  REQUIRE(bench.session->planned_woods());
  const auto woods = bench.woods();
  REQUIRE_FALSE(woods->pieces.empty());
  for (const PlannedWoods::Piece& piece : woods->pieces) {
    REQUIRE(piece.photo);
    CHECK(piece.photo->picture.photo.at(100, 100)[1] == 90);
    CHECK(piece.offcut.material == bench.design().pieces(piece.place.side)[piece.place.piece].material);
    CHECK_FALSE(piece.name.empty());
  }
  // Both halves of a book share one.
  CHECK(woods->pieces.front().photo == woods->pieces[woods->pieces.size() / 2].photo);
  // Nothing has changed: nothing is made anew.
  CHECK(bench.session->planned_woods() == woods);
}

TEST_CASE("a design that moves keeps the photos and moves the places at once") {
  Bench bench;
  write_photo(bench.photo(), 150);
  bench.plan();
  const auto before = bench.woods();
  bench.document().begin("drag");
  bench.document().preview(
      move_joint(bench.document().base(), Which::left, 0, bench.design().left.joints[0].place_mm + 2));
  const auto dragged = bench.session->planned_woods();
  REQUIRE(dragged);
  CHECK(dragged != before);
  REQUIRE(dragged->pieces.size() == before->pieces.size());
  for (std::size_t i = 0; i < before->pieces.size(); ++i)
    CHECK(dragged->pieces[i].photo == before->pieces[i].photo);
  bench.document().commit();
}

TEST_CASE("blanks in the hand show the wood that they are over") {
  Bench bench;
  write_photo(bench.photo(), 150);
  bench.plan();
  const auto before = bench.woods();
  BoardUse board = bench.session->cutting().answer()->plans.plans.front().offcuts.front();
  for (PlacedBlank& blank : board.blanks) blank.at_mm += Vec2{3, -2};
  bench.session->show_carried(board);
  const auto carried = bench.session->planned_woods();
  REQUIRE(carried->pieces.size() == before->pieces.size());
  std::size_t moved = 0;
  for (std::size_t i = 0; i < before->pieces.size(); ++i) {
    const WoodPlace& was = before->pieces[i].place;
    const WoodPlace& is = carried->pieces[i].place;
    REQUIRE(is.need == was.need);
    CHECK(carried->pieces[i].photo == before->pieces[i].photo);
    const Vec3 by = is.in_offcut({20, 3, 8}) - was.in_offcut({20, 3, 8});
    const bool in_hand = std::ranges::find(board.blanks, is.need, &PlacedBlank::need) != board.blanks.end();
    CHECK(glm::distance(by, in_hand ? Vec3{3, -2, 0} : Vec3{0, 0, 0}) < 1e-9);
    moved += in_hand;
  }
  CHECK(moved == board.blanks.size());
  bench.session->show_carried(std::nullopt);
  CHECK(bench.session->planned_woods()->pieces.front().place.origin == before->pieces.front().place.origin);
}

TEST_CASE("a photo that is not there leaves the plan as it is and says what is missing") {
  Bench bench;
  bench.plan();
  const auto woods = bench.woods();
  for (const PlannedWoods::Piece& piece : woods->pieces) {
    CHECK_FALSE(piece.photo);
    CHECK_THAT(piece.why_none, Catch::Contains("the photo board.png can't be used: "));
  }
  CHECK(bench.session->cutting().answer()->plans.plans.front().pieces_without.empty());
}

TEST_CASE("a photo is read again when its file has changed, and only then") {
  test::TemporaryFolder folder;
  test::Bell bell;
  WoodWatch watch([&] { bell.ring(); });
  const WoodWatch::Wanted board{folder / "board.png", photo_of_board("board.png"), rectangle({220, 100})};
  write_photo(board.file, 150);
  const auto read = [&](const WoodWatch::Wanted& wanted) {
    WoodWatch::Found found;
    REQUIRE(bell.until([&] {
      found = watch.find({wanted}).front();
      return found.photo || !found.trouble.empty();
    }));
    return found;
  };
  CHECK(watch.find({board}).front().photo == nullptr);
  const auto first = read(board).photo;
  REQUIRE(first);
  const std::uint64_t revision = watch.revision();
  CHECK(read(board).photo == first);
  CHECK(watch.revision() == revision);

  write_photo(board.file, 120);
  fs::last_write_time(board.file, fs::last_write_time(board.file) + 5s);
  const auto second = read(board).photo;
  REQUIRE(second);
  CHECK(second != first);
  CHECK(second->picture.photo.at(100, 100)[0] == 120);
  CHECK(watch.revision() > revision);

  // Other marks are another picture of the wood, too few are none.
  WoodWatch::Wanted moved = board;
  for (PhotoMark& mark : moved.photo.marks) mark.at_px.x += 10;
  CHECK(read(moved).photo != second);
  moved.photo.marks.pop_back();
  CHECK_THAT(read(moved).trouble, Catch::Contains("Four marks or more"));
}

}  // namespace haftwright
