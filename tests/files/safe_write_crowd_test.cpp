// Saving while others read, write or are killed: the old file or the new one, whole.
#include <signal.h>
#include <sys/wait.h>
#include <unistd.h>

#include <atomic>
#include <catch2/catch.hpp>
#include <chrono>
#include <cstdlib>
#include <thread>

#include "haftwright/files/safe_write.hpp"
#include "own_folder.hpp"

using namespace haftwright;
using namespace haftwright::test;

TEST_CASE("whoever reads while it is saved sees the old or the new, never a part") {
  const Folder folder;
  const fs::path file = folder / "project.json";
  const std::string one(200'000, '1'), two(100'000, '2');
  write_file_safely(file, one);
  std::atomic<bool> done{false};
  std::thread writer([&] {
    for (int i = 0; i < 100; ++i) write_file_safely(file, i % 2 ? one : two);
    done = true;
  });
  int reads = 0;
  while (!done || reads < 50) {
    const std::string seen = content(file);
    if (seen != one && seen != two) FAIL("read " << seen.size() << " bytes of neither");
    ++reads;
  }
  writer.join();
  CHECK(folder.entries() == 1);
}

TEST_CASE("two who save at once both end whole") {
  const Folder folder;
  const fs::path file = folder / "project.json";
  const std::string one(50'000, '1'), two(70'000, '2');
  const auto save = [&](const std::string& bytes) {
    for (int i = 0; i < 100; ++i) write_file_safely(file, bytes);
  };
  std::thread first(save, one), second(save, two);
  first.join();
  second.join();
  const std::string seen = content(file);
  CHECK((seen == one || seen == two));
  CHECK(folder.entries() == 1);
}

TEST_CASE("of two who make a new file of one name, one makes it and the other is told") {
  for (int round = 0; round < 50; ++round) {
    const Folder folder;
    const fs::path path = folder / "new.json";
    std::atomic<int> written{0};
    std::atomic<int> refused{0};
    const auto make = [&](const char* text) {
      try {
        write_file_safely(path, text, OldFile::refuse);
        ++written;
      } catch (const OutputError& error) {
        if (std::string(error.what()).find("exists already") != std::string::npos) ++refused;
      }
    };
    std::thread other(make, "other");
    make("mine");
    other.join();
    REQUIRE(written == 1);
    REQUIRE(refused == 1);
    REQUIRE((content(path) == "mine" || content(path) == "other"));
    REQUIRE(folder.entries() == 1);
  }
}

TEST_CASE("what a killed program left beside a file is removed once it is old, and nothing else") {
  const Folder folder;
  const auto age = [](const fs::path& path, std::chrono::minutes by) {
    fs::last_write_time(path, fs::file_time_type::clock::now() - by);
  };
  const fs::path old = folder / ".haftwright-4711-0.tmp";
  const fs::path fresh = folder / ".haftwright-4712-0.tmp";
  const fs::path other = folder / ".haftwright-notes.txt";
  for (const fs::path& path : {old, fresh, other}) put(path, "left");
  age(old, std::chrono::minutes(61));
  age(other, std::chrono::minutes(61));
  const fs::path linked = folder / ".haftwright-4713-0.tmp";
  fs::create_symlink(other, linked);
  write_file_safely(folder / "project.json", "new");
  CHECK_FALSE(fs::exists(old));
  CHECK(content(fresh) == "left");
  CHECK(content(other) == "left");
  CHECK(fs::is_symlink(linked));
}

TEST_CASE("whenever a writer is killed, the old file or the new one is there, whole") {
  const Folder folder;
  const fs::path path = folder / "kept.json";
  const std::string texts[] = {std::string(200'000, 'a'), std::string(300'000, 'b')};
  put(path, texts[0]);
  const int kills = std::getenv("HAFTWRIGHT_SHORT") ? 20 : 400;
  for (int kill = 0; kill < kills; ++kill) {
    const pid_t writer = ::fork();
    REQUIRE(writer >= 0);
    if (writer == 0)
      for (int turn = 0;; ++turn) write_file_safely(path, texts[turn % 2]);
    ::usleep(static_cast<useconds_t>(200 + kill * 37 % 4000));
    ::kill(writer, SIGKILL);
    ::waitpid(writer, nullptr, 0);
    const std::string now = content(path);
    REQUIRE((now == texts[0] || now == texts[1]));
  }
}
