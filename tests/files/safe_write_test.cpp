// Saving: the old file or the new one, whole, and nothing beside it.
#include "haftwright/files/safe_write.hpp"

#include <sys/mount.h>
#include <sys/resource.h>
#include <sys/stat.h>
#include <unistd.h>

#include <catch2/catch.hpp>
#include <cerrno>
#include <csignal>
#include <cstdlib>
#include <filesystem>

#include "../../src/files/plain_reason.hpp"
#include "good_file.hpp"
#include "haftwright/files/project_file.hpp"
#include "own_folder.hpp"
#include "refusal.hpp"
#include "support/sample_files.hpp"

using namespace haftwright;
using namespace haftwright::test;

namespace {

std::string refusal(const fs::path& path, std::string_view bytes) {
  try {
    write_file_safely(path, bytes);
  } catch (const OutputError& error) {
    return error.what();
  }
  return "written";
}

bool has(const std::string& text, const std::string& part) {
  UNSCOPED_INFO("said: " << text);
  return text.find(part) != std::string::npos;
}

mode_t mode_of(const fs::path& path) {
  struct stat status {};
  REQUIRE(::stat(path.c_str(), &status) == 0);
  return status.st_mode & 07777;
}

/// Until it is gone, no file may grow beyond `bytes`: what a full disk does, without one.
class FullDisk {
 public:
  explicit FullDisk(rlim_t bytes) {
    ::getrlimit(RLIMIT_FSIZE, &before_);
    signal_ = std::signal(SIGXFSZ, SIG_IGN);
    const rlimit small{bytes, before_.rlim_max};
    ::setrlimit(RLIMIT_FSIZE, &small);
  }
  ~FullDisk() {
    ::setrlimit(RLIMIT_FSIZE, &before_);
    std::signal(SIGXFSZ, signal_);
  }

 private:
  rlimit before_{};
  void (*signal_)(int) = SIG_DFL;
};

/// A file system in memory with room for next to nothing, where mounting is allowed.
class SmallDisk {
 public:
  explicit SmallDisk(const fs::path& folder) : folder_(folder) {
    there_ = ::mount("tmpfs", folder_.c_str(), "tmpfs", 0, "size=64k") == 0;
  }
  ~SmallDisk() {
    if (there_) ::umount(folder_.c_str());
  }
  bool there() const { return there_; }
  void lock() const { REQUIRE(::mount("tmpfs", folder_.c_str(), "tmpfs", MS_REMOUNT | MS_RDONLY, "") == 0); }

 private:
  fs::path folder_;
  bool there_ = false;
};

/// Runs as a user without root's rights while it lives; root may write anywhere.
class PlainUser {
 public:
  PlainUser() : was_root_(::geteuid() == 0) {
    if (was_root_ && ::seteuid(65534) != 0) throw std::runtime_error("can't become a plain user");
  }
  ~PlainUser() {
    if (was_root_ && ::seteuid(0) != 0) std::abort();
  }

 private:
  bool was_root_;
};

}  // namespace

TEST_CASE("a new file is written whole, and nothing is left beside it") {
  const Folder folder;
  const ::mode_t mask = ::umask(027);
  for (const std::size_t size : {std::size_t{0}, std::size_t{1}, std::size_t{5'000'000}}) {
    const std::string bytes(size, 'x');
    write_file_safely(folder / "new.json", bytes);
    CHECK(content(folder / "new.json") == bytes);
    CHECK(folder.entries() == 1);
    CHECK(mode_of(folder / "new.json") == 0640);
    fs::remove(folder / "new.json");
  }
  ::umask(mask);
}

