#include <signal.h>
#include <sys/wait.h>
#include <unistd.h>

#include <catch2/catch.hpp>
#include <chrono>
#include <functional>
#include <thread>

#include "haftwright/edits/edits.hpp"
#include "haftwright/files/project_file.hpp"
#include "haftwright/files/safe_write.hpp"
#include "haftwright/session/autosave.hpp"
#include "haftwright/session/session.hpp"
#include "support/designs.hpp"
#include "support/random.hpp"
#include "support/random_design.hpp"
#include "temporary_folder.hpp"

namespace haftwright {
namespace {

namespace fs = std::filesystem;
using test::TemporaryFolder;

/// A child process that does `work`, says so, and is killed where it stands.
class Victim {
 public:
  /// `work(say)`: say() tells the parent to go on.
  explicit Victim(const std::function<void(const std::function<void()>&)>& work) {
    int ends[2];
    REQUIRE(pipe(ends) == 0);
    child_ = fork();
    REQUIRE(child_ >= 0);
    if (child_ == 0) {
      work([&] {
        if (write(ends[1], "x", 1) != 1) _exit(1);
      });
      while (true) pause();
    }
    close(ends[1]);
    char said = 0;
    REQUIRE(read(ends[0], &said, 1) == 1);
    close(ends[0]);
  }
  ~Victim() { kill_it(); }

  void kill_it() {
    if (child_ <= 0) return;
    kill(child_, SIGKILL);
    int status = 0;
    waitpid(child_, &status, 0);
    CHECK(WIFSIGNALED(status));
    child_ = 0;
  }

