#include <sys/stat.h>

#include <catch2/catch.hpp>

#include "shop.hpp"

namespace haftwright {

TEST_CASE("a file changed on disk is noticed: read it again, or keep mine") {
  Shop shop;
  shop.edit();
  const Design mine = shop.design();
  shop.tick();
  CHECK_FALSE(shop.session->question());
  shop.change_outside(shop.knife);
  shop.tick();
  REQUIRE(shop.asks(Kind::changed_on_disk));
  SECTION("read it again, which undo takes back") {
    shop.session->answer(Choice::reload);
    CHECK(shop.design() == read_project(shop.knife));
    CHECK_FALSE(shop.session->unsaved());
    shop.tick();
    CHECK_FALSE(shop.session->question());
    CHECK(shop.document().undo());
    CHECK(shop.design() == mine);
    CHECK(shop.session->unsaved());
  }
  SECTION("keep mine: saving replaces theirs without asking twice") {
    shop.session->answer(Choice::keep);
    CHECK(shop.design() == mine);
    shop.tick();
    CHECK_FALSE(shop.session->question());
    shop.session->save();
    CHECK_FALSE(shop.session->question());
    CHECK(read_project(shop.knife) == mine);
  }
  SECTION("keep mine, though mine was saved before: it is unsaved now") {
    shop.session->answer(Choice::keep);
    shop.document().undo();
    CHECK(shop.session->unsaved());
  }
}

TEST_CASE("a change between two looks is caught by saving") {
  Shop shop;
  shop.edit();
  const Design mine = shop.design();
  shop.change_outside(shop.knife);
  const Design theirs = read_project(shop.knife);
  shop.session->save();
  REQUIRE(shop.asks(Kind::overwrite_changed));
  CHECK(read_project(shop.knife) == theirs);
  SECTION("replace") {
    shop.session->answer(Choice::overwrite);
    CHECK(read_project(shop.knife) == mine);
    CHECK_FALSE(shop.session->unsaved());
  }
  SECTION("elsewhere") {
    shop.session->answer(Choice::save_elsewhere);
    REQUIRE(shop.session->wants_path());
    shop.session->save_as(shop.files / "mine.json");
    CHECK(read_project(shop.files / "mine.json") == mine);
    CHECK(read_project(shop.knife) == theirs);
  }
  SECTION("cancel") {
    shop.session->answer(Choice::cancel);
    CHECK(read_project(shop.knife) == theirs);
    CHECK(shop.session->unsaved());
  }
}

TEST_CASE("saving looks at the bytes, whatever size and time say") {
  Shop shop;
  shop.edit();
  const auto time = fs::last_write_time(shop.knife);
  std::string text = test::bytes_of(shop.knife);
  text.replace(text.find("starter"), 7, "theirs!");
  test::put(shop.knife, text);
  fs::last_write_time(shop.knife, time);
  shop.session->save();
  CHECK(shop.asks(Kind::overwrite_changed));
  CHECK(test::bytes_of(shop.knife) == text);
}

TEST_CASE("a question that another wish has overtaken is forgotten with all that hung on it") {
  Shop shop;
  shop.edit();
  test::put(shop.files / "guide.step", "x");
  shop.session->export_step(JobKind::guide_step, shop.files / "guide.step");
  REQUIRE(shop.asks(Kind::replace_file));
  shop.session->request_close();
  REQUIRE(shop.asks(Kind::unsaved));
  shop.session->answer(Choice::cancel);
  shop.session->save_as(shop.other);
  REQUIRE(shop.asks(Kind::replace_file));
  shop.session->answer(Choice::overwrite);
  CHECK(shop.session->path() == shop.other);
  CHECK_FALSE(shop.session->jobs().busy());

  shop.session->export_step(JobKind::guide_step, shop.files / "guide.step");
  REQUIRE(shop.asks(Kind::replace_file));
  shop.session->request_open(shop.knife);
  CHECK(shop.session->path() == shop.knife);
  CHECK_FALSE(shop.session->question());
}

TEST_CASE("a file written anew with the same project in it is nothing to ask about") {
  Shop shop;
  test::put(shop.knife, test::bytes_of(shop.knife) + "\n\n");
  shop.tick();
  shop.tick();
  CHECK_FALSE(shop.session->question());
  CHECK_FALSE(shop.session->unsaved());
}

TEST_CASE("a file that changed into something unreadable is told; the work stays and is unsaved") {
  Shop shop;
  const Design mine = shop.design();
  shop.tick();
  test::put(shop.knife, "{");
  shop.tick();
  REQUIRE(shop.asks(Kind::changed_on_disk));
  shop.session->answer(Choice::reload);
  CHECK_FALSE(shop.notice().empty());
  CHECK(shop.design() == mine);
  CHECK(shop.session->unsaved());
  write_project(test::crossing_joints(), shop.knife);
  shop.session->reload();
  CHECK(shop.notice().find("laid out") != std::string::npos);
  CHECK(shop.design() == mine);
}

TEST_CASE("a file that is gone is noticed; saving makes it anew") {
  Shop shop;
  shop.tick();
  fs::remove(shop.knife);
  shop.session->look_at_disk();
  REQUIRE(shop.asks(Kind::gone_from_disk));
  shop.session->answer(Choice::keep);
  CHECK(shop.session->unsaved());
  shop.tick();
  CHECK_FALSE(shop.session->question());
  shop.session->save();
  CHECK(read_project(shop.knife) == shop.design());
}

TEST_CASE("opening the file that is open already reads it again") {
  Shop shop;
  shop.edit();
  shop.change_outside(shop.knife);
  shop.session->request_open(shop.files / "." / "knife.json");
  CHECK_FALSE(shop.session->question());
  CHECK(shop.design() == read_project(shop.knife));
  CHECK(shop.document().history().undo_label() == "read the file again");
}

TEST_CASE("unsaved work is kept at its time, and dropped when it is saved or undone") {
  Shop shop;
  const auto kept = [&] { return test::entries_in(shop.config / "unsaved"); };
  shop.tick();
  CHECK(kept() == 0);
  shop.edit();
  CHECK(shop.session->next_tick() <= shop.now);
  shop.tick(1ms);
  CHECK(kept() == 1);
  const fs::path work = fs::directory_iterator(shop.config / "unsaved")->path() / "work.json";
  const std::string first = test::bytes_of(work);
  shop.edit();
  shop.tick(1ms);
  CHECK(test::bytes_of(work) == first);
  CHECK(shop.session->next_tick() == shop.now - 1ms + Session::kAutosaveRest);
  shop.tick(Session::kAutosaveRest);
  const std::string second = test::bytes_of(work);
  CHECK(second != first);
  shop.document().begin("drag");
  shop.document().preview(move_joint(shop.design(), Which::left, 0, 44));
  shop.tick(Session::kAutosaveRest);
  CHECK(test::bytes_of(work) == second);
  shop.tick(Session::kAutosaveDraft);
  CHECK(test::bytes_of(work) != second);
  shop.document().cancel();
  shop.document().go_to(0);
  shop.tick();
  CHECK(kept() == 0);
  shop.document().redo();
  shop.tick();
  CHECK(kept() == 1);
  shop.session->save();
  CHECK(kept() == 0);
}

TEST_CASE("idle there is nothing to do but look at the file now and then") {
  Shop shop(false);
  CHECK_FALSE(shop.session->next_tick());
  shop.session->request_open(shop.knife);
  shop.tick();
  shop.tick();
  CHECK(shop.session->next_tick() == shop.now + Session::kDiskRest);
}

TEST_CASE("work that can't be kept is told once") {
  Shop shop;
  fs::remove_all(shop.config / "unsaved");
  test::put(shop.config / "unsaved", "in the way");
  for (int i = 0; i < 3; ++i) {
    shop.edit();
    shop.tick();
  }
  CHECK(shop.session->notices().size() == 1);
  CHECK(shop.notice().find("Unsaved work") != std::string::npos);
}

TEST_CASE("a session that ends with unsaved work offers it to the next; quitting takes it away") {
  Shop shop;
  shop.edit();
  const Design edited = shop.design();
  shop.start();
  REQUIRE(shop.session->offers().size() == 1);
  CHECK(shop.session->offers()[0].design == edited);
  SECTION("restored, then not wanted") {
    shop.session->request_restore(0);
    CHECK(shop.design() == edited);
    CHECK(shop.session->path() == shop.knife);
    shop.session->request_quit();
    REQUIRE(shop.asks(Kind::unsaved));
    shop.session->answer(Choice::discard);
    shop.tick();
  }
  SECTION("restored over other unsaved work, after asking") {
    shop.session->request_open(shop.other);
    shop.edit();
    shop.session->request_restore(0);
    REQUIRE(shop.asks(Kind::unsaved));
    shop.session->answer(Choice::save);
    CHECK(shop.design() == edited);
    shop.session->save();
  }
  SECTION("discarded") {
    shop.session->discard_offer(0);
  }
  CHECK(shop.session->offers().empty());
  shop.start();
  CHECK(shop.session->offers().empty());
  CHECK_FALSE(fs::exists(shop.config / "unsaved"));
}

TEST_CASE("opening a file that unsaved work was left behind on asks whether to take it up again") {
  Shop shop;
  const Design before = shop.design();
  shop.edit();
  const Design edited = shop.design();
  shop.start();
  shop.session->request_open(shop.other);
  CHECK_FALSE(shop.session->question());
  shop.session->request_open(shop.knife);
  REQUIRE(shop.asks(Kind::left_behind));
  CHECK(shop.design() == before);
  SECTION("taken up") {
    shop.session->answer(Choice::take_up);
    CHECK(shop.design() == edited);
    CHECK(shop.session->unsaved());
    CHECK(shop.session->path() == shop.knife);
    CHECK(shop.session->offers().empty());
  }
  SECTION("left for later") {
    shop.session->answer(Choice::later);
    CHECK(shop.design() == before);
    CHECK_FALSE(shop.session->unsaved());
    REQUIRE(shop.session->offers().size() == 1);
    CHECK(shop.session->offers()[0].design == edited);
  }
  CHECK_FALSE(shop.session->question());
}

TEST_CASE("exports end as notices; unsaved work is kept before they start") {
  Shop shop;
  shop.edit();
  shop.session->export_step(JobKind::guide_step, shop.files / "guide.step");
  CHECK(test::entries_in(shop.config / "unsaved") == 1);
  shop.finish_jobs();
  CHECK(shop.session->notices().front().kind == Notice::Kind::done);
  CHECK(shop.notice() == "Drill guide written\n" + (shop.files / "guide.step").string());
  shop.session->export_step(JobKind::handle_step, shop.files / "handle.step");
  shop.finish_jobs();
  CHECK(shop.session->notices().front().kind == Notice::Kind::warning);
  CHECK(shop.notice().find("checks fail") != std::string::npos);

  Design fails = shop.design();
  fails.name = "fails";
  shop.document().apply("rename", fails);
  shop.session->export_step(JobKind::guide_step, shop.files / "guide.step");
  shop.finish_jobs();
  CHECK(shop.notice() == "The drill guide was not written\nfirst\nsecond");

  shop.hold = true;
  shop.session->export_step(JobKind::guide_step, shop.files / "guide.step");
  CHECK(shop.session->jobs().busy());
  shop.session->jobs().cancel(JobKind::guide_step);
  shop.finish_jobs();
  CHECK(shop.notice().find("Stopped") != std::string::npos);
}

TEST_CASE("an export never replaces the project, and another file only after asking") {
  Shop shop;
  const std::string project = test::bytes_of(shop.knife);
  fs::create_symlink(shop.knife, shop.files / "link.step");
  for (const char* name : {"knife.json", "link.step"}) {
    shop.session->export_step(JobKind::guide_step, shop.files / name);
    CHECK(shop.notice().find("project's own file") != std::string::npos);
  }
  test::put(shop.files / "there.step", "x");
  shop.session->export_step(JobKind::guide_step, shop.files / "there.step");
  REQUIRE(shop.asks(Kind::replace_file));
  shop.session->answer(Choice::cancel);
  shop.finish_jobs();
  CHECK(shop.session->notices().empty());
  shop.session->export_step(JobKind::guide_step, shop.files / "there.step");
  shop.session->answer(Choice::overwrite);
  shop.finish_jobs();
  CHECK_FALSE(shop.notice().empty());
  // One's own export of before may be written again.
  shop.session->export_step(JobKind::guide_step, shop.files / "there.step");
  CHECK_FALSE(shop.session->question());
  CHECK(test::bytes_of(shop.knife) == project);
}

TEST_CASE("exact facts belong to the Design they were asked for and stop when it changes") {
  Shop shop;
  shop.session->request_exact_facts();
  shop.finish_jobs();
  REQUIRE(shop.session->exact_facts());
  CHECK(shop.session->exact_facts()->design == shop.document().snapshot());
  CHECK(shop.session->exact_facts()->bodies.size() == 1);
  shop.session->request_exact_facts();
  CHECK_FALSE(shop.session->jobs().busy());

  shop.hold = true;
  shop.edit();
  shop.session->request_exact_facts();
  CHECK(shop.session->jobs().busy());
  shop.edit();
  shop.tick(1ms);
  shop.finish_jobs();
  CHECK(shop.session->exact_facts()->design != shop.document().snapshot());
  shop.session->request_exact_facts();
  shop.hold = false;
  shop.finish_jobs();
  CHECK(shop.session->exact_facts()->design == shop.document().snapshot());
  CHECK(shop.session->notices().empty());
}

TEST_CASE("settings are kept when they change; broken ones are reported") {
  Shop shop(false);
  Settings settings = shop.session->settings();
  settings.theme = Theme::light;
  settings.hint_seen = true;
  shop.session->change_settings(settings);
  shop.start();
  CHECK(shop.session->settings() == settings);
  CHECK(shop.session->notices().empty());
  test::put(shop.config / "settings.json", "{");
  shop.start();
  CHECK(shop.session->settings() == Settings{});
  CHECK(shop.notice().find("set aside") != std::string::npos);
}

TEST_CASE("every question has words and its way out stands last") {
  for (const Choice choice : {Choice::save, Choice::save_elsewhere, Choice::overwrite, Choice::discard,
                              Choice::reload, Choice::keep, Choice::cancel})
    CHECK(std::string(label_of(choice)).size() > 3);
}

TEST_CASE("a path that leads back through a link means the file that the system finds") {
  Shop shop(false);
  const fs::path inside = shop.files / "shelf/inside";
  fs::create_directories(inside);
  fs::create_directory_symlink(inside, shop.files / "link");
  Design decoy = test::starter();
  decoy.name = "beside the link";
  write_project(decoy, shop.files / "p.json");
  Design meant = test::starter();
  meant.name = "on the shelf";
  write_project(meant, shop.files / "shelf/p.json");

  shop.session->request_open(shop.files / "link/../p.json");
  CHECK(shop.session->title() == "on the shelf");
  CHECK(shop.session->path() == shop.files / "shelf/p.json");
  shop.edit();
  shop.session->save();
  CHECK(read_project(shop.files / "p.json") == decoy);
  CHECK(read_project(shop.files / "shelf/p.json") == shop.design());
  // The same file by its plain name is the one that is open.
  shop.session->request_open(shop.files / "shelf/p.json");
  CHECK_FALSE(shop.session->question());
  CHECK(shop.session->settings().recent.size() == 1);

  shop.session->save_as(shop.files / "link/../new.json");
  CHECK(fs::exists(shop.files / "shelf/new.json"));
  CHECK_FALSE(fs::exists(shop.files / "new.json"));
}

TEST_CASE("a link to a project keeps its own name, and saving writes what it points at") {
  Shop shop(false);
  fs::create_symlink(shop.knife, shop.files / "link.json");
  shop.session->request_open(shop.files / "link.json");
  CHECK(shop.session->path() == shop.files / "link.json");
  shop.edit();
  shop.session->save();
  CHECK(fs::is_symlink(shop.files / "link.json"));
  CHECK(read_project(shop.knife) == shop.design());
}

TEST_CASE("what is no regular file is refused, and nobody waits for it") {
  Shop shop;
  const fs::path pipe = shop.files / "pipe.json";
  REQUIRE(mkfifo(pipe.c_str(), 0600) == 0);
  const fs::path folder = shop.files / "folder.json";
  fs::create_directory(folder);
  for (const fs::path& what : {pipe, folder, fs::path("/dev/zero")}) {
    shop.session->request_open(what);
    CHECK(shop.notice() ==
          what.filename().string() + " can't be opened\n" + what.string() +
              " is not a regular file but a folder, a pipe or a device; choose a project file.");
    CHECK(shop.session->path() == shop.knife);
  }
  // The project's own file may turn into one as well.
  fs::remove(shop.knife);
  REQUIRE(mkfifo(shop.knife.c_str(), 0600) == 0);
  shop.session->reload();
  CHECK(shop.notice().starts_with("knife.json can't be opened"));
  CHECK(shop.session->unsaved());
}

TEST_CASE("a file far too large is refused by its size") {
  Shop shop;
  const fs::path large = shop.files / "large.json";
  test::put(large, "{");
  fs::resize_file(large, std::uintmax_t{1} << 40);  // more than could be read in a day
  shop.session->request_open(large);
  CHECK(shop.notice().starts_with("large.json can't be opened"));
  CHECK(shop.session->path() == shop.knife);

  shop.edit();
  shop.tick();
  fs::resize_file(shop.knife, std::uintmax_t{1} << 40);
  shop.tick();
  CHECK(shop.asks(Kind::changed_on_disk));
}

}  // namespace haftwright
