#include <algorithm>
#include <catch2/catch.hpp>

#include "desk.hpp"
#include "haftwright/session/samples.hpp"

namespace haftwright {

TEST_CASE("a project is opened, edited, saved and opened again") {
  Desk desk;
  CHECK(desk.session->path() == desk.knife);
  CHECK(desk.session->title() == "starter");
  CHECK_FALSE(desk.session->unsaved());
  desk.edit();
  CHECK(desk.session->unsaved());
  desk.session->save();
  CHECK_FALSE(desk.session->unsaved());
  CHECK(read_project(desk.knife) == desk.design());
  CHECK(desk.session->notices().empty());
  CHECK(desk.session->settings().recent == std::vector<fs::path>{desk.knife});
  desk.session->request_open(desk.other);
  CHECK_FALSE(desk.session->question());
  CHECK(desk.session->title() == "other");
  CHECK(desk.session->settings().recent == std::vector<fs::path>{desk.other, desk.knife});
  desk.start();
  CHECK(desk.session->document() == nullptr);
  CHECK(desk.session->title().empty());
  CHECK(desk.session->settings().recent == std::vector<fs::path>{desk.other, desk.knife});
}

TEST_CASE("what can't be opened is told, keeps what is open, and asks nothing") {
  Desk desk;
  desk.edit();
  const Design before = desk.design();
  test::put(desk.files / "bad.json", "{\"tung\": 1}");
  for (const char* name : {"bad.json", "nowhere.json", "."}) {
    desk.session->request_open(desk.files / name);
    CHECK_FALSE(desk.session->question());
    CHECK(desk.session->notices().front().kind == Notice::Kind::error);
    CHECK_FALSE(desk.notice().empty());
    CHECK(desk.design() == before);
    CHECK(desk.session->path() == desk.knife);
  }
  Design senseless = test::starter();
  senseless.left.pieces.clear();
  desk.session->request_new(senseless);
  CHECK(desk.notice().find("sides.left.pieces") != std::string::npos);
  CHECK(desk.design() == before);
}

TEST_CASE("before unsaved work would be lost there is a question: save, don't save, cancel") {
  const std::function<void(Desk&)> wishes[] = {
      [](Desk& desk) { desk.session->request_open(desk.other); },
      [](Desk& desk) { desk.session->request_new(test::starter()); },
      [](Desk& desk) { desk.session->request_close(); },
      [](Desk& desk) { desk.session->request_quit(); },
  };
  const auto came_true = [](Desk& desk, std::size_t wish) {
    switch (wish) {
      case 0:
        return desk.session->path() == desk.other;
      case 1:
        return desk.session->document() && desk.session->path().empty();
      case 2:
        return desk.session->document() == nullptr;
      default:
        return desk.session->quitting();
    }
  };
  for (std::size_t wish = 0; wish < std::size(wishes); ++wish)
    for (const Choice choice : {Choice::save, Choice::discard, Choice::cancel, Choice::reload}) {
      CAPTURE(wish, label_of(choice));
      Desk desk;
      const Design before = desk.design();
      desk.edit();
      const Design edited = desk.design();
      desk.tick();
      wishes[wish](desk);
      REQUIRE(desk.asks(Kind::unsaved));
      CHECK(desk.session->question()->text.find("starter") != std::string::npos);
      CHECK_FALSE(came_true(desk, wish));
      desk.session->answer(choice);
      CHECK_FALSE(desk.session->question());
      const bool goes_on = choice == Choice::save || choice == Choice::discard;
      CHECK(came_true(desk, wish) == goes_on);
      CHECK(read_project(desk.knife) == (choice == Choice::save ? edited : before));
      if (!goes_on) {
        CHECK(desk.design() == edited);
        CHECK(desk.session->unsaved());
      } else if (wish != 1) {
        CHECK_FALSE(fs::exists(desk.config / "unsaved"));
      }
    }
}

TEST_CASE("with nothing unsaved nothing is asked") {
  Desk desk;
  desk.edit();
  desk.document().undo();
  desk.session->request_quit();
  CHECK_FALSE(desk.session->question());
  CHECK(desk.session->quitting());
}

TEST_CASE("an open drag is committed before the question, so that saving keeps it") {
  Desk desk;
  desk.document().begin("drag");
  desk.document().preview(move_joint(desk.design(), Which::left, 0, 42));
  desk.session->request_close();
  REQUIRE(desk.asks(Kind::unsaved));
  desk.session->answer(Choice::save);
  CHECK(read_project(desk.knife).left.joints[0].place_mm == 42);
}

TEST_CASE("a new project asks for a name when saved, and goes on afterwards") {
  Desk desk(false);
  desk.session->request_new(test::starter());
  CHECK(desk.session->unsaved());
  desk.session->request_open(desk.other);
  REQUIRE(desk.asks(Kind::unsaved));
  desk.session->answer(Choice::save);
  REQUIRE(desk.session->wants_path());
  SECTION("a name is given") {
    desk.session->save_as(desk.files / "new.json");
    CHECK(read_project(desk.files / "new.json") == test::starter());
    CHECK(desk.session->path() == desk.other);
  }
  SECTION("no name is given") {
    desk.session->give_up_path();
    CHECK(desk.session->path().empty());
    CHECK(desk.session->unsaved());
    // And the wish to open another one is forgotten.
    desk.session->save_as(desk.files / "new.json");
    CHECK(desk.session->path() == desk.files / "new.json");
  }
  CHECK_FALSE(desk.session->wants_path());
}

TEST_CASE("saving under the name of another file asks first") {
  Desk desk;
  const Design theirs = read_project(desk.other);
  desk.session->save_as(desk.other);
  REQUIRE(desk.asks(Kind::replace_file));
  desk.session->answer(Choice::cancel);
  CHECK(read_project(desk.other) == theirs);
  CHECK(desk.session->path() == desk.knife);
  desk.session->save_as(desk.other);
  desk.session->answer(Choice::overwrite);
  CHECK(read_project(desk.other) == desk.design());
  CHECK(desk.session->path() == desk.other);
  desk.session->save_as(desk.files / "sub" / ".." / "other.json");
  CHECK_FALSE(desk.session->question());
}

TEST_CASE("a save that fails is told, and what waited for it does not happen") {
  Desk desk;
  desk.edit();
  fs::remove(desk.knife);
  fs::create_directory(desk.knife);
  desk.session->request_quit();
  desk.session->answer(Choice::save);
  if (desk.session->question()) desk.session->answer(Choice::overwrite);
  CHECK(desk.notice().find("not saved") != std::string::npos);
  CHECK_FALSE(desk.session->quitting());
  CHECK(desk.session->unsaved());
}

TEST_CASE("a sample is opened as a copy, so that saving can't write over it") {
  const std::string sample = GENERATE("/paring_knife.json", "/reed_knife.json");
  Desk desk;
  const fs::path path = HAFTWRIGHT_PROJECTS + sample;
  const std::string on_disk = test::bytes_of(path);
  SECTION("by its own name") {
    desk.session->request_open(path);
  }
  SECTION("through a link to the folder") {
    fs::create_directory_symlink(HAFTWRIGHT_PROJECTS, desk.files / "samples");
    desk.session->request_open(desk.files / ("samples" + sample));
  }
  SECTION("through a link to the file") {
    fs::create_symlink(path, desk.files / "mine.json");
    desk.session->request_open(desk.files / "mine.json");
  }
  REQUIRE(desk.document().answers());
  CHECK(desk.design() == read_project(path));
  CHECK(desk.session->path().empty());
  CHECK(desk.session->title() == desk.design().name);
  CHECK_FALSE(desk.session->unsaved());
  CHECK(desk.session->settings().recent == std::vector<fs::path>{desk.knife});
  desk.edit();
  CHECK(desk.session->unsaved());
  desk.session->save();
  CHECK(desk.session->wants_path());
  desk.session->save_as(desk.files / "mine too.json");
  CHECK(desk.session->path() == desk.files / "mine too.json");
  CHECK(read_project(desk.files / "mine too.json") == desk.design());
  CHECK(test::bytes_of(path) == on_disk);
}

TEST_CASE("samples are the projects in their folder, and only those") {
  const std::vector<fs::path> samples = sample_projects();
  CHECK(samples.size() >= 4);
  CHECK(std::ranges::all_of(samples, is_sample));
  for (const fs::path& sample : samples) CHECK_NOTHROW(read_project(sample));  // the bin beside them is none
  const Desk desk;
  CHECK_FALSE(is_sample(desk.knife));
  CHECK_FALSE(is_sample(HAFTWRIGHT_PROJECTS));
  CHECK_FALSE(is_sample(HAFTWRIGHT_PROJECTS "/FORMAT.md"));
  CHECK_FALSE(is_sample(HAFTWRIGHT_PROJECTS "/pictures/picture.json"));
  CHECK(is_sample(HAFTWRIGHT_PROJECTS "/../projects/not there yet.json"));
}

TEST_CASE("the samples of an installed tree are found from the program, wherever the tree lies") {
  const test::TemporaryFolder tree;
  CHECK(samples_folder(tree / "bin/haftwright").empty());
  CHECK(samples_folder({}).empty());
  fs::create_directories(tree / "bin");
  fs::create_directories(tree / "share/haftwright/projects");
  const fs::path found = samples_folder(tree / "bin/haftwright");
  CHECK(fs::equivalent(found, tree / "share/haftwright/projects"));
  // The build folder, which has the program at its top.
  CHECK(fs::equivalent(samples_folder(tree / "haftwright"), found));
}

TEST_CASE("settings that could not be understood are told of") {
  const test::TemporaryFolder config;
  test::put(config / "settings.json", "{{");
  const Session session(config.path(), load_settings(config.path()), [] {});
  REQUIRE(session.notices().size() == 1);
  CHECK(session.notices().front().title == "The settings were set back");
  CHECK(session.settings() == Settings{});
}

TEST_CASE("a drawing becomes a project, or what it leaves open is told with the verb") {
  Desk desk;
  const std::string head = "<svg xmlns='http://www.w3.org/2000/svg' ";
  const std::string tang =
      "viewBox='0 0 200 100'><rect width='110' height='26' rx='0'/><circle cx='20' cy='13' r='1.6'/>"
      "<circle cx='80' cy='13' r='1.6'/></svg>";
  test::put(desk.files / "tang.SVG", head + "width='200mm' height='100mm' " + tang);
  desk.session->request_close();
  desk.session->request_open(desk.files / "tang.SVG");
  CHECK(desk.notice().find("haftwright import tang.SVG") != std::string::npos);
  CHECK(desk.design().name == "tang");
  CHECK(desk.design().tang.holes.size() == 2);
  CHECK(desk.design().pins.size() == 2);
  const Design before = desk.design();
  test::put(desk.files / "unsaid.svg", head + tang);
  desk.session->request_open(desk.files / "unsaid.svg");
  CHECK(desk.notice().find("--unit") != std::string::npos);
  desk.session->request_open(desk.files / "nowhere.dxf");
  CHECK(desk.notice().find("there is no such file") != std::string::npos);
  CHECK(desk.design() == before);
}

}  // namespace haftwright
