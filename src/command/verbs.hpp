// The verbs of the command line. Each reads a project, asks the core and prints; no rule of the trade lives
// here.
#pragma once

#include <cstdint>
#include <filesystem>
#include <functional>
#include <string>
#include <vector>

namespace haftwright::command {

enum ExitCode : int {
  good = 0,
  check_fails = 1,   ///< some check fails; files asked for are written all the same
  bad_input = 2,     ///< the project or the command line is wrong
  cannot_write = 3,  ///< the output can't be written
};

struct VerbOptions {
  std::filesystem::path project;
  std::filesystem::path output;  ///< empty: named after the project, in the current folder
  bool json = false;
};

struct JigOptions {
  VerbOptions common;
  std::filesystem::path steps;  ///< where the order of work goes as text; empty: printed only
};

/// Measurements for a new project, as typed; empty ones take the starter's default.
struct NewOptions {
  std::filesystem::path project;
  std::string tang = "straight";
  std::string length;
  std::string front_height;
  std::string butt_height;
  std::string thickness;
  std::string units = "mm";
  std::filesystem::path shop;  ///< shop file to start from; empty: the person's own
  bool replace = false;
};

struct AlignOptions {
  VerbOptions common;
  std::string way;  ///< key of a way of drilling; empty: the project's
  std::uint64_t samples = 100'000;
  std::uint64_t seed = 1;
  bool full = false;
};

struct ShopOptions {
  std::string action;  ///< one of shop_actions(); empty: shows the shop
  std::filesystem::path project;
  std::filesystem::path shop;     ///< shop file; empty: the person's own
  std::vector<std::string> only;  ///< fields or sections to take over; empty: all
  bool json = false;
};
/// What can be done with the shop beside showing it: "init", "compare" ...
std::vector<std::string> shop_actions();

struct ListOptions {
  std::string what;  ///< one of listed_kinds()
  bool json = false;
};
/// What can be listed: "materials", each kind of them ("woods"), "drills".
std::vector<std::string> listed_kinds();

int list(const ListOptions& options);
int check(const VerbOptions& options);
int jig(const JigOptions& options);
int handle(const VerbOptions& options);
int glue(const VerbOptions& options);
int make_new(const NewOptions& options);
int align(const AlignOptions& options);
int shop(const ShopOptions& options);

/// Calls `verb` and turns whatever it throws into one message on stderr and an exit code from 0 to 3.
int guarded(const std::filesystem::path& project, const std::function<int()>& verb);

}  // namespace haftwright::command
