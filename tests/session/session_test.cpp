#include <algorithm>
#include <catch2/catch.hpp>

#include "haftwright/session/samples.hpp"
#include "shop.hpp"

namespace haftwright {

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

TEST_CASE("a sample is opened as a copy, so that saving can't write over it") {
  const std::string sample = GENERATE("/paring_knife.json", "/reed_knife.json");
  Shop shop;
  const fs::path path = HAFTWRIGHT_PROJECTS + sample;
  const std::string on_disk = test::bytes_of(path);
  SECTION("by its own name") {
    shop.session->request_open(path);
  }
  SECTION("through a link to the folder") {
    fs::create_directory_symlink(HAFTWRIGHT_PROJECTS, shop.files / "samples");
    shop.session->request_open(shop.files / ("samples" + sample));
  }
  SECTION("through a link to the file") {
    fs::create_symlink(path, shop.files / "mine.json");
    shop.session->request_open(shop.files / "mine.json");
  }
  REQUIRE(shop.document().answers());
  CHECK(shop.design() == read_project(path));
  CHECK(shop.session->path().empty());
  CHECK(shop.session->title() == shop.design().name);
  CHECK_FALSE(shop.session->unsaved());
  CHECK(shop.session->settings().recent == std::vector<fs::path>{shop.knife});
  shop.edit();
  CHECK(shop.session->unsaved());
  shop.session->save();
  CHECK(shop.session->wants_path());
  shop.session->save_as(shop.files / "mine too.json");
  CHECK(shop.session->path() == shop.files / "mine too.json");
  CHECK(read_project(shop.files / "mine too.json") == shop.design());
  CHECK(test::bytes_of(path) == on_disk);
}

TEST_CASE("samples are the projects in their folder, and only those") {
  const std::vector<fs::path> samples = sample_projects();
  CHECK(samples.size() >= 4);
  CHECK(std::ranges::all_of(samples, is_sample));
  const Shop shop;
  CHECK_FALSE(is_sample(shop.knife));
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

}  // namespace haftwright
