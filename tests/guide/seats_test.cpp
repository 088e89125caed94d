// Where a blank rests on the guide, measured again with nothing but points along the edges: each locator
// against both scales, as blanks and as finished, and against the tang.
#include <algorithm>
#include <array>
#include <catch2/catch.hpp>
#include <cmath>
#include <cstdlib>

#include "haftwright/design/starters.hpp"
#include "haftwright/design/validate.hpp"
#include "haftwright/files/project_file.hpp"
#include "haftwright/guide/order_of_work.hpp"
#include "haftwright/handle/lay_out.hpp"
#include "support/random_design.hpp"

using namespace haftwright;

namespace {

constexpr double kStepMm = 0.1;
/// Between two points a step apart a disc of 1 mm or more comes nearer by less than step^2 / 8.
constexpr double kTolerance = 1.3e-3;
constexpr std::array<const char*, 4> kSamples{"shucking_knife", "paring_knife", "reed_knife",
                                              "marking_knife"};

std::vector<Vec2> points_along(const Outline& outline) {
  std::vector<Vec2> points;
  for (const Edge& edge : outline.edges()) {
    const int count = 1 + static_cast<int>(edge.length() / kStepMm);
    for (int i = 0; i < count; ++i) points.push_back(edge.point(static_cast<double>(i) / count));
  }
  return points;
}

/// Even-odd rule.
bool inside(const std::vector<Vec2>& polygon, Vec2 p) {
  bool in = false;
  for (std::size_t i = 0, j = polygon.size() - 1; i < polygon.size(); j = i++) {
    const Vec2 a = polygon[i], b = polygon[j];
    if ((a.y > p.y) != (b.y > p.y) && p.x < a.x + (p.y - a.y) * (b.x - a.x) / (b.y - a.y)) in = !in;
  }
  return in;
}

double distance_mm(const std::vector<Vec2>& polygon, Vec2 p) {
  double least = HUGE_VAL;
  for (const Vec2 q : polygon) least = std::min(least, glm::distance(p, q));
  return inside(polygon, p) ? -least : least;
}

/// A scale stops at its front face, which the outline that is drawn out past it does not know.
std::vector<Vec2> scale_points(const SideLayout& side, double stop_height_mm) {
  const double lean = std::min(0.0, side.front.tan_rake * stop_height_mm);
  std::vector<Vec2> kept;
  for (const Vec2 p : points_along(side.edge))
    if (side.front.behind_mm(p.x, p.y, 0) >= lean) kept.push_back(p);
  const double low = side.front_belly.inner.y, high = side.front_spine.inner.y;
  std::vector<Vec2> face;
  for (double y = high; y > low; y -= kStepMm) face.push_back({side.front.x_at(y, 0) + lean, y});
  // The spine is run toward the front: the face comes after its last point, where the chain jumps.
  std::size_t jump = 0;
  double widest = 0;
  for (std::size_t i = 0; i < kept.size(); ++i)
    if (const double gap = glm::distance(kept[i], kept[(i + 1) % kept.size()]); gap > widest) {
      widest = gap;
      jump = i + 1;
    }
  kept.insert(kept.begin() + static_cast<std::ptrdiff_t>(jump), face.begin(), face.end());
  return kept;
}

double edge_slope_deg(const Outline& tang, const GuideLocator& fence) {
  // The nearest chord of the edge to the contact.
  const std::vector<Vec2> points = points_along(tang);
  std::size_t best = 0;
  for (std::size_t i = 0; i + 1 < points.size(); ++i)
    if (glm::distance(points[i], fence.contact) < glm::distance(points[best], fence.contact)) best = i;
  const Vec2 run = points[(best + 1) % points.size()] - points[best];
  return std::atan2(std::abs(run.y), std::abs(run.x)) * 180 / std::acos(-1.0);
}

struct Tally {
  int spine = 0, belly = 0, loose = 0;
  double least_share = 1;  ///< of the handle's length between the contacts of standing fences
};

void check_seats_of(const Design& design, const Handle& handle, const DrillGuide& guide, Tally& tally) {
  const double proud = design.guide.blank_allowance_mm;
  const std::vector<Vec2> tang = points_along(handle.tang);
  const std::array<std::vector<Vec2>, 2> scales{scale_points(handle.left, guide.fence_height_mm),
                                                scale_points(handle.right, guide.fence_height_mm)};
  std::vector<GuideLocator> fences;
  for (const GuideLocator& locator : guide.locators) {
    const bool fence = locator.role == LocatorRole::edge_fence;
    if (fence) fences.push_back(locator);
    const double radius = locator.diameter_mm / 2;
    const double stand_off = radius + (fence ? proud : 0);
    for (const Which which : {Which::left, Which::right}) {
      if (locator.loose && !serves(locator, which)) continue;
      const double gap = distance_mm(scales[which == Which::left ? 0 : 1], locator.at) - stand_off;
      CHECK(gap > -kTolerance);
      if (serves(locator, which)) CHECK(gap < 0.01 + kTolerance);
    }
    if (!locator.loose || serves_tang(locator)) CHECK(distance_mm(tang, locator.at) - radius > -kTolerance);
    if (serves_tang(locator)) CHECK(distance_mm(tang, locator.at) - radius < kTolerance);
  }
  REQUIRE(fences.size() == 2);
  std::sort(fences.begin(), fences.end(), [](const auto& a, const auto& b) { return a.at.x < b.at.x; });
  CHECK(fences[0].edge == fences[1].edge);
  if (fences[0].loose) {
    ++tally.loose;
    return;
  }
  ++(fences[0].edge == HandleEdge::spine ? tally.spine : tally.belly);
  for (const GuideLocator& fence : fences) CHECK(edge_slope_deg(handle.tang, fence) < 8);
  // Rough wood of any height may stand ahead of the worked edge and behind it, as at an untrimmed butt.
  CHECK(fences[0].at.x - fences[0].diameter_mm / 2 > fences[0].contact.x - worked_beside_mm(fences[0]) + 0.9);
  CHECK(fences[1].at.x + fences[1].diameter_mm / 2 < fences[1].contact.x + worked_beside_mm(fences[1]) - 0.9);
  tally.least_share = std::min(tally.least_share, glm::distance(fences[0].contact, fences[1].contact) /
                                                      handle.left.finished.bounds().size().x);
}

void check_findings_of_seats(const DrillGuide& guide) {
  for (const Finding& finding : guide.findings) {
    INFO(finding.id << ", " << where_words({}, finding.where) << ": " << finding.value << " against "
                    << finding.limit);
    if (finding.id == "guide.locator_clear" || finding.id == "guide.locator_touch")
      CHECK(finding.status != Status::fail);
  }
}

}  // namespace

