#include <catch2/catch.hpp>

#include "haftwright/session/disk_stamp.hpp"
#include "temporary_folder.hpp"

namespace haftwright {

namespace fs = std::filesystem;
using namespace std::chrono_literals;

TEST_CASE("a file changed on disk is noticed, one only touched is not") {
  const test::TemporaryFolder folder;
  const fs::path file = folder / "knife.json";
  test::put(file, "first");
  auto stamp = stamp_of(file);
  REQUIRE(stamp);
  CHECK(change_since(file, *stamp) == DiskChange::none);

  const auto before = stamp->modified;
  fs::last_write_time(file, before + 5s);
  CHECK(change_since(file, *stamp) == DiskChange::none);
  CHECK(stamp->modified == before + 5s);

  test::put(file, "other");  // as long as "first"
  fs::last_write_time(file, before + 9s);
  CHECK(change_since(file, *stamp) == DiskChange::changed);
  CHECK(change_since(file, *stamp) == DiskChange::changed);

  test::put(file, "longer than that");
  CHECK(change_since(file, *stamp) == DiskChange::changed);
  test::put(file, "first");
  CHECK(change_since(file, *stamp) == DiskChange::none);

  fs::remove(file);
  CHECK(change_since(file, *stamp) == DiskChange::gone);
  CHECK_FALSE(stamp_of(file));
  fs::create_directory(file);
  CHECK(change_since(file, *stamp) == DiskChange::gone);
  CHECK_FALSE(stamp_of(file));
}

TEST_CASE("before writing the bytes count, even when size and time agree") {
  const test::TemporaryFolder folder;
  const fs::path file = folder / "knife.json";
  test::put(file, "first");
  auto stamp = stamp_of(file);
  REQUIRE(stamp);
  test::put(file, "other");
  fs::last_write_time(file, stamp->modified);
  CHECK(change_since(file, *stamp, true) == DiskChange::changed);
}

TEST_CASE("the content's stamp is FNV-1a") {
  // Published test vectors of the hash: the empty text, "a" and "foobar", 64 bit
  // (Fowler, Noll, Vo, Eastlake and Hansen, The FNV Non-Cryptographic Hash Algorithm, test vectors).
  const test::TemporaryFolder folder;
  const auto content = [&](const std::string& text) {
    test::put(folder / "text", text);
    return stamp_of(folder / "text")->content;
  };
  CHECK(content("") == 0xcbf29ce484222325u);
  CHECK(content("a") == 0xaf63dc4c8601ec8cu);
  CHECK(content("foobar") == 0x85944171f73967e8u);
  // Longer than one read.
  CHECK(content(std::string(200000, 'x') + "1") != content(std::string(200000, 'x') + "2"));
}

TEST_CASE("a bin may be larger than a project, and is watched all the same") {
  const test::TemporaryFolder folder;
  const fs::path file = folder / "bin.json";
  test::put(file, std::string(limits::kFileBytes + 1, ' '));
  CHECK_FALSE(stamp_of(file));
  auto stamp = stamp_of(file, limits::kBinBytes);
  REQUIRE(stamp);
  CHECK(change_since(file, *stamp) == DiskChange::none);
  test::put(file, std::string(limits::kFileBytes, ' ') + "x");
  CHECK(change_since(file, *stamp, true) == DiskChange::changed);
}

TEST_CASE("a file larger than a project may be is not read through") {
  const test::TemporaryFolder folder;
  const fs::path file = folder / "knife.json";
  test::put(file, "first");
  auto stamp = stamp_of(file);
  REQUIRE(stamp);
  fs::resize_file(file, std::uintmax_t{1} << 40);
  CHECK_FALSE(stamp_of(file));
  CHECK(change_since(file, *stamp) == DiskChange::changed);
  CHECK(change_since(file, *stamp, true) == DiskChange::changed);
}

}  // namespace haftwright
