// The largest files that are allowed, shaped to keep the reader busy as long as they can.
#include <catch2/catch.hpp>
#include <cmath>
#include <cstdlib>
#include <ctime>
#include <numbers>

#include "haftwright/design/limits.hpp"
#include "refusal.hpp"

using namespace haftwright;

namespace {

/// In seconds. Where tests are to be short, sanitizers slow everything down.
double patience() {
  return std::getenv("HAFTWRIGHT_SHORT") ? 10 : 1;
}

/// A star of `nodes` straight edges round `centre`.
std::string star(std::size_t nodes, Vec2 centre, double radius, double inner) {
  std::string text = "[";
  for (std::size_t i = 0; i < nodes; ++i) {
    const double angle = 2 * std::numbers::pi * static_cast<double>(i) / static_cast<double>(nodes);
    const double r = i % 2 ? inner : radius;
    text += (i ? ",{\"x_mm\":" : "{\"x_mm\":") + shortest_number(centre.x + r * std::cos(angle)) +
            ",\"y_mm\":" + shortest_number(centre.y + r * std::sin(angle)) + "}";
  }
  return text + "]";
}

/// Of processor time: other work on the machine is of no matter.
double seconds_to_read(const std::string& text, test::Reading& reading) {
  const std::clock_t before = std::clock();
  reading = test::read(text);
  return static_cast<double>(std::clock() - before) / CLOCKS_PER_SEC;
}

}  // namespace

TEST_CASE("the largest tang, with all its cutouts on one heap, is refused in good time") {
  const auto project = [](bool heap) {
    std::string text =
        "{\"haftwright\": 1, \"sides\": {\"left\": {\"pieces\": [{\"material\": \"olive\"}]}}, ";
    text += "\"tang\": {\"outline\": " + star(limits::kOutlineNodes, {0, 0}, 1000, 990) + ", \"cutouts\": [";
    for (std::size_t i = 0; i < limits::kCutouts; ++i) {
      const double n = static_cast<double>(i);
      const Vec2 apart{-300 + 80.0 * std::fmod(n, 8), -300 + 80.0 * std::floor(n / 8)};
      text += (i ? "," : "") + star(limits::kCutoutNodes, heap ? Vec2{n, n / 2} : apart, 30, 28);
    }
    return text + "]}}";
  };
  test::Reading reading;
  // Apart they are good; that takes 0.8 to 1 s on a busy machine, and no more than a person waits is allowed.
  CHECK(seconds_to_read(project(false), reading) < 2 * patience());
  CHECK(reading.said() == "accepted");
  CHECK(seconds_to_read(project(true), reading) < 10 * patience());
  CHECK(reading.problems.size() == 21);
  CHECK(reading.problems[0].field == "tang.cutouts[1]");

  std::string text = project(false);
  const std::string cutout = star(limits::kCutoutNodes, {-300, -300}, 30, 28);
  text.replace(text.find(cutout), cutout.size(), star(limits::kCutoutNodes + 1, {-300, -300}, 30, 28));
  CHECK(test::read(text).said() == "tang.cutouts[0]: must have 2 to 250 entries, but has 251");
}
