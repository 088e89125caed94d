#include <algorithm>
#include <cmath>
#include <functional>
#include <map>
#include <set>

#include "plain_design.hpp"
#include "support/random_design.hpp"

using namespace haftwright;
using namespace haftwright::test;

namespace {

/// For each kind of check a change to the plain design that it has to find.
const std::map<std::string_view, std::function<void(Design&)>> kSpoilers = {
    {"align.count",
     [](Design& d) {
       d.right.joints = std::vector<Joint>{{.place_mm = 50, .spacers = {{"g10", 1}}}};
     }},
    {"align.spine", [](Design& d) { d.right.joints = std::vector<Joint>{{.place_mm = 51}}; }},
    {"align.belly", [](Design& d) { d.right.joints = std::vector<Joint>{{.place_mm = 49}}; }},
    {"align.angle", [](Design& d) { d.right.joints = std::vector<Joint>{{.place_mm = 50, .slant_deg = 3}}; }},
    {"align.front", [](Design& d) { d.right.front = FrontFace{.place_mm = 1}; }},
    {"joint.walk", [](Design& d) { d.left.joints[0].rake_deg = 50; }},
    {"thickness.agree",
     [](Design& d) {
       d.right.finish = Finish{.thickness_mm = {{0, 8.5}}};
     }},
    {"hole.edge", [](Design& d) { d.pins[0].at_mm.y = -10; }},
    {"hole.land", [](Design& d) { d.left.finish.round_over_mm = 6, d.pins[0].at_mm.y = -7; }},
    {"hole.tang_edge", [](Design& d) { d.pins[0].at_mm.y = 9.5; }},
    {"hole.joint", [](Design& d) { d.pins[0].at_mm.x = 45; }},
    {"hole.end", [](Design& d) { d.pins[0].at_mm.x = 5; }},
    {"hole.spacing",
     [](Design& d) {
       d.pins[0].at_mm = {70, 0};
     }},
    {"hole.cutout",
     [](Design& d) {
       d.tang.holes = {{"old", {23, 2}, 3}};
     }},
    {"pin.fit", [](Design& d) { d.pins[1].tang_hole.diameter_mm = 2.9; }},
    {"piece.held", [](Design& d) { d.pins.pop_back(); }},
    {"blank.thickness", [](Design& d) { d.left.pieces[1].blank.thickness_mm = 7.2; }},
    {"blank.width", [](Design& d) { d.left.pieces[1].blank.width_mm = 26; }},
    {"blank.length", [](Design& d) { d.left.pieces[1].blank.length_mm = 58; }},
    {"stack.wood",
     [](Design& d) {
       d.left.finish.thickness_mm = {{0, 2}};
     }},
    {"stack.liners",
     [](Design& d) {
       d.right.liners = std::vector<Sheet>{{"g10", 2}};
     }},
    {"stack.spacers",
     [](Design& d) {
       d.left.joints[0].place_mm = 8;
       d.left.joints[0].spacers = {{"g10", 6}};
     }},
    {"glue.ratio", [](Design& d) { d.adhesive.scale_step_g = 5; }},
};

/// What a finding says, without its words.
using Figures = std::string;

void replace_all(std::string& text, const std::string& a, const std::string& b) {
  for (auto at = text.find(a); at != std::string::npos; at = text.find(a, at + b.size()))
    text.replace(at, a.size(), b);
}

void swap_words(std::string& text, const std::string& a, const std::string& b) {
  replace_all(text, a, "\1");
  replace_all(text, b, a);
  replace_all(text, "\1", b);
}

std::multiset<Figures> figures(
    const Design& design, const std::function<void(std::string&)>& rename = [](std::string&) {}) {
  std::multiset<Figures> all;
  for (const auto& finding : findings_of(design)) {
    std::string row = finding.id + ", " + where_words(design, finding.where);
    rename(row);
    all.insert(row + ": " + format_number(finding.value, 6) + " against " + format_number(finding.limit, 6));
  }
  return all;
}

/// A design with something on each side to find.
Design uneven_design() {
  Design design = plain_design();
  design.left.joints[0] = {.place_mm = 52, .slant_deg = 12, .rake_deg = 8, .spacers = {{"g10", 1}}};
  design.right.joints = std::vector<Joint>{{.place_mm = 48, .slant_deg = -7, .rake_deg = 20}};
  design.right.liners = std::vector<Sheet>{{"g10", 0.5}};
  design.right.finish = Finish{.thickness_mm = {{0, 9}, {60, 8}}, .crown_radius_mm = 60, .crest_y_mm = 1};
  design.right.front = FrontFace{.place_mm = 1, .slant_deg = 5, .rake_deg = -10};
  design.left.pieces[0].blank.width_mm = 28;
  design.tang.holes = {{"old", {40, 3}, 3.3}};
  design.pins[1].scale_hole.diameter_mm = 3.3;
  design.pins.push_back(design.pins[0]);
  design.pins[2].name = "third";
  design.pins[2].at_mm = {62, 4};
  return design;
}

}  // namespace

