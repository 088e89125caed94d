// The bin in force: edits on disk at once, undo of its own, and nothing of anybody else's written over.
#include "haftwright/session/bin_desk.hpp"

#include <catch2/catch.hpp>

#include "desk.hpp"
#include "haftwright/files/bin_file.hpp"
#include "haftwright/session/bin_forms.hpp"

namespace haftwright {
namespace {

struct Shelf {
  test::TemporaryFolder folder;
  fs::path file = folder / "bin.json";
  BinDesk desk{file};

  Bin on_disk() const { return read_bin(file); }
  /// Another window's.
  void change_outside() {
    change_bin(file, [](const Bin& bin) { return *add(bin, offcut_to_begin_with("olive")); });
    fs::last_write_time(file, fs::last_write_time(file) + 1min);
  }
  bool add_one(const std::string& wood = "black_walnut") {
    return desk.apply("add", add(desk.bin(), offcut_to_begin_with(wood)));
  }
};

}  // namespace

TEST_CASE("a bin that is not there is empty, and nothing is written until something is added") {
  Shelf shelf;
  CHECK_FALSE(shelf.desk.there());
  CHECK(shelf.desk.bin() == Bin{});
  shelf.desk.look();
  CHECK_FALSE(fs::exists(shelf.file));
  REQUIRE(shelf.add_one());
  CHECK(shelf.desk.there());
  CHECK(shelf.on_disk() == shelf.desk.bin());
  CHECK(shelf.desk.bin().offcuts.size() == 1);
  CHECK(shelf.desk.said().words.empty());
}

TEST_CASE("every edit of the bin is on disk at once, and undo and redo write too") {
  Shelf shelf;
  REQUIRE(shelf.add_one());
  const Bin one = shelf.desk.bin();
  const std::string id = one.offcuts[0].id;
  REQUIRE(shelf.desk.apply("knot", add_defect(one, id, round_defect(DefectKind::knot, {40, 20}, 6))));
  REQUIRE(shelf.desk.apply(
      "thinner", change_offcut(shelf.desk.bin(), id, [](Offcut& mine) { mine.thickness_mm = 12; })));
  const Bin last = shelf.desk.bin();
  CHECK(shelf.on_disk() == last);
  CHECK(shelf.desk.undo_label() == "thinner");
  REQUIRE(shelf.desk.undo());
  REQUIRE(shelf.desk.undo());
  CHECK(shelf.desk.bin() == one);
  CHECK(shelf.on_disk() == one);
  CHECK(shelf.desk.redo_label() == "knot");
  REQUIRE(shelf.desk.redo());
  REQUIRE(shelf.desk.redo());
  CHECK_FALSE(shelf.desk.redo());
  CHECK(shelf.on_disk() == last);
  // A new step drops what could be made again.
  REQUIRE(shelf.desk.undo());
  REQUIRE(shelf.add_one("olive"));
  CHECK_FALSE(shelf.desk.can_redo());
}

TEST_CASE("a refused edit and one that makes no good bin change nothing and say why") {
  Shelf shelf;
  REQUIRE(shelf.add_one());
  const std::string bytes = test::bytes_of(shelf.file);
  const std::string id = shelf.desk.bin().offcuts[0].id;
  CHECK_FALSE(shelf.desk.apply("remove", remove(shelf.desk.bin(), "no_such_thing")));
  CHECK(shelf.desk.said().trouble);
  CHECK(shelf.desk.said().words.find("no_such_thing") != std::string::npos);
  CHECK_FALSE(shelf.desk.apply(
      "thick", change_offcut(shelf.desk.bin(), id, [](Offcut& mine) { mine.thickness_mm = 4000; })));
  CHECK(shelf.desk.said().words.find("thickness_mm") != std::string::npos);
  CHECK(test::bytes_of(shelf.file) == bytes);
  CHECK(shelf.desk.undo_label() == "add");
  // The next good one makes no more words.
  CHECK(shelf.add_one());
  CHECK(shelf.desk.said().words.empty());
}

TEST_CASE("what another window did to the bin is noticed, told, and never written over") {
  Shelf shelf;
  REQUIRE(shelf.add_one());
  shelf.change_outside();
  const Bin theirs = shelf.on_disk();
  const auto revision = shelf.desk.revision();
  SECTION("by looking") {
    shelf.desk.look();
    CHECK_FALSE(shelf.desk.said().trouble);
    CHECK(shelf.desk.said().words.find("has changed the bin") != std::string::npos);
  }
  SECTION("by an edit, which is refused") {
    CHECK_FALSE(shelf.add_one());
    CHECK(shelf.desk.said().trouble);
    CHECK(shelf.desk.said().words.find("nothing was written") != std::string::npos);
  }
  SECTION("by undo, which is refused") {
    CHECK_FALSE(shelf.desk.undo());
    CHECK(shelf.desk.said().trouble);
  }
  CHECK(shelf.desk.revision() > revision);
  CHECK(shelf.desk.bin() == theirs);
  CHECK(shelf.on_disk() == theirs);
  CHECK_FALSE(shelf.desk.can_undo());
  // From there it goes on.
  CHECK(shelf.add_one());
  CHECK(shelf.on_disk().offcuts.size() == 3);
}

TEST_CASE("a bin that can't be read is told of, stays as it is, and what was there before stays in force") {
  Shelf shelf;
  REQUIRE(shelf.add_one());
  const Bin mine = shelf.desk.bin();
  const std::string broken = "{\"haftwright_bin\": 1, \"ofcuts\": []}";
  test::put(shelf.file, broken);
  shelf.desk.look();
  CHECK(shelf.desk.said().trouble);
  CHECK(shelf.desk.said().words.find("ofcuts") != std::string::npos);
  CHECK(shelf.desk.bin() == mine);
  CHECK_FALSE(shelf.add_one());
  CHECK(test::bytes_of(shelf.file) == broken);
  const auto revision = shelf.desk.revision();
  shelf.desk.look();
  CHECK(shelf.desk.revision() == revision);

  BinDesk fresh(shelf.file);
  CHECK(fresh.bin() == Bin{});
  CHECK(fresh.there());
  CHECK(fresh.said().trouble);
  CHECK_FALSE(fresh.apply("add", add(fresh.bin(), offcut_to_begin_with("olive"))));
  CHECK(test::bytes_of(shelf.file) == broken);
}

TEST_CASE("a bin that is gone is told of, and one that comes is read") {
  Shelf shelf;
  REQUIRE(shelf.add_one());
  fs::remove(shelf.file);
  shelf.desk.look();
  CHECK_FALSE(shelf.desk.there());
  CHECK(shelf.desk.bin() == Bin{});
  CHECK(shelf.desk.said().words.find("no longer there") != std::string::npos);
  write_bin(*add(Bin{}, offcut_to_begin_with("olive")), shelf.file);
  shelf.desk.look();
  CHECK(shelf.desk.there());
  CHECK(shelf.desk.bin() == shelf.on_disk());
}

TEST_CASE("another bin is opened and remembered, one that can't be read is not") {
  Desk desk;
  const fs::path other = desk.files / "cellar.json";
  write_bin(*add(Bin{}, offcut_to_begin_with("olive")), other);
  CHECK(desk.session->bin().path() == desk.bin_file);
  desk.session->open_bin(desk.knife);
  CHECK(desk.session->bin().said().trouble);
  CHECK(desk.session->bin().path() == desk.bin_file);
  desk.session->open_bin(other);
  CHECK(desk.session->bin().bin() == read_bin(other));
  desk.start();
  CHECK(desk.session->bin().path() == other);
  CHECK(desk.session->bin().bin().offcuts.size() == 1);
}

TEST_CASE("the session looks at the bin as it looks at the project") {
  Desk desk;
  desk.tick(0ms);
  write_bin(*add(Bin{}, offcut_to_begin_with("olive")), desk.bin_file);
  CHECK(desk.session->bin().bin().offcuts.size() == 1);
  write_bin(Bin{}, desk.bin_file);
  fs::last_write_time(desk.bin_file, fs::last_write_time(desk.bin_file) + 1min);
  desk.tick();
  CHECK(desk.session->bin().bin().offcuts.empty());
  CHECK(desk.session->notices().empty());
}

TEST_CASE("a search narrows the bin by wood, by a part of its name, by size and by what is free") {
  Bin bin = *add(Bin{}, offcut_to_begin_with("black_walnut"));
  bin = *add(bin, offcut_to_begin_with("olive"));
  bin = *change_offcut(bin, bin.offcuts[1].id, [](Offcut& mine) { mine.outline = rectangle({60, 40}); });
  bin = *add(bin, rod_to_begin_with(PinStock{}));
  using Indices = std::vector<std::size_t>;
  CHECK(search(bin, {}).offcuts == Indices{0, 1});
  CHECK(search(bin, {}).rods == Indices{0});
  CHECK(search(bin, {.wood = "walnut"}).offcuts == Indices{0});
  CHECK(search(bin, {.wood = "Oli"}).offcuts == Indices{1});
  CHECK(search(bin, {.wood = "Oli"}).rods.empty());
  CHECK(search(bin, {.least = "100"}).offcuts == Indices{0});
  CHECK(search(bin, {.least = "100"}).rods == Indices{0});
  CHECK(search(bin, {.least = "0x0x20.5"}).offcuts.empty());
  CHECK(search(bin, {.least = "4 in x 30 mm"}).offcuts == Indices{0});
  CHECK(search(bin, {.least = "4 x 1", .unit = LengthUnit::inch}).offcuts == Indices{0});
  for (const char* wrong : {"long", "1x2x3x4", "20 x", "-3"}) {
    CHECK(search(bin, {.least = wrong}).problem.find(wrong) != std::string::npos);
    CHECK(search(bin, {.least = wrong}).offcuts.empty());
  }
  CHECK(search(bin, {.wood = "granite"}).problem.find("granite") != std::string::npos);
  bin = *reserve(bin, bin.offcuts[0].id, {"Knife", "left front piece"});
  CHECK(search(bin, {}).offcuts == Indices{0, 1});
  CHECK(search(bin, {.only_free = true}).offcuts == Indices{1});
}

TEST_CASE("what is offered to begin with makes a good bin") {
  Bin bin = *add(Bin{}, offcut_to_begin_with(material_to_begin_with(Bin{}, test::starter())));
  bin = *add(bin, sheet_to_begin_with("vulcanized_fibre"));
  bin = *add(bin, rod_to_begin_with(PinStock{}));
  CHECK(bin_text(bin).size() > 0);
  const Defect knot = round_defect(DefectKind::knot, {30, 10}, 8);
  CHECK(bin_text(*add_defect(bin, bin.offcuts[0].id, knot)).size() > 0);
  CHECK(Outline(knot.outline).area_mm2() == Approx(M_PI * 16).margin(1e-9));
}

}  // namespace haftwright
