// Blanks that the maker lays by hand: they stay where they are, all else goes round them, and what can't stay
// is told with what is in the way.
#include "haftwright/cutting/by_hand.hpp"

#include <catch2/catch.hpp>
#include <iostream>
#include <set>

#include "haftwright/cutting/cutting_list.hpp"
#include "haftwright/cutting/findings.hpp"
#include "haftwright/cutting/take.hpp"
#include "haftwright/cutting/why_not.hpp"
#include "haftwright/design/ids.hpp"
#include "haftwright/design/validate.hpp"
#include "haftwright/files/project_file.hpp"
#include "hand_case.hpp"
#include "support/seeds.hpp"

using namespace haftwright;
using test::board;
using test::Case;
using test::check_there;
using test::find;
using test::kQuiet;
using test::need_of;
using test::plain;

namespace {

/// A place at random for a piece at random: of a blank that the plan has on an offcut, or on any offcut.
HandPlace random_place(const Case& c, const CuttingPlan& plan, test::Random& random) {
  HandPlace place;
  const std::size_t need = random.index(c.needs.pieces.size());
  const auto [use, blank] = find(plan, need);
  if (blank && random.chance(0.7)) {
    place = hand_place_of(c.design, c.needs, c.bin, *use, *blank);
  } else {
    const PieceNeed& piece = c.needs.pieces[need];
    place = {piece.side, c.design.pieces(piece.side)[piece.piece].id,
             c.bin.offcuts[random.index(c.bin.offcuts.size())].id};
    place.face = random.chance(0.5) ? Face::upper : Face::lower;
    place.cut = static_cast<HandCut>(random.index(3));
  }
  const Offcut& wood = c.bin.offcuts[index_of(c.bin.offcuts, place.offcut)];
  if (place.cut != HandCut::slices)
    place.copy = static_cast<int>(random.count(1, static_cast<std::size_t>(wood.alike)));
  const Bounds box = Outline(wood.outline).bounds();
  const Vec2 middle = (box.low + box.high) * 0.5;
  const double share = random.chance(0.5) ? 0.1 : 0.5;
  const Vec2 off = share * box.size();
  place.at_mm = middle + Vec2{random.between(-off.x, off.x), random.between(-off.y, off.y)};
  place.turn_deg = random.chance(0.5) ? random.between(-180, 180) : blank ? blank->turn_deg : 0;
  return place;
}

/// By the room geometry: of the right wood, well within the rim and clear of defects.
bool lies_well(const Case& c, const HandPlace& place) {
  constexpr double kSlack_mm = 0.05;
  const std::size_t need = need_of(c.needs, c.design, place);
  const Offcut& wood = c.bin.offcuts[index_of(c.bin.offcuts, place.offcut)];
  const PieceNeed& piece = c.needs.pieces[need];
  const unsigned face = place.face == Face::lower ? ShowFace::lower_face : ShowFace::upper_face;
  if (wood.material != piece.material || wood.thickness_mm < piece.thickness_mm) return false;
  if ((wood.show_faces & face) == 0 || !wood.reserved.empty() || !wood.matched_set.empty()) return false;
  PlacedBlank blank{.need = need, .outline = {}};
  const Bounds box = test::outline_of(piece.outline).bounds();
  blank.centre_mm = (box.low + box.high) * 0.5;
  blank.at_mm = place.at_mm;
  blank.turn_deg = place.turn_deg;
  blank.mirrored = (place.side == Which::right) != (place.face == Face::lower);
  std::vector<Vec2> points;
  for (const Vec2 p : piece.outline) points.push_back(as_placed(p, blank));
  if (blank.mirrored) std::ranges::reverse(points);
  const Outline shape = test::outline_of(points);
  const Outline rim(wood.outline);
  const ShopRules& rules = c.design.rules;
  if (!contains(rim, shape) || boundary_distance_mm(rim, shape) < rules.offcut_rim_mm + kSlack_mm)
    return false;
  for (const Defect& defect : wood.defects)
    if (test::overlap(Outline(defect.outline), shape) ||
        boundary_distance_mm(Outline(defect.outline), shape) < 2 * rules.defect_margin_mm + kSlack_mm)
      return false;
  return true;
}

std::vector<std::string> kinds_of(const std::vector<Finding>& findings, Status status) {
  std::vector<std::string> kinds;
  for (const Finding& finding : findings)
    if (finding.status == status) kinds.push_back(finding.id);
  return kinds;
}

}  // namespace