TEST_CASE("Every kind of check finds what it is there to find") {
  for (const auto& kind : check_kinds()) {
    INFO(kind.id);
    CHECK_FALSE(kind.title.empty());
    const auto spoiler = kSpoilers.find(kind.id);
    REQUIRE(spoiler != kSpoilers.end());
    Design design = plain_design();
    std::vector<Finding> before;
    kind.run(design, lay_out(design), before);
    CHECK(worst(before) == Status::pass);
    spoiler->second(design);
    REQUIRE(validate(design).empty());
    std::vector<Finding> after;
    kind.run(design, lay_out(design), after);
    REQUIRE_FALSE(after.empty());
    CHECK(worst(after) == Status::fail);
    for (const auto& finding : after) CHECK(finding.id == kind.id);
  }
  CHECK(kSpoilers.size() == check_kinds().size());
}

TEST_CASE("A design with no problem still lists every margin") {
  Design design = plain_design();
  design.tang.holes = {{"old", {50, 2}, 3}};
  for (auto& piece : design.left.pieces) piece.blank.width_mm = piece.blank.length_mm = 80;
  design.left.joints[0].spacers = {{"g10", 1}};
  const auto findings = findings_of(design);
  CHECK(worst(findings) == Status::pass);
  for (const auto& kind : check_kinds()) {
    INFO(kind.id);
    CHECK_FALSE(those(findings, kind.id).empty());
  }
}

TEST_CASE("Findings come in the order of the table") {
  const auto findings = findings_of(uneven_design());
  std::size_t kind = 0;
  for (const auto& finding : findings) {
    while (kind < check_kinds().size() && check_kinds()[kind].id != finding.id) ++kind;
    REQUIRE(kind < check_kinds().size());
  }
}

TEST_CASE("Sides changed round give the same findings on the other side") {
  Design design = uneven_design();
  Design swapped = design;
  swapped.left = design.right_side();
  swapped.right = {.liners = design.left.liners,
                   .pieces = design.left.pieces,
                   .joints = design.left.joints,
                   .front = design.left.front,
                   .butt_proud_mm = design.left.butt_proud_mm,
                   .finish = design.left.finish};
  const auto findings = findings_of(design);
  const auto mirrored = findings_of(swapped);
  const auto change_sides = [](std::string& row) {
    if (!row.starts_with("stack.liners")) swap_words(row, "left", "right");
  };
  CHECK(figures(design) == figures(swapped, change_sides));
  for (std::size_t i = 0; i < design.pins.size(); ++i) {
    const std::string pin = "pin " + std::to_string(i + 1);
    const auto here = the(findings, "hole.edge", {pin, "left"});
    const auto there = the(mirrored, "hole.edge", {pin, "right"});
    CHECK(here.place->z == exactly(-there.place->z));
  }
}

TEST_CASE("A handle turned upside down gives the same findings with spine and belly changed round") {
  Design design = uneven_design();
  Design turned = design;
  const auto turn_side = [](Side& side) {
    for (auto& joint : side.joints) joint.slant_deg = -joint.slant_deg;
    side.front.slant_deg = -side.front.slant_deg;
    side.finish.crest_y_mm = -side.finish.crest_y_mm;
  };
  for (auto& node : turned.tang.outline) node.at.y = -node.at.y;
  turn_side(turned.left);
  Side right = design.right_side();
  turn_side(right);
  turned.right.joints = right.joints;
  turned.right.front = right.front;
  turned.right.finish = right.finish;
  for (auto& pin : turned.pins) pin.at_mm.y = -pin.at_mm.y;
  for (auto& hole : turned.tang.holes) hole.at_mm.y = -hole.at_mm.y;
  CHECK(figures(design) == figures(turned, [](std::string& row) {
          swap_words(row, "spine", "belly");
          replace_all(row, "seen along the belly", "seen along the spine");  // names a view, not a place
        }));
}

