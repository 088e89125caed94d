#include <atomic>
#include <catch2/catch.hpp>
#include <thread>

#include "designs.hpp"
#include "haftwright/files/project_file.hpp"
#include "haftwright/session/edits.hpp"
#include "haftwright/session/session.hpp"
#include "temporary_folder.hpp"

namespace haftwright {
namespace {

namespace fs = std::filesystem;
using namespace std::chrono_literals;
using Kind = Question::Kind;

/// A session with a project of its own open, and another one to open.
struct Shop {
  test::TemporaryFolder files, config;
  fs::path knife = files / "knife.json";
  fs::path other = files / "other.json";
  std::atomic<bool> hold = false;
  std::unique_ptr<Session> session;
  Session::Clock::time_point now = Session::Clock::now();

  explicit Shop(bool open = true) {
    write_project(test::starter(), knife);
    Design second = test::starter();
    second.name = "other";
    write_project(second, other);
    start();
    if (open) session->request_open(knife);
  }
  void start() {
    session.reset();
    session = std::make_unique<Session>(
        config.path(), [] {},
        [this](const auto& request, const auto& context) { return work(request, context); });
  }
  JobOutcome work(const JobRequest& request, const JobContext& context) const {
    while (hold && !context.cancelled()) std::this_thread::sleep_for(200us);
    if (context.cancelled()) throw Cancelled{};
    if (request.kind == JobKind::handle_facts) return FactsFound{{{"tang", "", 1, true}}};
    if (request.product_name == "fails") return JobFailed{"first\nsecond"};
    return FileWritten{request.path, 1, {}, request.kind == JobKind::handle_step};
  }