TEST_CASE("blanks laid by hand stay where they are, and plans go round them as the saw and the wood ask") {
  const test::Seeds seeds = test::seeds_to_try("HAFTWRIGHT_PLANS", {.few = 4, .usual = 25, .all = 3000}, 0);
  std::size_t put = 0, moved = 0, books = 0, turned = 0, refused = 0;
  for (std::uint64_t seed = seeds.first; seed < seeds.first + seeds.count; ++seed) {
    INFO("seed " << seed);
    Case c(seed, seed + 77);
    if (c.bin.offcuts.empty()) continue;
    test::Random random(seed + 5);
    for (int i = 0; i < 3; ++i) {
      const CuttingPlans before = c.plan();
      const HandPlace wanted = random_place(c, before.plans.front(), random);
      const BlankInHand hand(c.design, c.needs, c.bin, c.wishes, before.plans.front(), wanted);
      const BlankInHand::Held held = hand.at(wanted.at_mm, wanted.turn_deg, Beside::by_hand);
      if (!held.legal) {
        CHECK_FALSE(held.why.empty());
        ++refused;
        continue;
      }
      CHECK((held.why.empty() || glm::distance(held.place.at_mm, wanted.at_mm) > 0));
      const Edited edited = put_by_hand(c.design, c.needs, held.place);
      REQUIRE(edited);
      REQUIRE(validate(*edited).empty());
      moved += glm::distance(held.place.at_mm, wanted.at_mm) > 0.01;
      turned += std::abs(std::remainder(held.place.turn_deg - wanted.turn_deg, 360.0)) > 0.01;
      books += held.place.cut != HandCut::single;
      c.design = *edited;
      ++put;
      const CuttingPlans plans = c.plan();
      REQUIRE_FALSE(plans.plans.empty());
      for (const CuttingPlan& plan : plans.plans) {
        REQUIRE(plan.not_kept.empty());
        for (const HandPlace& place : c.design.hand_places) check_there(c, plan, place);
        test::Judge(c.design, c.bin, plans, c.wishes.blanks_too).hold(plan);
        for (const Finding& finding : cutting_findings(c.design, plans.needs, plan, c.bin))
          if (finding.id == "cut.grain" || finding.id == "cut.thickness")
            CHECK(finding.status != Status::fail);
        CHECK(reserve_as_planned(c.bin, plans.needs, plan, "a project"));
        CHECK(cut_as_planned(c.bin, plans.needs, plan, c.design.rules, "a project"));
      }
    }
    // Every place survives the file.
    CHECK(parse_project(project_text(c.design)).hand_places == c.design.hand_places);
  }
  std::cout << "by hand: " << put << " blanks put, " << books << " in books or slices, " << moved
            << " moved to a legal place, " << turned << " turned, " << refused << " without a place\n";
  CHECK(put > 0);
  if (seeds.count < 25) return;
  CHECK(put > seeds.count / 3);
  CHECK(books > 0);
  CHECK(refused > 0);
}