TEST_CASE("The order of the pins changes nothing but their numbers") {
  Design design = uneven_design();
  const auto nameless = [](std::string& row) {
    // "pin 2 (rear)" is "(rear)", whichever number it has; of two pins the first by name comes first.
    for (auto at = row.find("pin "); at != std::string::npos; at = row.find("pin ", at + 1))
      row.erase(at, row.find('(', at) - at);
    if (!row.starts_with("hole.spacing")) return;
    const auto from = row.find('(');
    const auto to = row.find(" to ");
    const std::string first = row.substr(from, to - from);
    const std::string second = row.substr(to + 4);
    row = "hole.spacing, " + std::min(first, second) + " to " + std::max(first, second);
  };
  const auto before = figures(design, nameless);
  std::sort(design.pins.begin(), design.pins.end(),
            [](const Pin& a, const Pin& b) { return a.name < b.name; });
  do {
    CHECK(figures(design, nameless) == before);
  } while (std::next_permutation(design.pins.begin(), design.pins.end(),
                                 [](const Pin& a, const Pin& b) { return a.name < b.name; }));
}

TEST_CASE("What runs from place to place is as long as the finding says") {
  std::map<std::string, int> measured;
  for (std::uint64_t seed = 0; seed < 400; ++seed) {
    const Design design = random_design(seed);
    for (const auto& finding : run_checks(design, lay_out(design))) {
      if (!finding.to) continue;
      REQUIRE(finding.place);
      INFO("seed " << seed << ", " << finding.id << ": " << where_words(design, finding.where));
      const Vec2 way = Vec2(*finding.to) - Vec2(*finding.place);
      if (finding.id.starts_with("align."))
        CHECK(std::abs(way.x) == exactly(finding.value));
      else if (finding.value >= 0)  // beyond the edge there is nothing to measure along
        CHECK(glm::length(way) == exactly(finding.value));
      ++measured[finding.id];
    }
  }
  for (const char* id : {"hole.edge", "hole.land", "hole.tang_edge", "hole.end", "hole.joint", "hole.spacing",
                         "hole.cutout", "align.spine", "align.belly", "align.front"}) {
    INFO(id);
    CHECK(measured[id] > 20);
  }
}

TEST_CASE("Findings of random designs are finite, worded and judged by their own figures") {
  constexpr std::uint64_t kDesigns = 2000;
  std::size_t total = 0;
  std::set<std::string> seen;
  for (std::uint64_t seed = 0; seed < kDesigns; ++seed) {
    INFO("seed " << seed);
    const Design design = random_design(seed);
    const auto findings = run_checks(design, lay_out(design));
    std::set<std::pair<std::string, std::string>> places;
    bool good = true;
    for (const auto& finding : findings) {
      good = good && std::isfinite(finding.value) && std::isfinite(finding.limit);
      const std::string where = where_words(design, finding.where);
      good = good && !where.empty() && !finding.why.empty() && !finding.basis.empty();
      if (finding.place) good = good && std::isfinite(finding.place->x + finding.place->y + finding.place->z);
      const double near_share = finding.unit == FigureUnit::count ? 0 : design.rules.near_share;
      // glue.ratio has a near band of its own.
      if (finding.id != "glue.ratio")
        good = good && finding.status == judge(finding.value, finding.limit, finding.sense, near_share);
      good = good && places.emplace(finding.id, where).second;  // no place twice, nor in the same words
      good = good && 1 == std::ranges::count_if(findings, [&](const Finding& other) {
                       return key_of(other) == key_of(finding);
                     });
      if (!good) FAIL(finding.id << ": " << where << ", " << finding.value << " against " << finding.limit);
      seen.insert(finding.id);
    }
    if (design.mirrored())
      for (const auto& finding : findings)
        if (finding.id.starts_with("align.") && finding.value > 1e-9)
          FAIL(finding.id << " " << where_words(design, finding.where) << " misses by " << finding.value
                          << " on linked sides");
    total += findings.size();
  }
  CHECK(seen.size() == check_kinds().size());
  CHECK(total > kDesigns * check_kinds().size());
}