  Document& document() { return *session->document(); }
  const Design& design() { return document().design(); }
  void edit(double by = 1) {
    document().apply("move joint",
                     move_joint(design(), Which::left, 0, design().left.joints[0].place_mm + by));
  }
  void tick(std::chrono::milliseconds later = 10s) { session->tick(now += later); }
  bool asks(Kind kind) const { return session->question() && session->question()->kind == kind; }
  std::string notice() {
    if (session->notices().empty()) return "";
    std::string text = session->notices().front().title;
    for (const std::string& line : session->notices().front().lines) text += "\n" + line;
    session->dismiss_notice();
    return text;
  }
  /// Somebody else's version.
  void change_outside(const fs::path& path) {
    Design theirs = read_project(path);
    theirs.note += "changed outside ";
    write_project(theirs, path);
    fs::last_write_time(path, fs::last_write_time(path) + 1min);
  }
  void finish_jobs() {
    for (int i = 0; i < 10000 && session->jobs().busy(); ++i) std::this_thread::sleep_for(200us);
    REQUIRE_FALSE(session->jobs().busy());
    tick(0ms);
  }
};

}  // namespace

TEST_CASE("a project is opened, edited, saved and opened again") {
  Shop shop;
  CHECK(shop.session->path() == shop.knife);
  CHECK(shop.session->title() == "starter");
  CHECK_FALSE(shop.session->unsaved());
  shop.edit();
  CHECK(shop.session->unsaved());
  shop.session->save();
  CHECK_FALSE(shop.session->unsaved());
  CHECK(read_project(shop.knife) == shop.design());
  CHECK(shop.session->notices().empty());
  CHECK(shop.session->settings().recent == std::vector<fs::path>{shop.knife});
  shop.session->request_open(shop.other);
  CHECK_FALSE(shop.session->question());
  CHECK(shop.session->title() == "other");
  CHECK(shop.session->settings().recent == std::vector<fs::path>{shop.other, shop.knife});
  shop.start();
  CHECK(shop.session->document() == nullptr);
  CHECK(shop.session->title().empty());
  CHECK(shop.session->settings().recent == std::vector<fs::path>{shop.other, shop.knife});
}

TEST_CASE("what can't be opened is told, keeps what is open, and asks nothing") {
  Shop shop;
  shop.edit();
  const Design before = shop.design();
  test::put(shop.files / "bad.json", "{\"tung\": 1}");
  for (const char* name : {"bad.json", "nowhere.json", "."}) {
    shop.session->request_open(shop.files / name);
    CHECK_FALSE(shop.session->question());
    CHECK(shop.session->notices().front().kind == Notice::Kind::error);
    CHECK_FALSE(shop.notice().empty());
    CHECK(shop.design() == before);
    CHECK(shop.session->path() == shop.knife);
  }
  Design senseless = test::starter();
  senseless.left.pieces.clear();
  shop.session->request_new(senseless);
  CHECK(shop.notice().find("sides.left.pieces") != std::string::npos);
  CHECK(shop.design() == before);
}

TEST_CASE("before unsaved work would be lost there is a question: save, don't save, cancel") {
  const std::function<void(Shop&)> wishes[] = {
      [](Shop& shop) { shop.session->request_open(shop.other); },
      [](Shop& shop) { shop.session->request_new(test::starter()); },
      [](Shop& shop) { shop.session->request_close(); },
      [](Shop& shop) { shop.session->request_quit(); },
  };
  const auto came_true = [](Shop& shop, std::size_t wish) {
    switch (wish) {
      case 0:
        return shop.session->path() == shop.other;
      case 1:
        return shop.session->document() && shop.session->path().empty();
      case 2:
        return shop.session->document() == nullptr;
      default:
        return shop.session->quitting();
    }
  };
  for (std::size_t wish = 0; wish < std::size(wishes); ++wish)
    for (const Choice choice : {Choice::save, Choice::discard, Choice::cancel, Choice::reload}) {
      CAPTURE(wish, label_of(choice));
      Shop shop;
      const Design before = shop.design();
      shop.edit();
      const Design edited = shop.design();
      shop.tick();
      wishes[wish](shop);
      REQUIRE(shop.asks(Kind::unsaved));
      CHECK(shop.session->question()->text.find("starter") != std::string::npos);
      CHECK_FALSE(came_true(shop, wish));
      shop.session->answer(choice);
      CHECK_FALSE(shop.session->question());
      const bool goes_on = choice == Choice::save || choice == Choice::discard;
      CHECK(came_true(shop, wish) == goes_on);
      CHECK(read_project(shop.knife) == (choice == Choice::save ? edited : before));
      if (!goes_on) {
        CHECK(shop.design() == edited);
        CHECK(shop.session->unsaved());
      } else if (wish != 1) {
        CHECK_FALSE(fs::exists(shop.config / "unsaved"));
      }
    }
}

TEST_CASE("with nothing unsaved nothing is asked") {
  Shop shop;
  shop.edit();
  shop.document().undo();
  shop.session->request_quit();
  CHECK_FALSE(shop.session->question());
  CHECK(shop.session->quitting());
}

TEST_CASE("an open drag is committed before the question, so that saving keeps it") {
  Shop shop;
  shop.document().begin("drag");
  shop.document().preview(move_joint(shop.design(), Which::left, 0, 42));
  shop.session->request_close();
  REQUIRE(shop.asks(Kind::unsaved));
  shop.session->answer(Choice::save);
  CHECK(read_project(shop.knife).left.joints[0].place_mm == 42);
}

TEST_CASE("a new project asks for a name when saved, and goes on afterwards") {
  Shop shop(false);
  shop.session->request_new(test::starter());
  CHECK(shop.session->unsaved());
  shop.session->request_open(shop.other);
  REQUIRE(shop.asks(Kind::unsaved));
  shop.session->answer(Choice::save);
  REQUIRE(shop.session->wants_path());
  SECTION("a name is given") {
    shop.session->save_as(shop.files / "new.json");
    CHECK(read_project(shop.files / "new.json") == test::starter());
    CHECK(shop.session->path() == shop.other);
  }
  SECTION("no name is given") {
    shop.session->give_up_path();
    CHECK(shop.session->path().empty());
    CHECK(shop.session->unsaved());
    // And the wish to open another one is forgotten.
    shop.session->save_as(shop.files / "new.json");
    CHECK(shop.session->path() == shop.files / "new.json");
  }
  CHECK_FALSE(shop.session->wants_path());
}

TEST_CASE("saving under the name of another file asks first") {
  Shop shop;
  const Design theirs = read_project(shop.other);
  shop.session->save_as(shop.other);
  REQUIRE(shop.asks(Kind::replace_file));
  shop.session->answer(Choice::cancel);
  CHECK(read_project(shop.other) == theirs);
  CHECK(shop.session->path() == shop.knife);
  shop.session->save_as(shop.other);
  shop.session->answer(Choice::overwrite);
  CHECK(read_project(shop.other) == shop.design());
  CHECK(shop.session->path() == shop.other);
  shop.session->save_as(shop.files / "sub" / ".." / "other.json");
  CHECK_FALSE(shop.session->question());
}

TEST_CASE("a save that fails is told, and what waited for it does not happen") {
  Shop shop;
  shop.edit();
  fs::remove(shop.knife);
  fs::create_directory(shop.knife);
  shop.session->request_quit();
  shop.session->answer(Choice::save);
  if (shop.session->question()) shop.session->answer(Choice::overwrite);
  CHECK(shop.notice().find("not saved") != std::string::npos);
  CHECK_FALSE(shop.session->quitting());
  CHECK(shop.session->unsaved());
}

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

}  // namespace haftwright
