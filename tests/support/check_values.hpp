// Published check values: small tables in tests/reference/, one value a line, its source in the last column.
#pragma once

#include <algorithm>
#include <catch2/catch.hpp>
#include <fstream>
#include <string>
#include <vector>

namespace haftwright::test {

/// The rows of tests/reference/NAME below its heading. Columns part at commas; the last one, the source, runs
/// to the end of the line and may hold commas itself. A missing file, an empty table, a row with too few
/// columns and a row without a source fail the test.
inline std::vector<std::vector<std::string>> check_values(const std::string& name) {
  std::ifstream file(std::string(HAFTWRIGHT_TEST_DATA) + "/" + name);
  REQUIRE(file);
  std::string line;
  std::getline(file, line);
  const auto columns = static_cast<std::size_t>(std::count(line.begin(), line.end(), ',')) + 1;
  std::vector<std::vector<std::string>> rows;
  while (std::getline(file, line)) {
    std::vector<std::string> row;
    std::size_t from = 0;
    while (row.size() + 1 < columns) {
      const auto comma = line.find(',', from);
      INFO(name << ": " << line);
      REQUIRE(comma != std::string::npos);
      row.push_back(line.substr(from, comma - from));
      from = comma + 1;
    }
    row.push_back(line.substr(from));
    REQUIRE_FALSE(row.back().empty());
    rows.push_back(std::move(row));
  }
  REQUIRE_FALSE(rows.empty());
  return rows;
}

}  // namespace haftwright::test