TEST_CASE("an old file is replaced and keeps its mode and owner") {
  const Folder folder;
  const fs::path file = folder / "old.json";
  for (const mode_t mode : {mode_t{0644}, mode_t{0600}, mode_t{0666}, mode_t{0755}}) {
    put(file, "old");
    REQUIRE(::chmod(file.c_str(), mode) == 0);
    const bool root = ::geteuid() == 0;
    if (root) REQUIRE(::chown(file.c_str(), 1234, 5678) == 0);
    write_file_safely(file, "new");
    CHECK(content(file) == "new");
    CHECK(mode_of(file) == mode);
    struct stat status {};
    REQUIRE(::stat(file.c_str(), &status) == 0);
    if (root) CHECK((status.st_uid == 1234 && status.st_gid == 5678));
    CHECK(folder.entries() == 1);
  }
}

TEST_CASE("any bytes come back, and names in any script do") {
  const Folder folder;
  std::string bytes;
  for (int i = 0; i < 70'000; ++i) bytes += static_cast<char>(i * 31 >> 3);
  for (const char* name : {"Åls kniv.json", "貝.json", "-o", "a\nb", "..."}) {
    write_file_safely(folder / name, bytes);
    CHECK(content(folder / name) == bytes);
  }
  CHECK(folder.entries() == 5);
}

TEST_CASE("a link stays a link, and the file it leads to is written") {
  const Folder folder;
  fs::create_directory(folder / "far");
  put(folder / "far/real.json", "old");
  fs::create_symlink("far/real.json", folder / "link");
  fs::create_symlink(folder / "link", folder / "link to link");
  write_file_safely(folder / "link to link", "new");
  CHECK(fs::is_symlink(folder / "link"));
  CHECK(fs::is_symlink(folder / "link to link"));
  CHECK(content(folder / "far/real.json") == "new");

  fs::create_symlink("far/not yet.json", folder / "hopeful");
  write_file_safely(folder / "hopeful", "made");
  CHECK(content(folder / "far/not yet.json") == "made");

  fs::create_symlink("round", folder / "about");
  fs::create_symlink("about", folder / "round");
  CHECK(has(refusal(folder / "round", "x"), "links go in a circle"));
  fs::create_symlink("gone/away.json", folder / "stray");
  CHECK(has(refusal(folder / "stray", "x"), "the folder does not exist"));
}

TEST_CASE("another name for the old file keeps the old content") {
  const Folder folder;
  put(folder / "a", "old");
  fs::create_hard_link(folder / "a", folder / "b");
  write_file_safely(folder / "a", "new");
  CHECK(content(folder / "a") == "new");
  CHECK(content(folder / "b") == "old");
}

TEST_CASE("a place that can't be written is refused in plain words") {
  const Folder folder;
  put(folder / "file", "kept");
  CHECK(has(refusal(folder / "none/x.json", "x"), "the folder does not exist"));
  CHECK(has(refusal(folder / "file/x.json", "x"), "is not a folder"));
  CHECK(has(refusal(folder.path(), "x"), "it is a folder"));
  CHECK(has(refusal(folder.path().string() + "/", "x"), "it is a folder"));
  CHECK(has(refusal("", "x"), "it is a folder"));
  CHECK(has(refusal(folder.path() / std::string(300, 'n'), "x"), "the name is too long"));
  CHECK(has(refusal("/dev/full", "x"), "not an ordinary file"));
  CHECK(has(refusal("/proc/haftwright.json", "x"), "can't be written"));
  CHECK(has(refusal(folder / "none/x.json", "x"), (folder / "none/x.json").string()));
  CHECK(content(folder / "file") == "kept");
  CHECK(folder.entries() == 1);
}

TEST_CASE("what a plain user may not write is refused, and stays as it is") {
  const Folder folder;
  fs::create_directory(folder / "shut");
  put(folder / "shut/old.json", "old");
  fs::permissions(folder.path(), fs::perms::all);
  fs::permissions(folder / "shut", fs::perms::owner_read | fs::perms::owner_exec | fs::perms::others_read |
                                       fs::perms::others_exec);
  fs::permissions(folder / "shut/old.json", fs::perms::all);
  put(folder / "read only.json", "old");
  fs::permissions(folder / "read only.json", fs::perms::owner_read | fs::perms::others_read);
  {
    const PlainUser user;
    CHECK(has(refusal(folder / "shut/new.json", "new"), "you may not write there"));
    CHECK(has(refusal(folder / "shut/old.json", "new"), "you may not write there"));
    // The folder would let it be replaced; whoever made the file read-only meant it.
    CHECK(has(refusal(folder / "read only.json", "new"), "you may not write there"));
  }
  CHECK(content(folder / "shut/old.json") == "old");
  CHECK(content(folder / "read only.json") == "old");
  fs::permissions(folder / "shut", fs::perms::all);
  CHECK(std::distance(fs::directory_iterator(folder / "shut"), fs::directory_iterator()) == 1);
  CHECK(folder.entries() == 2);
}

TEST_CASE("a disk that fills up while writing leaves the old file and no scraps") {
  const Folder folder;
  const fs::path file = folder / "old.json";
  put(file, "old");
  const std::string bytes(300'000, 'x');
  for (const rlim_t room : {rlim_t{0}, rlim_t{1}, rlim_t{4096}, rlim_t{299'999}}) {
    std::string said;
    {
      const FullDisk full(room);
      said = refusal(file, bytes);
    }
    CHECK(has(said, "the file would be larger than this disk or account allows"));
    CHECK(content(file) == "old");
    CHECK(folder.entries() == 1);
  }
  {
    const FullDisk enough(300'000);
    CHECK(refusal(file, bytes) == "written");
  }
  CHECK(content(file) == bytes);
}

TEST_CASE("a full disk and a disk for reading only are called by their names, and the old project stays") {
  CHECK(has(files::plain_write_reason(ENOSPC), "the disk is full"));
  CHECK(has(files::plain_write_reason(EROFS), "the disk is read-only"));
  const Folder folder;
  const SmallDisk disk(folder.path());
  if (!disk.there()) {
    WARN("no file system may be mounted here, so that no real disk was filled");
    return;
  }
  const fs::path file = folder / "project.json";
  const Design design = parse_project(test::kGoodFile);
  write_project(design, file);
  CHECK(has(refusal(file, std::string(200'000, 'x')), "the disk is full; free some space"));
  CHECK(read_project(file) == design);
  CHECK(folder.entries() == 1);
  disk.lock();
  CHECK(has(refusal(file, "x"), "the disk is read-only; choose another folder"));
  CHECK(read_project(file) == design);
}

TEST_CASE("a project file that can't be read says why") {
  const Folder folder;
  const auto said = [](const fs::path& path) -> std::string {
    try {
      read_project(path);
    } catch (const InputError& error) {
      CHECK(error.problems().at(0).field.empty());
      return error.what();
    }
    return "read";
  };
  CHECK(has(said(folder / "none.json"), "there is no such file"));
  CHECK(has(said(folder / "none.json"), (folder / "none.json").string()));
  CHECK(has(said(folder.path()), "it is a folder, not a file"));
  put(folder / "file", "x");
  CHECK(has(said(folder / "file/x.json"), "a part of the path is not a folder"));
  CHECK(has(said("/dev/zero"), "is larger than 4194304 bytes"));
  CHECK(has(said("/dev/null"), "not valid JSON"));
  fs::permissions(folder.path(), fs::perms::all);
  fs::permissions(folder / "file", fs::perms::none);
  {
    const PlainUser user;
    CHECK(has(said(folder / "file"), "you may not read it"));
  }
}

TEST_CASE("the samples are read, and stay what they are when saved") {
  const Folder folder;
  int samples = 0;
  for (const fs::path& path : test::sample_files(HAFTWRIGHT_PROJECTS)) {
    ++samples;
    INFO(path);
    const Design design = read_project(path);
    CHECK_FALSE(design.name.empty());
    write_project(design, folder / "copy.json");
    CHECK(read_project(folder / "copy.json") == design);
  }
  CHECK(samples >= 4);
}
