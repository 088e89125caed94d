// Projects of format 1: read as if they had been typed with ids.
#include <catch2/catch.hpp>
#include <filesystem>
#include <fstream>
#include <nlohmann/json.hpp>
#include <sstream>

#include "haftwright/design/ids.hpp"
#include "haftwright/files/project_file.hpp"
#include "refusal.hpp"
#include "support/random_design.hpp"

namespace haftwright {
namespace {

using Json = nlohmann::json;

std::string text_of(const std::filesystem::path& path) {
  std::ifstream file(path);
  std::ostringstream text;
  text << file.rdbuf();
  return text.str();
}

/// A random design as format 1 can hold it: names that are all unlike, ids that are made of them.
Design of_format_1(std::uint64_t seed) {
  Design design = test::random_design(seed);
  const std::vector<std::string> joints_before = [&] {
    std::vector<std::string> ids;
    for (const Joint& joint : design.left.joints) ids.push_back(joint.id);
    return ids;
  }();
  const auto clear = [](auto& list) {
    for (auto& thing : list) thing.id.clear();
  };
  const std::string front = design.pins.front().id;
  for (std::size_t i = 0; i < design.pins.size(); ++i)
    design.pins[i].name = "Pin No. " + std::to_string(9 - i);
  clear(design.pins);
  clear(design.left.pieces);
  clear(design.left.joints);
  if (design.right.pieces) clear(*design.right.pieces);
  if (design.right.joints) clear(*design.right.joints);
  design = with_ids(std::move(design));
  for (CaliperReading& reading : design.dry_fit) {
    if (reading.from_pin == front) reading.from_pin = design.pins.front().id;
    const auto joint = std::ranges::find(joints_before, reading.joint) - joints_before.begin();
    reading.joint = "joint_" + std::to_string(joint + 1);
  }
  return design;
}

/// What an older program would have written of it.
Json as_format_1(const Design& design) {
  Json file = Json::parse(project_text(design));
  file["haftwright"] = 1;
  const auto names = [](Json& list) {
    std::map<std::string, std::string> by_id;
    for (Json& thing : list) {
      by_id[thing["id"]] = thing.value("name", "");
      thing.erase("id");
    }
    return by_id;
  };
  const auto holes = names(file["tang"]["holes"]);
  const auto pins = names(file["pins"]);
  for (const char* side : {"left", "right"})
    for (const char* list : {"pieces", "joints"})
      if (file["sides"].contains(side) && file["sides"][side].contains(list))
        names(file["sides"][side][list]);
  for (Json& pin : file["pins"])
    if (pin.contains("existing_tang_hole")) pin["existing_tang_hole"] = holes.at(pin["existing_tang_hole"]);
  for (Json& reading : file["dry_fit"]) {
    reading["joint"] = std::stoi(reading["joint"].get<std::string>().substr(6));
    if (reading.contains("from_pin")) reading["from_pin"] = pins.at(reading["from_pin"]);
  }
  return file;
}

/// A small file of format 1 with `change` made to it.
template <class Change>
test::Reading changed(Change&& change) {
  Json file = Json::parse(text_of(std::string(HAFTWRIGHT_FORMAT_1) + "/shucking_knife.json"));
  change(file);
  return test::read(file.dump());
}

template <class Change>
void check_refused(const std::string& wanted, Change&& change) {
  const test::Reading reading = changed(change);
  INFO(reading.said());
  REQUIRE(reading.problems.size() == 1);
  CHECK_THAT(reading.said(), Catch::Contains(wanted));
}

}  // namespace

TEST_CASE("the samples of format 1 are the samples of today") {
  std::size_t samples = 0;
  for (const auto& file : std::filesystem::directory_iterator(HAFTWRIGHT_FORMAT_1)) {
    INFO(file.path());
    CHECK(text_of(file.path()).find("\"haftwright\": 1,") != std::string::npos);
    const std::filesystem::path today = std::filesystem::path(HAFTWRIGHT_PROJECTS) / file.path().filename();
    CHECK(text_of(today).find("\"haftwright\": 2,") != std::string::npos);
    CHECK(read_project(file.path()) == read_project(today));
    ++samples;
  }
  CHECK(samples == 4);
}

TEST_CASE("a random design written as format 1 reads as the same design") {
  std::size_t readings = 0, through = 0;
  for (std::uint64_t seed = 0; seed < 1000; ++seed) {
    CAPTURE(seed);
    const Design design = of_format_1(seed);
    REQUIRE(parse_project(project_text(design)) == design);
    REQUIRE(parse_project(as_format_1(design).dump()) == design);
    readings += design.dry_fit.size();
    for (const Pin& pin : design.pins) through += !pin.existing_tang_hole.empty();
  }
  CHECK(readings > 100);
  CHECK(through > 100);
}

TEST_CASE("what a project of format 1 became is saved as format 2, and reads the same") {
  const Design design = read_project(std::string(HAFTWRIGHT_FORMAT_1) + "/shucking_knife.json");
  const std::string text = project_text(design);
  CHECK(text.starts_with("{\n  \"haftwright\": 2,"));
  CHECK(text.find("\"id\": \"front_pin\"") != std::string::npos);
  CHECK(text.find("\"existing_tang_hole\": \"middle\"") != std::string::npos);
  CHECK(parse_project(text) == design);
}

TEST_CASE("a reference of format 1 that leads nowhere, and a name that is there twice, are one error") {
  check_refused("pins[1].existing_tang_hole: the tang has no hole called \"midle\"; did you mean \"middle\"?",
                [](Json& file) { file["pins"][1]["existing_tang_hole"] = "midle"; });
  check_refused("pins[2].name: a second pin called \"front pin\"",
                [](Json& file) { file["pins"][2]["name"] = "front pin"; });
  check_refused("tang.holes[2].name: a second hole called \"middle\"", [](Json& file) {
    file["tang"]["holes"][2]["name"] = "middle";
    file["pins"].erase(2);
  });
  const Json reading{{"joint", 1}, {"reading_mm", 20}};
  const auto with_joint = [&](const Json& joint) {
    return [&reading, joint](Json& file) {
      file["dry_fit"] = Json::array({reading});
      file["dry_fit"][0]["joint"] = joint;
    };
  };
  check_refused("dry_fit[0].joint: must be from 1 to 63, but is 64", with_joint(64));
  check_refused("dry_fit[0].joint: must be from 1 to 63, but is 0", with_joint(0));
  check_refused("dry_fit[0].joint: must be a whole number, but is 1.5", with_joint(1.5));
  check_refused("dry_fit[0].joint: must be the joint's number", with_joint("joint_1"));
  check_refused("dry_fit[0].joint: is missing", [&](Json& file) {
    file["dry_fit"] = Json::array({reading});
    file["dry_fit"][0].erase("joint");
  });
  check_refused("pins[0].id: is known from format 2 on; write \"haftwright\": 2",
                [](Json& file) { file["pins"][0]["id"] = "guard"; });
}

TEST_CASE("readings of format 1 of what is not there turn into nobody else's") {
  const test::Reading reading = changed([](Json& file) {
    file["dry_fit"] = {{{"joint", 9}, {"reading_mm", 20}},
                       {{"joint", 1}, {"from_pin", "Front Pin"}, {"reading_mm", 20}},
                       {{"joint", 1}, {"from_pin", ""}, {"reading_mm", 20}}};
  });
  REQUIRE(reading.said() == "accepted");
  const Design& design = *reading.design;
  CHECK(index_of(design.left.joints, design.dry_fit[0].joint) == design.left.joints.size());
  CHECK(design.dry_fit[1].from_pin == "front_pin_2");
  CHECK(index_of(design.pins, design.dry_fit[1].from_pin) == design.pins.size());
  CHECK(design.dry_fit[2].from_pin.empty());
  // Nothing that is made later takes the place of what is missed.
  CHECK(new_joint_id(design) == "joint_10");
}

TEST_CASE("a project typed by hand needs no ids, and may refer to the ones that are made") {
  const std::string typed = R"({"haftwright": 2, "tang": {"starter": {"kind": "straight"},
      "holes": [{"name": "Old hole", "x_mm": 40, "y_mm": 0, "diameter_mm": 3.1}]},
    "sides": {"left": {"pieces": [{"material": "olive"}, {"material": "pear"}], "joints": [{"place_mm": 60}]}},
    "pins": [{"x_mm": 40, "y_mm": 0, "stock": {"nominal_mm": 3}, "scale_hole": {"diameter_mm": 3.1},
              "existing_tang_hole": "old_hole"}],
    "dry_fit": [{"joint": "joint_1", "from_pin": "pin_1", "reading_mm": 18}]})";
  const test::Reading reading = test::read(typed);
  REQUIRE(reading.said() == "accepted");
  CHECK(reading.design->tang.holes[0].id == "old_hole");
  CHECK(reading.design->pins[0].id == "pin_1");
  CHECK(parse_project(project_text(*reading.design)) == *reading.design);
  const auto with = [&](const std::string& from, const std::string& to) {
    std::string text = typed;
    text.replace(text.find(from), from.size(), to);
    return test::read(text).said();
  };
  CHECK_THAT(with("\"old_hole\"}]", "\"Old hole\"}]"),
             Catch::Contains("pins[0].existing_tang_hole: must be 1 to 24") &&
                 Catch::Contains("\"old_hole\" would do"));
  CHECK_THAT(with("\"old_hole\"}]", "\"old_hol\"}]"),
             Catch::Contains("no hole with the id \"old_hol\"; did you mean \"old_hole\"?"));
  CHECK_THAT(with("\"joint\": \"joint_1\"", "\"joint\": 1"),
             Catch::Contains("dry_fit[0].joint: must be an id, a text such as") &&
                 Catch::Contains("but is a number"));
  CHECK_THAT(with("\"name\": \"Old hole\"", "\"id\": \"\""),
             Catch::Contains("tang.holes[0].id: must be 1 to 24 characters"));
}

}  // namespace haftwright