TEST_CASE("the samples' locators touch what they locate and nothing else, as a blank and as finished") {
  for (const char* name : kSamples) {
    INFO(name);
    const Design design = read_project(HAFTWRIGHT_PROJECTS "/" + std::string(name) + ".json");
    const Handle handle = lay_out(design);
    const DrillGuide guide = lay_out_guide(design, handle);
    Tally tally;
    check_seats_of(design, handle, guide, tally);
    check_findings_of_seats(guide);
    CHECK(tally.loose == 0);
    CHECK(tally.least_share > 0.5);
  }
}

TEST_CASE(
    "where the spine is steep fences stand at the belly, where both are steep loose pins hold the blank") {
  // Arcs over the handle's length that rise 14 mm: 27 degrees at their ends.
  const double bulge = 14.0 / 55;
  const auto tang = [&](double spine, double belly) {
    return std::vector<Node>{{{-8, -12}, 0},     {{0, -12}, belly}, {{110, -12}, 0},
                             {{110, 12}, spine}, {{0, 12}, 0},      {{-8, 12}, 0}};
  };
  const auto laid = [&](double spine, double belly, Tally& tally) {
    const Design design = starter_design(tang(spine, belly), 4, LengthUnit::millimetre);
    const Handle handle = lay_out(design);
    const DrillGuide guide = lay_out_guide(design, handle);
    check_seats_of(design, handle, guide, tally);
    check_findings_of_seats(guide);
    return order_of_work_text(order_of_work(design, handle, guide));
  };
  Tally belly;
  CHECK(laid(bulge, 0, belly).find("Push the belly of the left blank against both fences") !=
        std::string::npos);
  CHECK(belly.belly == 1);
  Tally pins;
  const std::string words = laid(bulge, bulge, pins);
  CHECK(pins.loose == 1);
  CHECK(words.find("over its whole length, since it does not run along the handle") != std::string::npos);
  CHECK(words.find("Push a pin of 6.00 mm into the hole of the spine pin") != std::string::npos);
}

TEST_CASE("random handles' locators touch what they locate and nothing else, as a blank and as finished") {
  const std::uint64_t count = std::getenv("HAFTWRIGHT_LONG")    ? 1000
                              : std::getenv("HAFTWRIGHT_SHORT") ? 20
                                                                : 80;
  Tally tally;
  for (std::uint64_t seed = 0; seed < count; ++seed) {
    INFO("seed " << seed);
    const Design design = test::random_design(seed);
    const Handle handle = lay_out(design);
    try {
      const DrillGuide guide = lay_out_guide(design, handle);
      check_seats_of(design, handle, guide, tally);
      check_findings_of_seats(guide);
    } catch (const InputError& error) {
      CHECK(error.problems().front().field.substr(0, 5) == "guide");
    }
  }
  CAPTURE(tally.spine, tally.belly, tally.loose, tally.least_share);
  CHECK(tally.spine > static_cast<int>(count) / 2);
}