 private:
  pid_t child_ = 0;
};

void nothing() {}

fs::path unsaved_of(const TemporaryFolder& config) {
  return config / "unsaved";
}

}  // namespace

TEST_CASE("what was kept is offered once its program is killed, and not before") {
  const TemporaryFolder config;
  const Design design = test::random_design(3);
  Victim victim([&](const auto& say) {
    Autosave autosave(config.path());
    autosave.keep(test::random_design(2), "/shop/knife.json", 5);
    autosave.keep(design, "/shop/knife.json", 0xfedcba9876543210u);
    say();
    while (true) pause();
  });
  CHECK(find_left_behind(config.path()).offers.empty());
  victim.kill_it();
  const LeftBehind left = find_left_behind(config.path());
  REQUIRE(left.offers.size() == 1);
  CHECK(left.unreadable.empty());
  const Offer& offer = left.offers[0];
  CHECK(offer.design == design);
  CHECK(offer.project == "/shop/knife.json");
  CHECK(offer.based_on == 0xfedcba9876543210u);
  const auto age = std::chrono::system_clock::now() - offer.when;
  CHECK(age >= std::chrono::seconds(0));
  CHECK(age < std::chrono::minutes(5));
  CHECK(discard(offer));
  CHECK_FALSE(discard(offer));
  CHECK(find_left_behind(config.path()).offers.empty());
  CHECK_FALSE(fs::exists(unsaved_of(config)));
}

TEST_CASE("a program killed at any moment leaves one whole design behind") {
  const TemporaryFolder config;
  test::Random random(11);
  std::vector<Design> designs;
  for (std::uint64_t seed = 0; seed < 8; ++seed) designs.push_back(test::random_design(seed));
  for (int round = 0; round < 20; ++round) {
    Victim victim([&](const auto& say) {
      Autosave autosave(config.path());
      autosave.keep(designs[0], "");
      say();
      for (std::size_t i = 0;; ++i) autosave.keep(designs[i % designs.size()], "");
    });
    std::this_thread::sleep_for(std::chrono::microseconds(random.count(0, 5000)));
    victim.kill_it();
    const LeftBehind left = find_left_behind(config.path());
    CHECK(left.unreadable.empty());
    REQUIRE(left.offers.size() == 1);
    CHECK(std::count(designs.begin(), designs.end(), left.offers[0].design) == 1);
    CHECK(discard(left.offers[0]));
  }
}

TEST_CASE("kill -9 during an edit: the work is offered, restored and can be saved") {
  const TemporaryFolder shop;
  const TemporaryFolder config;
  const fs::path file = shop / "knife.json";
  const Design saved = test::starter();
  write_project(saved, file);
  const Design edited = *move_joint(saved, Which::left, 0, 41);
  const Design dragged = *move_pin(edited, 1, {52, 1});

  Victim victim([&](const auto& say) {
    Session session(config.path(), {}, nothing);
    session.request_open(file);
    Document& document = *session.document();
    document.apply("move joint", edited);
    document.begin("move pin");
    document.preview(dragged);
    session.tick(Session::Clock::now());
    say();
    while (true) pause();
  });
  victim.kill_it();

  Session session(config.path(), {}, nothing);
  REQUIRE(session.offers().size() == 1);
  CHECK(session.offers()[0].project == file);
  CHECK(session.offers()[0].name == "starter");
  CHECK(read_project(file) == saved);
  session.request_restore(0);
  REQUIRE(session.document());
  CHECK(session.offers().empty());
  CHECK(session.document()->design() == dragged);
  CHECK(session.path() == file);
  CHECK(session.unsaved());
  // The work stays safe: the old copy has gone, one of our own has come.
  CHECK(test::entries_in(unsaved_of(config)) == 1);
  CHECK(find_left_behind(config.path()).offers.empty());
  session.save();
  CHECK_FALSE(session.question());
  CHECK(read_project(file) == dragged);
  CHECK_FALSE(fs::exists(unsaved_of(config)));
}

TEST_CASE("restored work does not write over a file that somebody changed meanwhile") {
  const TemporaryFolder shop;
  const TemporaryFolder config;
  const fs::path file = shop / "knife.json";
  write_project(test::starter(), file);
  {
    Session session(config.path(), {}, nothing);
    session.request_open(file);
    session.document()->apply("remove", remove_pin(session.document()->design(), 0));
  }
  const Design theirs = *move_joint(test::starter(), Which::left, 0, 50);
  write_project(theirs, file);
  Session session(config.path(), {}, nothing);
  session.request_restore(0);
  REQUIRE(session.document());
  session.save();
  REQUIRE(session.question());
  CHECK(session.question()->kind == Question::Kind::overwrite_changed);
  CHECK(read_project(file) == theirs);
}

TEST_CASE("a clean end leaves nothing behind; one with unsaved work leaves that") {
  const TemporaryFolder config;
  {
    Autosave autosave(config.path());
    CHECK(test::entries_in(config.path()) == 0);
    autosave.keep(test::starter(), "");
    CHECK(autosave.holds_work());
    CHECK(fs::exists(autosave.folder()));
    autosave.clear();
    autosave.clear();
    CHECK_FALSE(fs::exists(unsaved_of(config)));
    autosave.keep(test::starter(), "");
    CHECK(find_left_behind(config.path()).offers.empty());
  }
  const LeftBehind left = find_left_behind(config.path());
  REQUIRE(left.offers.size() == 1);
  CHECK(left.offers[0].design == test::starter());
  CHECK(left.offers[0].project.empty());
  CHECK_FALSE(left.offers[0].based_on);
}

TEST_CASE("two programs keep out of each other's way, and offers come newest first") {
  const TemporaryFolder config;
  Autosave one(config.path());
  one.keep(test::random_design(1), "/one.json");
  {
    Autosave two(config.path());
    two.keep(test::random_design(2), "/two.json");
    CHECK(one.folder() != two.folder());
    two.clear();
    CHECK(fs::exists(one.folder()));
    two.keep(test::random_design(2), "/two.json");
  }
  std::this_thread::sleep_for(std::chrono::milliseconds(1100));
  { Autosave(config.path()).keep(test::random_design(3), "/three.json"); }
  const LeftBehind left = find_left_behind(config.path());
  REQUIRE(left.offers.size() == 2);
  CHECK(left.offers[0].project == "/three.json");
  CHECK(left.offers[1].project == "/two.json");
}

TEST_CASE("work that can't be read is set aside and told of once") {
  const TemporaryFolder config;
  for (const std::string text : {"", "{}", "{\"project\": \"\", \"kept_at\": 0, \"design\": \"{}\"}"}) {
    const fs::path folder = unsaved_of(config) / "123-abcdef";
    fs::create_directories(folder);
    test::put(folder / "lock", "");
    test::put(folder / "work.json", text);
    const LeftBehind left = find_left_behind(config.path());
    CHECK(left.offers.empty());
    REQUIRE(left.unreadable.size() == 1);
    CHECK(left.unreadable[0].find("unreadable-123-abcdef") != std::string::npos);
    CHECK(test::bytes_of(unsaved_of(config) / "unreadable-123-abcdef/work.json") == text);
    CHECK(find_left_behind(config.path()).unreadable.empty());
    fs::remove_all(unsaved_of(config));
  }
}

TEST_CASE("a folder taken from under it is made again; one that can't be made is an OutputError") {
  const TemporaryFolder config;
  {
    Autosave autosave(config.path());
    autosave.keep(test::starter(), "");
    fs::remove_all(unsaved_of(config));
    autosave.keep(test::starter(), "");
  }
  CHECK(find_left_behind(config.path()).offers.size() == 1);
  test::put(config / "file", "in the way");
  Autosave nowhere(config / "file");
  CHECK_THROWS_AS(nowhere.keep(test::starter(), ""), OutputError);
  CHECK_FALSE(nowhere.holds_work());
}

}  // namespace haftwright
