#include <catch2/catch.hpp>
#include <fstream>
#include <set>
#include <sstream>

#include "field_tables.hpp"
#include "haftwright/design/limits.hpp"
#include "haftwright/design/starters.hpp"
#include "haftwright/design/units.hpp"
#include "haftwright/design/validate.hpp"
#include "haftwright/files/project_file.hpp"
#include "haftwright/offcuts/bin_checks.hpp"
#include "haftwright/offcuts/bin_schema.hpp"

using namespace haftwright;

namespace {

std::string format_text() {
  std::ifstream file(HAFTWRIGHT_PROJECTS "/FORMAT.md");
  std::ostringstream text;
  text << file.rdbuf();
  return text.str();
}

/// Table rows under each heading, the header rows left out.
std::vector<test::FieldTable> written_tables() {
  std::istringstream text(format_text());
  std::vector<test::FieldTable> tables;
  for (std::string line; std::getline(text, line);) {
    if (line.starts_with("### ")) tables.push_back({line, {}});
    if (!tables.empty() && line.starts_with("| `")) tables.back().rows.push_back(line);
  }
  return tables;
}

}  // namespace

TEST_CASE("FORMAT.md tells every field, range and default that the program knows, and no other") {
  const auto wanted = test::field_tables();
  const auto written = written_tables();
  std::string draft;
  for (const auto& table : wanted) {
    draft += table.heading + "\n\n| key | value | range | default | meaning |\n|---|---|---|---|---|\n";
    for (const auto& row : table.rows) draft += row + "\n";
    draft += "\n";
  }
  INFO("the tables should read:\n" << draft);
  REQUIRE(written.size() == wanted.size());
  for (std::size_t i = 0; i < wanted.size(); ++i) {
    CHECK(written[i].heading == wanted[i].heading);
    CHECK(written[i].rows == wanted[i].rows);
  }
}

TEST_CASE("FORMAT.md states the limits on size as they are") {
  const std::string text = format_text();
  const auto states = [&](const std::string& sentence) {
    INFO(sentence);
    CHECK(text.find(sentence) != std::string::npos);
  };
  states("at most " + std::to_string(limits::kFileBytes) + " bytes");
  states("a bin of offcuts at most " + std::to_string(limits::kBinBytes) + " bytes");
  states("must be " + shortest_number(kLeastOffcutMm) + " mm wide somewhere, and a rod " +
         shortest_number(kLeastOffcutMm) + " mm long");
  states("as thick as each other within " + shortest_number(kSliceThicknessMm) + " mm");
  states(std::to_string(kLeastPhotoMarks) + " square it up");
  states("more than " + shortest_number(schema::kMoisture.most) + " % is taken for a slip");
  states("at most " + std::to_string(limits::kNesting) + " levels");
  states("at most " + std::to_string(limits::kTextBytes) + " bytes of UTF-8");
  states("An id is 1 to " + std::to_string(limits::kIdBytes) + " characters");
  states(shortest_number(Finish{}.thickness_mm.front().value) + " mm throughout");
  for (const RuleRow& row : rule_rows())
    if (row.basis != "common practice") states(std::string(row.basis));
  states("within " + shortest_number(kConcentricMm) + " mm of that hole's middle");
}

TEST_CASE("the small project of FORMAT.md is one, with every default as the tables say") {
  const std::string text = format_text();
  const std::size_t from = text.find("```json\n") + 8;
  const Design design = parse_project(text.substr(from, text.find("```", from) - from));
  Design wanted;
  wanted.tang.outline = starter_outline(StraightTang{});
  wanted.left.pieces = {{"black_walnut", {}, {}, "piece_1"}};
  CHECK(design == wanted);
}
