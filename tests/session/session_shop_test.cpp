// The shop beside the projects: read, noticed, taught; undo of what a project takes over.
#include <catch2/catch.hpp>

#include "desk.hpp"
#include "haftwright/files/shop_file.hpp"

namespace haftwright {
namespace {

Shop unusual_shop() {
  Shop shop;
  shop.drills = {{"3.1 mm", 3.14, ""}};
  shop.rules.edge_wall_mm = 2.75;
  shop.drilling.errors.sight_mm = 0.07;
  shop.adhesive.resin_parts = 3;
  return shop;
}

}  // namespace

TEST_CASE("without a shop file the built-in values are in force, and none is made") {
  Desk desk;
  CHECK(desk.session->shop() == Shop{});
  CHECK_FALSE(desk.session->shop_file_there());
  desk.tick();
  CHECK_FALSE(fs::exists(desk.shop_file));
  CHECK(desk.session->notices().empty());
}

TEST_CASE("the shop is read at the start, and again when somebody else has written it") {
  Desk desk;
  desk.tick(0ms);
  write_shop(unusual_shop(), desk.shop_file);
  desk.tick();
  CHECK(desk.session->shop() == unusual_shop());
  desk.start();
  CHECK(desk.session->shop() == unusual_shop());
  CHECK(desk.session->shop_file_there());
  desk.session->request_open(desk.knife);
  Shop theirs = unusual_shop();
  theirs.rules.edge_wall_mm = 3;
  write_shop(theirs, desk.shop_file);
  fs::last_write_time(desk.shop_file, fs::last_write_time(desk.shop_file) + 1min);
  desk.tick(0ms);
  desk.tick();
  CHECK(desk.session->shop() == theirs);
  fs::remove(desk.shop_file);
  desk.tick();
  CHECK(desk.session->shop() == Shop{});
  CHECK_FALSE(desk.session->shop_file_there());
  CHECK(desk.session->notices().empty());
}

TEST_CASE("a shop file that can't be used is told of once, stays as it is, and what was in force stays so") {
  Desk desk;
  write_shop(unusual_shop(), desk.shop_file);
  desk.start();
  desk.session->request_open(desk.knife);
  const std::string broken = "{\"haftwright_shop\": 1, \"rulez\": {}}";
  test::put(desk.shop_file, broken);
  desk.tick(0ms);
  desk.tick();
  REQUIRE(desk.session->notices().size() == 1);
  CHECK(desk.session->notices().front().kind == Notice::Kind::error);
  CHECK(desk.notice().find("unknown key \"rulez\"; did you mean \"rules\"?") != std::string::npos);
  CHECK(desk.session->shop() == unusual_shop());
  desk.tick();
  CHECK(desk.session->notices().empty());
  desk.session->teach_shop({});
  CHECK(desk.notice().find("rulez") != std::string::npos);
  CHECK(test::bytes_of(desk.shop_file) == broken);
  desk.start();
  CHECK(desk.notice().find("rulez") != std::string::npos);
  CHECK(desk.session->shop() == Shop{});
}

TEST_CASE("a folder where the shop file should be is told of and left alone") {
  Desk desk;
  fs::create_directories(desk.shop_file);
  desk.start();
  CHECK(desk.notice().find("is not a regular file") != std::string::npos);
  desk.session->request_open(desk.knife);
  desk.tick();
  desk.session->teach_shop({});
  CHECK(desk.notice().find("shop.json") != std::string::npos);
  CHECK(desk.session->notices().empty());
  CHECK(desk.session->shop() == Shop{});
  CHECK(fs::is_directory(desk.shop_file));
}

TEST_CASE("the shop learns the open project's values, all or some, and its file says so") {
  Desk desk;
  desk.document().apply("shop's", with_shop_values(desk.design(), unusual_shop()));
  desk.session->teach_shop({"rules.edge_wall_mm"});
  CHECK(desk.session->shop().rules.edge_wall_mm == 2.75);
  CHECK(desk.session->shop().drilling == Shop{}.drilling);
  CHECK(read_shop(desk.shop_file) == desk.session->shop());
  CHECK(desk.session->shop_file_there());
  // What somebody else wrote meanwhile is not lost.
  Shop theirs = desk.session->shop();
  theirs.drills = unusual_shop().drills;
  write_shop(theirs, desk.shop_file);
  desk.session->teach_shop({});
  CHECK(desk.session->shop() == unusual_shop());
  CHECK(read_shop(desk.shop_file) == unusual_shop());
  CHECK(differences(desk.design(), desk.session->shop()).empty());
  CHECK(desk.session->notices().empty());
  // Our own writing is no change by somebody else.
  desk.tick();
  CHECK(desk.session->shop() == unusual_shop());
}

TEST_CASE("what can't be written is a notice, and the shop in force stays") {
  Desk desk;
  test::put(desk.files / "data", "a file where the folder should be");
  Design design = desk.design();
  design.rules.edge_wall_mm = 2.75;
  desk.document().apply("rule", design);
  desk.session->teach_shop({});
  CHECK(desk.session->notices().front().kind == Notice::Kind::error);
  CHECK(desk.notice().find("The shop's values have not changed") == 0);
  CHECK(desk.session->shop() == Shop{});
  fs::remove(desk.files / "data");
  // One limit alone that another one of the shop's forbids.
  design.rules.glue_clearance_least_mm = 0.2;
  design.rules.glue_clearance_most_mm = 0.3;
  desk.document().apply("clearance", design);
  desk.session->teach_shop({"rules.glue_clearance_least_mm"});
  CHECK(desk.notice().find("rules.glue_clearance_least_mm: must not be more than") != std::string::npos);
  CHECK_FALSE(fs::exists(desk.shop_file));
  CHECK(desk.session->shop() == Shop{});
  desk.session->teach_shop({"rules"});
  CHECK(desk.session->shop().rules == design.rules);
}

TEST_CASE("a project takes the shop's values as one step that undo takes back") {
  Desk desk;
  write_shop(unusual_shop(), desk.shop_file);
  desk.start();
  desk.session->request_open(desk.knife);
  const Design before = desk.design();
  desk.document().apply("Take all the shop's values", with_shop(before, desk.session->shop()));
  CHECK(differences(desk.design(), desk.session->shop()).empty());
  CHECK(measured_holes(desk.design(), desk.session->shop()).empty());
  CHECK(desk.session->unsaved());
  desk.document().undo();
  CHECK(desk.design() == before);
  CHECK_FALSE(desk.session->unsaved());
  CHECK(desk.session->shop() == unusual_shop());
}

TEST_CASE("a new project begins with the shop's values as they are at that moment") {
  Desk desk(false);
  desk.session->request_new_in_shop(test::starter());
  CHECK(desk.design() == test::starter());
  desk.session->request_close();
  desk.session->answer(Choice::discard);
  write_shop(unusual_shop(), desk.shop_file);
  desk.session->request_new_in_shop(test::starter());
  CHECK(desk.design() == with_shop(test::starter(), unusual_shop()));
  CHECK(desk.design().pins[0].scale_hole.diameter_mm == 3.14);
  CHECK(desk.design().rules.edge_wall_mm == 2.75);
}

}  // namespace haftwright
