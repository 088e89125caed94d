#include <catch2/catch.hpp>
#include <limits>

#include "haftwright/checks/finding.hpp"

using namespace haftwright;

TEST_CASE("A value at its limit is near, not failed, and passes where nothing is near") {
  CHECK(judge(2.0, 2.0, Sense::at_least, 0.2) == Status::near);
  CHECK(judge(2.0, 2.0, Sense::at_least, 0) == Status::pass);
  CHECK(judge(2.0, 2.0, Sense::at_most, 0.2) == Status::near);
  CHECK(judge(2.0, 2.0, Sense::at_most, 0) == Status::pass);
  CHECK(judge(1.999999, 2.0, Sense::at_least, 0) == Status::fail);
  CHECK(judge(2.000001, 2.0, Sense::at_most, 0) == Status::fail);
  // 0.1 + 0.2 is a little more than 0.3 in binary; no maker's ruler tells them apart.
  CHECK(judge(0.1 + 0.2, 0.3, Sense::at_most, 0) == Status::pass);
  CHECK(judge(0.3, 0.1 + 0.2, Sense::at_least, 0) == Status::pass);
}

TEST_CASE("The near band is a share of the limit on its good side") {
  CHECK(judge(2.39, 2.0, Sense::at_least, 0.2) == Status::near);
  CHECK(judge(2.4, 2.0, Sense::at_least, 0.2) == Status::pass);
  CHECK(judge(1.61, 2.0, Sense::at_most, 0.2) == Status::near);
  CHECK(judge(1.6, 2.0, Sense::at_most, 0.2) == Status::pass);
  CHECK(judge(-100, 2.0, Sense::at_most, 0.2) == Status::pass);
}

TEST_CASE("A zero limit has no near band") {
  CHECK(judge(0, 0, Sense::at_most, 0.5) == Status::pass);
  CHECK(judge(0, 0, Sense::at_least, 0.5) == Status::pass);
  CHECK(judge(1, 0, Sense::at_most, 0.5) == Status::fail);
  CHECK(judge(-1, 0, Sense::at_least, 0.5) == Status::fail);
}

TEST_CASE("What is no number never passes") {
  const double nan = std::numeric_limits<double>::quiet_NaN();
  CHECK(judge(nan, 2, Sense::at_least, 0.2) == Status::fail);
  CHECK(judge(nan, 2, Sense::at_most, 0.2) == Status::fail);
  CHECK(judge(2, nan, Sense::at_most, 0.2) == Status::fail);
}

TEST_CASE("The worst comes first, and inside a status the smallest share of margin") {
  const auto finding = [](std::string id, Status status, double value, double limit, Sense sense) {
    Finding made;
    made.id = std::move(id);
    made.status = status;
    made.value = value;
    made.limit = limit;
    made.sense = sense;
    return made;
  };
  std::vector<Finding> findings{
      finding("pass, far", Status::pass, 9, 3, Sense::at_least),    // margin 2.0 of the limit
      finding("pass, close", Status::pass, 4, 3, Sense::at_least),  // 0.33
      finding("fail, a little", Status::fail, 2.9, 3, Sense::at_least),
      finding("near", Status::near, 0.09, 0.1, Sense::at_most),  // 0.1
      finding("fail, a lot", Status::fail, 0.3, 0.1, Sense::at_most),
      finding("near, too", Status::near, 0.09, 0.1, Sense::at_most),
  };
  CHECK(worst(findings) == Status::fail);
  CHECK(worst({}) == Status::pass);
  sort_worst_first(findings);
  std::vector<std::string> ids;
  for (const auto& one : findings) ids.push_back(one.id);
  CHECK(ids == std::vector<std::string>{"fail, a lot", "fail, a little", "near", "near, too", "pass, close",
                                        "pass, far"});
}