TEST_CASE("a place at random is kept just where it may be, and told where it may not") {
  const test::Seeds seeds = test::seeds_to_try("HAFTWRIGHT_PLANS", {.few = 10, .usual = 30, .all = 3000}, 0);
  std::size_t kept = 0, told = 0, well = 0;
  for (std::uint64_t seed = seeds.first; seed < seeds.first + seeds.count; ++seed) {
    INFO("seed " << seed);
    Case c(seed, seed + 77);
    if (c.bin.offcuts.empty()) continue;
    test::Random random(seed + 9);
    const CuttingPlan free_plan = c.plan().plans.front();
    std::set<std::pair<Which, std::string>> has;
    for (int i = 0; i < 3; ++i) {
      const HandPlace place = random_place(c, free_plan, random);
      if (has.insert({place.side, place.piece}).second) c.design.hand_places.push_back(place);
    }
    c.wishes.plans = 1;
    const CuttingPlans plans = c.plan();
    const CuttingPlan& plan = plans.plans.front();
    test::Judge(c.design, c.bin, plans, true).hold(plan);
    const std::vector<Finding> findings = cutting_findings(c.design, plans.needs, plan, c.bin);
    CHECK(static_cast<std::size_t>(std::ranges::count(findings, "cut.by_hand", &Finding::id)) ==
          plan.not_kept.size());
    for (std::size_t i = 0; i < c.design.hand_places.size(); ++i) {
      const HandPlace& place = c.design.hand_places[i];
      const auto lost = std::ranges::find(plan.not_kept, i, &PlaceNotKept::place);
      if (lost == plan.not_kept.end()) {
        ++kept;
        check_there(c, plan, place);
      } else {
        ++told;
        CHECK_FALSE(lost->why.empty());
        CHECK(lost->need == need_of(c.needs, c.design, place));
      }
      // What comes first in the list has only the wood to keep to.
      if (place.cut != HandCut::single || i > 0) continue;
      const bool good = lies_well(c, place);
      well += good;
      if (good) CHECK(lost == plan.not_kept.end());
    }
  }
  std::cout << "places at random: " << kept << " kept, " << told << " told, " << well << " surely good\n";
  CHECK(told > 0);
  if (seeds.count < 30) return;
  CHECK(kept > 3);
  CHECK(told > 10);
  CHECK(well > 0);
}

TEST_CASE("the mate of a blank laid by hand comes as near to it as is left") {
  Case c(plain());
  const Vec2 size = test::outline_of(c.needs.pieces[0].outline).bounds().size();
  const double length = size.x + 20, width = 2 * size.y + 20;
  c.bin.offcuts = {board(c.design, "wide", length, width, 14), board(c.design, "other", length, 60, 14)};
  const HandPlace place{.side = Which::left,
                        .piece = c.design.left.pieces[0].id,
                        .offcut = "wide",
                        .at_mm = {length / 2, size.y / 2 + 5}};
  c.design = *put_by_hand(c.design, c.needs, place);
  CuttingPlan plan = c.plan().plans.front();
  check_there(c, plan, place);
  REQUIRE(find(plan, 1).blank);
  CHECK(find(plan, 1).use == find(plan, 0).use);
  CHECK(find(plan, 0).blank->pairing == Pairing::one_offcut);
  CHECK(find(plan, 1).blank->pairing == Pairing::one_offcut);
  // In the middle there is no room beside it.
  c.design.hand_places[0].at_mm.y = width / 2;
  plan = c.plan().plans.front();
  check_there(c, plan, c.design.hand_places[0]);
  REQUIRE(find(plan, 1).blank);
  CHECK(c.bin.offcuts[find(plan, 1).use->index].id == "other");
  CHECK(find(plan, 0).blank->pairing == Pairing::apart);
  CHECK(find(plan, 1).blank->pairing == Pairing::apart);
  // Nor anywhere: it alone has no place, and what would help is found with the other where it lies.
  c.bin.offcuts.pop_back();
  const CuttingPlans plans = c.plan();
  check_there(c, plans.plans.front(), c.design.hand_places[0]);
  CHECK(plans.plans.front().pieces_without == std::vector<std::size_t>{1});
  CHECK(find(plans.plans.front(), 0).blank->pairing == Pairing::single);
  const std::vector<WhyNot> reasons = why_not(c.design, c.bin, c.wishes, plans, kQuiet);
  REQUIRE(reasons.size() == 1);
  CHECK(reasons[0].pieces == std::vector<std::size_t>{1});
}

