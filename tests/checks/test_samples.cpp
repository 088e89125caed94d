// The sample projects: good ones are good in every check, the spoilt one shows what it was made to show.
#include <catch2/catch.hpp>
#include <map>
#include <set>

#include "haftwright/checks/checks.hpp"
#include "haftwright/files/project_file.hpp"
#include "haftwright/handle/lay_out.hpp"

using namespace haftwright;

namespace {

std::vector<Finding> findings_of(const std::string& name) {
  const Design design = read_project(HAFTWRIGHT_PROJECTS "/" + name);
  return run_checks(design, lay_out(design));
}

}  // namespace

TEST_CASE("Good samples pass every check") {
  for (const char* name :
       {"shucking_knife.json", "paring_knife.json", "reed_knife.json", "rigging_knife.json"}) {
    const auto findings = findings_of(name);
    CHECK(findings.size() > 50);
    for (const Finding& finding : findings) {
      INFO(name << ": " << finding.id << ", " << where_words({}, finding.where) << ": " << finding.value
                << " against " << finding.limit);
      CHECK(finding.status == Status::pass);
    }
  }
}

TEST_CASE("The marking knife's mistakes are found, and no others") {
  std::map<std::string, std::set<std::string>> found;
  const Design design = read_project(HAFTWRIGHT_PROJECTS "/marking_knife.json");
  for (const Finding& finding : findings_of("marking_knife.json"))
    if (finding.status != Status::pass) found[finding.id].insert(where_words(design, finding.where));
  CHECK(found.size() == 3);
  CHECK(found["pin.fit"].size() == 6);          // the drill cuts small: three pins, scales and tang
  CHECK(found["hole.joint"].size() == 2);       // the middle pin crowds the joint line on both sides
  CHECK(found["blank.thickness"].size() == 2);  // the maple blanks have nothing to spare
  for (const std::string& where : found["hole.joint"]) CHECK(where.find("middle pin") != std::string::npos);
  for (const std::string& where : found["blank.thickness"])
    CHECK(where.find("front piece") != std::string::npos);
}
