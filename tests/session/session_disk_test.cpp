#include <sys/stat.h>

#include <catch2/catch.hpp>

#include "desk.hpp"

namespace haftwright {

TEST_CASE("a file changed on disk is noticed: read it again, or keep mine") {
  Desk desk;
  desk.edit();
  const Design mine = desk.design();
  desk.tick();
  CHECK_FALSE(desk.session->question());
  desk.change_outside(desk.knife);
  desk.tick();
  REQUIRE(desk.asks(Kind::changed_on_disk));
  SECTION("read it again, which undo takes back") {
    desk.session->answer(Choice::reload);
    CHECK(desk.design() == read_project(desk.knife));
    CHECK_FALSE(desk.session->unsaved());
    desk.tick();
    CHECK_FALSE(desk.session->question());
    CHECK(desk.document().undo());
    CHECK(desk.design() == mine);
    CHECK(desk.session->unsaved());
  }
  SECTION("keep mine: saving replaces theirs without asking twice") {
    desk.session->answer(Choice::keep);
    CHECK(desk.design() == mine);
    desk.tick();
    CHECK_FALSE(desk.session->question());
    desk.session->save();
    CHECK_FALSE(desk.session->question());
    CHECK(read_project(desk.knife) == mine);
  }
  SECTION("keep mine, though mine was saved before: it is unsaved now") {
    desk.session->answer(Choice::keep);
    desk.document().undo();
    CHECK(desk.session->unsaved());
  }
}

TEST_CASE("a change between two looks is caught by saving") {
  Desk desk;
  desk.edit();
  const Design mine = desk.design();
  desk.change_outside(desk.knife);
  const Design theirs = read_project(desk.knife);
  desk.session->save();
  REQUIRE(desk.asks(Kind::overwrite_changed));
  CHECK(read_project(desk.knife) == theirs);
  SECTION("replace") {
    desk.session->answer(Choice::overwrite);
    CHECK(read_project(desk.knife) == mine);
    CHECK_FALSE(desk.session->unsaved());
  }
  SECTION("elsewhere") {
    desk.session->answer(Choice::save_elsewhere);
    REQUIRE(desk.session->wants_path());
    desk.session->save_as(desk.files / "mine.json");
    CHECK(read_project(desk.files / "mine.json") == mine);
    CHECK(read_project(desk.knife) == theirs);
  }
  SECTION("cancel") {
    desk.session->answer(Choice::cancel);
    CHECK(read_project(desk.knife) == theirs);
    CHECK(desk.session->unsaved());
  }
}

TEST_CASE("saving looks at the bytes, whatever size and time say") {
  Desk desk;
  desk.edit();
  const auto time = fs::last_write_time(desk.knife);
  std::string text = test::bytes_of(desk.knife);
  text.replace(text.find("starter"), 7, "theirs!");
  test::put(desk.knife, text);
  fs::last_write_time(desk.knife, time);
  desk.session->save();
  CHECK(desk.asks(Kind::overwrite_changed));
  CHECK(test::bytes_of(desk.knife) == text);
}

TEST_CASE("a question that another wish has overtaken is forgotten with all that hung on it") {
  Desk desk;
  desk.edit();
  test::put(desk.files / "guide.step", "x");
  desk.session->export_step(JobKind::guide_step, desk.files / "guide.step");
  REQUIRE(desk.asks(Kind::replace_file));
  desk.session->request_close();
  REQUIRE(desk.asks(Kind::unsaved));
  desk.session->answer(Choice::cancel);
  desk.session->save_as(desk.other);
  REQUIRE(desk.asks(Kind::replace_file));
  desk.session->answer(Choice::overwrite);
  CHECK(desk.session->path() == desk.other);
  CHECK_FALSE(desk.session->jobs().busy());

  desk.session->export_step(JobKind::guide_step, desk.files / "guide.step");
  REQUIRE(desk.asks(Kind::replace_file));
  desk.session->request_open(desk.knife);
  CHECK(desk.session->path() == desk.knife);
  CHECK_FALSE(desk.session->question());
}

TEST_CASE("a file written anew with the same project in it is nothing to ask about") {
  Desk desk;
  test::put(desk.knife, test::bytes_of(desk.knife) + "\n\n");
  desk.tick();
  desk.tick();
  CHECK_FALSE(desk.session->question());
  CHECK_FALSE(desk.session->unsaved());
}

TEST_CASE("a file that changed into something unreadable is told; the work stays and is unsaved") {
  Desk desk;
  const Design mine = desk.design();
  desk.tick();
  test::put(desk.knife, "{");
  desk.tick();
  REQUIRE(desk.asks(Kind::changed_on_disk));
  desk.session->answer(Choice::reload);
  CHECK_FALSE(desk.notice().empty());
  CHECK(desk.design() == mine);
  CHECK(desk.session->unsaved());
  write_project(test::crossing_joints(), desk.knife);
  desk.session->reload();
  CHECK(desk.notice().find("laid out") != std::string::npos);
  CHECK(desk.design() == mine);
}

TEST_CASE("a file that is gone is noticed; saving makes it anew") {
  Desk desk;
  desk.tick();
  fs::remove(desk.knife);
  desk.session->look_at_disk();
  REQUIRE(desk.asks(Kind::gone_from_disk));
  desk.session->answer(Choice::keep);
  CHECK(desk.session->unsaved());
  desk.tick();
  CHECK_FALSE(desk.session->question());
  desk.session->save();
  CHECK(read_project(desk.knife) == desk.design());
}

TEST_CASE("opening the file that is open already reads it again") {
  Desk desk;
  desk.edit();
  desk.change_outside(desk.knife);
  desk.session->request_open(desk.files / "." / "knife.json");
  CHECK_FALSE(desk.session->question());
  CHECK(desk.design() == read_project(desk.knife));
  CHECK(desk.document().history().undo_label() == "read the file again");
}

TEST_CASE("unsaved work is kept at its time, and dropped when it is saved or undone") {
  Desk desk;
  const auto kept = [&] { return test::entries_in(desk.config / "unsaved"); };
  desk.tick();
  CHECK(kept() == 0);
  desk.edit();
  CHECK(desk.session->next_tick() <= desk.now);
  desk.tick(1ms);
  CHECK(kept() == 1);
  const fs::path work = fs::directory_iterator(desk.config / "unsaved")->path() / "work.json";
  const std::string first = test::bytes_of(work);
  desk.edit();
  desk.tick(1ms);
  CHECK(test::bytes_of(work) == first);
  CHECK(desk.session->next_tick() == desk.now - 1ms + Session::kAutosaveRest);
  desk.tick(Session::kAutosaveRest);
  const std::string second = test::bytes_of(work);
  CHECK(second != first);
  desk.document().begin("drag");
  desk.document().preview(move_joint(desk.design(), Which::left, 0, 44));
  desk.tick(Session::kAutosaveRest);
  CHECK(test::bytes_of(work) == second);
  desk.tick(Session::kAutosaveDraft);
  CHECK(test::bytes_of(work) != second);
  desk.document().cancel();
  desk.document().go_to(0);
  desk.tick();
  CHECK(kept() == 0);
  desk.document().redo();
  desk.tick();
  CHECK(kept() == 1);
  desk.session->save();
  CHECK(kept() == 0);
}

TEST_CASE("idle there is nothing to do but look at the file now and then") {
  Desk desk(false);
  CHECK_FALSE(desk.session->next_tick());
  desk.session->request_open(desk.knife);
  desk.tick();
  desk.tick();
  CHECK(desk.session->next_tick() == desk.now + Session::kDiskRest);
}

TEST_CASE("work that can't be kept is told once") {
  Desk desk;
  fs::remove_all(desk.config / "unsaved");
  test::put(desk.config / "unsaved", "in the way");
  for (int i = 0; i < 3; ++i) {
    desk.edit();
    desk.tick();
  }
  CHECK(desk.session->notices().size() == 1);
  CHECK(desk.notice().find("Unsaved work") != std::string::npos);
}

TEST_CASE("a session that ends with unsaved work offers it to the next; quitting takes it away") {
  Desk desk;
  desk.edit();
  const Design edited = desk.design();
  desk.start();
  REQUIRE(desk.session->offers().size() == 1);
  CHECK(desk.session->offers()[0].design == edited);
  SECTION("restored, then not wanted") {
    desk.session->request_restore(0);
    CHECK(desk.design() == edited);
    CHECK(desk.session->path() == desk.knife);
    desk.session->request_quit();
    REQUIRE(desk.asks(Kind::unsaved));
    desk.session->answer(Choice::discard);
    desk.tick();
  }
  SECTION("restored over other unsaved work, after asking") {
    desk.session->request_open(desk.other);
    desk.edit();
    desk.session->request_restore(0);
    REQUIRE(desk.asks(Kind::unsaved));
    desk.session->answer(Choice::save);
    CHECK(desk.design() == edited);
    desk.session->save();
  }
  SECTION("discarded") {
    desk.session->discard_offer(0);
  }
  CHECK(desk.session->offers().empty());
  desk.start();
  CHECK(desk.session->offers().empty());
  CHECK_FALSE(fs::exists(desk.config / "unsaved"));
}

TEST_CASE("opening a file that unsaved work was left behind on asks whether to take it up again") {
  Desk desk;
  const Design before = desk.design();
  desk.edit();
  const Design edited = desk.design();
  desk.start();
  desk.session->request_open(desk.other);
  CHECK_FALSE(desk.session->question());
  desk.session->request_open(desk.knife);
  REQUIRE(desk.asks(Kind::left_behind));
  CHECK(desk.design() == before);
  SECTION("taken up") {
    desk.session->answer(Choice::take_up);
    CHECK(desk.design() == edited);
    CHECK(desk.session->unsaved());
    CHECK(desk.session->path() == desk.knife);
    CHECK(desk.session->offers().empty());
  }
  SECTION("left for later") {
    desk.session->answer(Choice::later);
    CHECK(desk.design() == before);
    CHECK_FALSE(desk.session->unsaved());
    REQUIRE(desk.session->offers().size() == 1);
    CHECK(desk.session->offers()[0].design == edited);
  }
  CHECK_FALSE(desk.session->question());
}

TEST_CASE("exports end as notices; unsaved work is kept before they start") {
  Desk desk;
  desk.edit();
  desk.session->export_step(JobKind::guide_step, desk.files / "guide.step");
  CHECK(test::entries_in(desk.config / "unsaved") == 1);
  desk.finish_jobs();
  CHECK(desk.session->notices().front().kind == Notice::Kind::done);
  CHECK(desk.notice() == "Drill guide written\n" + (desk.files / "guide.step").string());
  desk.session->export_step(JobKind::handle_step, desk.files / "handle.step");
  desk.finish_jobs();
  CHECK(desk.session->notices().front().kind == Notice::Kind::warning);
  CHECK(desk.notice().find("checks fail") != std::string::npos);

  Design fails = desk.design();
  fails.name = "fails";
  desk.document().apply("rename", fails);
  desk.session->export_step(JobKind::guide_step, desk.files / "guide.step");
  desk.finish_jobs();
  CHECK(desk.notice() == "The drill guide was not written\nfirst\nsecond");

  desk.hold = true;
  desk.session->export_step(JobKind::guide_step, desk.files / "guide.step");
  CHECK(desk.session->jobs().busy());
  desk.session->jobs().cancel(JobKind::guide_step);
  desk.finish_jobs();
  CHECK(desk.notice().find("Stopped") != std::string::npos);
}

TEST_CASE("an export never replaces the project, and another file only after asking") {
  Desk desk;
  const std::string project = test::bytes_of(desk.knife);
  fs::create_symlink(desk.knife, desk.files / "link.step");
  for (const char* name : {"knife.json", "link.step"}) {
    desk.session->export_step(JobKind::guide_step, desk.files / name);
    CHECK(desk.notice().find("project's own file") != std::string::npos);
  }
  test::put(desk.files / "there.step", "x");
  desk.session->export_step(JobKind::guide_step, desk.files / "there.step");
  REQUIRE(desk.asks(Kind::replace_file));
  desk.session->answer(Choice::cancel);
  desk.finish_jobs();
  CHECK(desk.session->notices().empty());
  desk.session->export_step(JobKind::guide_step, desk.files / "there.step");
  desk.session->answer(Choice::overwrite);
  desk.finish_jobs();
  CHECK_FALSE(desk.notice().empty());
  // One's own export of before may be written again.
  desk.session->export_step(JobKind::guide_step, desk.files / "there.step");
  CHECK_FALSE(desk.session->question());
  CHECK(test::bytes_of(desk.knife) == project);
}

TEST_CASE("settings are kept when they change; broken ones are reported") {
  Desk desk(false);
  Settings settings = desk.session->settings();
  settings.theme = Theme::light;
  settings.hint_seen = true;
  desk.session->change_settings(settings);
  desk.start();
  CHECK(desk.session->settings() == settings);
  CHECK(desk.session->notices().empty());
  test::put(desk.config / "settings.json", "{");
  desk.start();
  CHECK(desk.session->settings() == Settings{});
  CHECK(desk.notice().find("set aside") != std::string::npos);
}

TEST_CASE("every question has words and its way out stands last") {
  for (const Choice choice : {Choice::save, Choice::save_elsewhere, Choice::overwrite, Choice::discard,
                              Choice::reload, Choice::keep, Choice::cancel})
    CHECK(std::string(label_of(choice)).size() > 3);
}

TEST_CASE("a path that leads back through a link means the file that the system finds") {
  Desk desk(false);
  const fs::path inside = desk.files / "shelf/inside";
  fs::create_directories(inside);
  fs::create_directory_symlink(inside, desk.files / "link");
  Design decoy = test::starter();
  decoy.name = "beside the link";
  write_project(decoy, desk.files / "p.json");
  Design meant = test::starter();
  meant.name = "on the shelf";
  write_project(meant, desk.files / "shelf/p.json");

  desk.session->request_open(desk.files / "link/../p.json");
  CHECK(desk.session->title() == "on the shelf");
  CHECK(desk.session->path() == desk.files / "shelf/p.json");
  desk.edit();
  desk.session->save();
  CHECK(read_project(desk.files / "p.json") == decoy);
  CHECK(read_project(desk.files / "shelf/p.json") == desk.design());
  // The same file by its plain name is the one that is open.
  desk.session->request_open(desk.files / "shelf/p.json");
  CHECK_FALSE(desk.session->question());
  CHECK(desk.session->settings().recent.size() == 1);

  desk.session->save_as(desk.files / "link/../new.json");
  CHECK(fs::exists(desk.files / "shelf/new.json"));
  CHECK_FALSE(fs::exists(desk.files / "new.json"));
}

TEST_CASE("a link to a project keeps its own name, and saving writes what it points at") {
  Desk desk(false);
  fs::create_symlink(desk.knife, desk.files / "link.json");
  desk.session->request_open(desk.files / "link.json");
  CHECK(desk.session->path() == desk.files / "link.json");
  desk.edit();
  desk.session->save();
  CHECK(fs::is_symlink(desk.files / "link.json"));
  CHECK(read_project(desk.knife) == desk.design());
}

TEST_CASE("what is no regular file is refused, and nobody waits for it") {
  Desk desk;
  const fs::path pipe = desk.files / "pipe.json";
  REQUIRE(mkfifo(pipe.c_str(), 0600) == 0);
  const fs::path folder = desk.files / "folder.json";
  fs::create_directory(folder);
  for (const fs::path& what : {pipe, folder, fs::path("/dev/zero")}) {
    desk.session->request_open(what);
    CHECK(desk.notice() ==
          what.filename().string() + " can't be opened\n" + what.string() +
              " is not a regular file but a folder, a pipe or a device; choose a project file.");
    CHECK(desk.session->path() == desk.knife);
  }
  // The project's own file may turn into one as well.
  fs::remove(desk.knife);
  REQUIRE(mkfifo(desk.knife.c_str(), 0600) == 0);
  desk.session->reload();
  CHECK(desk.notice().starts_with("knife.json can't be opened"));
  CHECK(desk.session->unsaved());
}

TEST_CASE("a file far too large is refused by its size") {
  Desk desk;
  const fs::path large = desk.files / "large.json";
  test::put(large, "{");
  fs::resize_file(large, std::uintmax_t{1} << 40);  // more than could be read in a day
  desk.session->request_open(large);
  CHECK(desk.notice().starts_with("large.json can't be opened"));
  CHECK(desk.session->path() == desk.knife);

  desk.edit();
  desk.tick();
  fs::resize_file(desk.knife, std::uintmax_t{1} << 40);
  desk.tick();
  CHECK(desk.asks(Kind::changed_on_disk));
}

}  // namespace haftwright