TEST_CASE("what can't stay where it was put is planned as if it were free, with a finding that says why") {
  Case c(plain());
  const double length = test::outline_of(c.needs.pieces[0].outline).bounds().size().x;
  c.bin.offcuts = {board(c.design, "thwart", length + 60, 60, 40)};
  c.bin.offcuts[0].defects = {{DefectKind::knot, {{{28, 30}, 1}, {{32, 30}, 1}}}};
  const std::string piece = c.design.left.pieces[0].id;
  const auto told = [&](HandPlace place) {
    c.design.hand_places = {std::move(place)};
    const CuttingPlans plans = c.plan();
    const CuttingPlan& plan = plans.plans.front();
    REQUIRE(plan.not_kept.size() == 1);
    CHECK(plan.pieces_without.empty());
    const std::vector<Finding> findings = cutting_findings(c.design, plans.needs, plan, c.bin);
    const auto finding = std::ranges::find(findings, "cut.by_hand", &Finding::id);
    REQUIRE(finding != findings.end());
    CHECK(finding->status == Status::fail);
    CHECK_THAT(finding->why, Catch::Contains(plan.not_kept[0].why) && Catch::Contains("offcut"));
    return plan.not_kept[0].why;
  };
  const HandPlace good{
      .side = Which::left, .piece = piece, .offcut = "thwart", .at_mm = {length / 2 + 50, 30}};
  c.design.hand_places = {good};
  CHECK(c.plan().plans.front().not_kept.empty());
  HandPlace place = good;
  place.at_mm.x = length / 2 + 25;
  CHECK(told(place) == "a knot (defect 1 of thwart) is too near");
  place.at_mm.x = length / 2 - 2;
  CHECK(told(place) == "it would reach over the rim");
  place = good;
  place.offcut = "gone";
  CHECK(told(place) == "there is no offcut gone in the bin");
  place = good;
  place.copy = 2;
  CHECK(told(place) == "there is no more of the offcut thwart than 1");
  place = good;
  place.cut = HandCut::slices;
  CHECK(told(place) == "the offcut thwart has no slice beneath it that is free");
  place = good;
  place.piece = "piece_9";
  CHECK(told(place) == "there is no piece piece_9 on the left side any longer");
  c.bin.offcuts[0].show_faces = upper_face;
  place = good;
  place.face = Face::lower;
  CHECK_THAT(told(place), Catch::Contains("would be seen"));
  c.bin.offcuts.push_back(board(c.design, "thin", length + 60, 60, 3));
  place = good;
  place.offcut = "thin";
  CHECK_THAT(told(place), Catch::Contains("too thin"));
  c.bin.offcuts[1].material = "olive";
  CHECK_THAT(told(place), Catch::Contains("not"));
}

TEST_CASE("two that no straight cut parts are told with the piece they are in") {
  Case c(plain());
  Design four = c.design;
  four.rules.grain_off_deg = 90;
  four.left.pieces.push_back(four.left.pieces[0]);
  four.left.pieces[1].id = "rear";
  four.left.joints = {{55, 0, 0, {}, "joint_1"}};
  Case wheel(four);
  wheel.bin.offcuts = {board(c.design, "square", 160, 160, 40)};
  // Each blank ends at the flank of the next, round a middle: no line goes through between them.
  const auto size_of = [&](std::size_t need) {
    return test::outline_of(wheel.needs.pieces[need].outline).bounds().size();
  };
  const Vec2 front = size_of(0), rear = size_of(1);
  constexpr double kGap_mm = 3, kRim_mm = 10;
  REQUIRE((front.x > rear.y + kGap_mm && rear.x > front.y + kGap_mm));
  const auto put = [&](Which side, std::size_t piece, Vec2 low, Vec2 size, double turn) {
    wheel.design.hand_places.push_back({.side = side,
                                        .piece = four.left.pieces[piece].id,
                                        .offcut = "square",
                                        .at_mm = low + size * 0.5 + Vec2{kRim_mm, kRim_mm},
                                        .turn_deg = turn});
  };
  put(Which::left, 0, {0, 0}, front, 0);
  put(Which::right, 0, {kGap_mm + rear.y, rear.x + kGap_mm}, front, 0);
  put(Which::left, 1, {front.x + kGap_mm, 0}, {rear.y, rear.x}, 90);
  put(Which::right, 1, {0, front.y + kGap_mm}, {rear.y, rear.x}, 90);
  const CuttingPlans plans = wheel.plan();
  const CuttingPlan& plan = plans.plans.front();
  for (const PlaceNotKept& lost : plan.not_kept) FAIL(lost.why);
  REQUIRE(plan.offcuts.size() == 1);
  CHECK_FALSE(plan.offcuts[0].cuts.complete);
  const std::vector<std::string> fails =
      kinds_of(cutting_findings(wheel.design, plans.needs, plan, wheel.bin), Status::fail);
  CHECK(std::ranges::count(fails, "cut.saw") == 4);
}
