// Projects with spoilt values through every verb, in this process: each ends with figures that can be, or
// with messages that name a field.
#include <unistd.h>
#include <catch2/catch.hpp>
#include <cmath>
#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <iostream>
#include <map>
#include <nlohmann/json.hpp>
#include <sstream>

#include "haftwright/files/project_file.hpp"
#include "support/random_design.hpp"
#include "support/seeds.hpp"
#include "support/spoilt_project.hpp"
#include "verbs.hpp"

using namespace haftwright;
using namespace haftwright::test;
using Json = nlohmann::ordered_json;

namespace {

/// What a verb printed and how it ended.
struct Ended {
  int code = 0;
  std::string out;
  std::string err;
};

template <class Verb>
Ended run(const std::filesystem::path& project, Verb verb) {
  std::ostringstream out, err;
  std::streambuf* const old_out = std::cout.rdbuf(out.rdbuf());
  std::streambuf* const old_err = std::cerr.rdbuf(err.rdbuf());
  Ended ended;
  ended.code = command::guarded(project, verb);
  std::cout.rdbuf(old_out);
  std::cerr.rdbuf(old_err);
  ended.out = out.str();
  ended.err = err.str();
  return ended;
}

bool ends_with_any(const std::string& key, std::initializer_list<const char*> ends) {
  for (const char* end : ends)
    if (key.ends_with(end)) return true;
  return false;
}

/// The first figure that can't be: one that is no number (written as null), or an area, a volume or a mass
/// below zero.
std::string bad_figure(const Json& value, const std::string& path) {
  if (value.is_number() && ends_with_any(path, {"area_mm2", "volume_mm3", "drilled_mm3", "_ml", "_g"}) &&
      value.get<double>() < 0)
    return path + " = " + value.dump();
  // What was not read at the dry fit, or can't be read, is unknown, and null says so.
  const bool may_be_unknown = path.starts_with(".dry_fit.");
  if (value.is_null() && !may_be_unknown &&
      ends_with_any(path, {"_mm", "_mm2", "_mm3", "_ml", "_g", "_deg", "value", "limit", "share"}))
    return path + " is no number";
  if (!value.is_structured()) return "";
  for (const auto& [key, inside] : value.items())
    if (const std::string bad = bad_figure(inside, path + "." + key); !bad.empty()) return bad;
  return "";
}

/// "haftwright: FILE: FIELD: what" in every line of a refusal.
bool names_a_field(const std::string& err, const std::string& file) {
  std::istringstream lines(err);
  const std::string head = "haftwright: " + file + ": ";
  for (std::string line; std::getline(lines, line);) {
    if (!line.starts_with(head)) return false;
    if (line.find(": ", head.size()) == std::string::npos) return false;
  }
  return !err.empty();
}

class Verbs {
 public:
  explicit Verbs(std::filesystem::path folder) : file_(folder / "spoilt.json") { options_.json = true; }

  void try_all(const Json& project, std::uint64_t i) {
    std::ofstream(file_) << project.dump(1);
    options_.project = file_;
    options_.output = file_.parent_path() / "out.step";
    hold("check", run(file_, [&] { return command::check(options_); }));
    hold("glue", run(file_, [&] { return command::glue(options_); }));
    command::AlignOptions align;
    align.common = options_;
    align.samples = 200;
    hold("align", run(file_, [&] { return command::align(align); }));
    // The kernel takes a second for a body: every verb sees them all only when all are asked for by number.
    command::JigOptions jig;
    jig.common = options_;
    if (i % 10 == 0) hold("jig", run(file_, [&] { return command::jig(jig); }));
    if (i % 40 == 0) hold("handle", run(file_, [&] { return command::handle(options_); }));
  }

  void print_counts() const {
    for (const auto& [verb, codes] : ends_)
      for (const auto& [code, count] : codes)
        std::cout << verb << ": exit code " << code << " " << count << " times\n";
  }
  int ended_well() const { return ends_.at("check").count(0) ? ends_.at("check").at(0) : 0; }

 private:
  void hold(const std::string& verb, const Ended& ended) {
    ++ends_[verb][ended.code];
    INFO(verb << ": exit code " << ended.code << "\n" << ended.err.substr(0, 2000));
    REQUIRE(ended.code >= 0);
    REQUIRE(ended.code <= 2);
    if (ended.code == 2) {
      REQUIRE(ended.out.empty());
      CHECK(names_a_field(ended.err, file_.string()));
      return;
    }
    const Json json = Json::parse(ended.out, nullptr, false);
    REQUIRE_FALSE(json.is_discarded());
    CHECK(bad_figure(json, "") == "");
  }

  std::filesystem::path file_;
  command::VerbOptions options_;
  std::map<std::string, std::map<int, int>> ends_;
};

std::vector<Json> whole_projects() {
  std::vector<Json> files;
  for (const char* name : {"shucking_knife", "marking_knife", "paring_knife"})
    files.push_back(Json::parse(std::ifstream(std::string(HAFTWRIGHT_PROJECTS "/") + name + ".json")));
  for (std::uint64_t seed = 1; seed <= 20; ++seed)
    files.push_back(Json::parse(project_text(random_design(seed))));
  return files;
}

}  // namespace

TEST_CASE("projects with spoilt values end with figures that can be, or with messages that name a field") {
  const std::vector<Json> files = whole_projects();
  const auto folder =
      std::filesystem::temp_directory_path() / ("haftwright-spoilt-" + std::to_string(getpid()));
  std::filesystem::create_directories(folder);
  Verbs verbs(folder);
  // Of each "first seed" a list of its own.
  const Seeds seeds = seeds_to_try("HAFTWRIGHT_SPOILT", {.few = 60, .usual = 300, .all = 10'000}, 20);
  Random random(seeds.first);
  for (std::uint64_t i = 0; i < seeds.count; ++i) {
    const Json spoilt = spoilt_project(files[random.index(files.size())], random);
    INFO("project " << i << " (left as it is in " << folder.string() << " where it ends the program)");
    verbs.try_all(spoilt, i);
  }
  verbs.print_counts();
  // Otherwise nothing but refusals would have been tried.
  CHECK(verbs.ended_well() > 0);
  std::filesystem::remove_all(folder);
}
