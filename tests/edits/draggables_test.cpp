// Everything that can be dragged, without a screen: what a grip, a nudge and a typed value do to a design.
#include <catch2/catch.hpp>
#include <cmath>
#include <cstdlib>
#include <numbers>
#include <set>

#include "haftwright/design/validate.hpp"
#include "haftwright/edits/draggables.hpp"
#include "haftwright/edits/edits.hpp"
#include "haftwright/handle/lay_out.hpp"
#include "support/designs.hpp"
#include "support/nearly.hpp"
#include "support/random.hpp"
#include "support/random_design.hpp"

namespace haftwright {
namespace {

using test::Random;

constexpr std::uint64_t kShort = 4;  // designs
constexpr double kDegrees = 180 / std::numbers::pi;

Vec2 place_of(const Grip& grip) {
  return {grip.place.x_mm, grip.place.y_or_z_mm};
}

Edited drag_to(const Design& base, const Handle& handle, const Grip& grip, Vec2 to, double snap_mm = 0,
               bool one_way = false) {
  return dragged({base, handle, grip, to, one_way, snap_mm});
}

/// A few grips of every kind there is on the handle, other ones for each random number.
std::vector<Grip> some_grips(const Design& design, const Handle& handle, Random& random) {
  constexpr std::size_t kOfEach = 3;
  std::vector<Grip> some;
  for (const Draggable* kind : draggables()) {
    const std::vector<Grip> all = grips_of(design, handle, std::span(&kind, 1));
    for (std::size_t i = 0; i < std::min(kOfEach, all.size()); ++i)
      some.push_back(all[random.index(all.size())]);
  }
  return some;
}

/// Every figure that can be typed, of everything that can be taken hold of.
std::vector<double> figures(const Design& design, const Handle& handle) {
  std::vector<double> all;
  for (const Grip& grip : grips_of(design, handle))
    for (const TypedValue& value : grip.what.kind->values) all.push_back(value.get(design, grip.what));
  return all;
}

void check_same(const Design& a, const Design& b, const Handle& of_b) {
  const std::vector<double> has = figures(a, of_b), wanted = figures(b, of_b);
  REQUIRE(has.size() == wanted.size());
  double worst = 0;
  for (std::size_t i = 0; i < has.size(); ++i) worst = std::max(worst, std::abs(has[i] - wanted[i]));
  CHECK(worst < 1e-7);
}

/// Why the design can't be laid out; empty when it can.
std::string refusal_of(const Edited& edited, std::optional<Handle>& handle) {
  if (!edited) return edited.refusal();
  const std::vector<Problem> problems = validate(*edited);
  if (!problems.empty()) return problems.front().what;
  try {
    handle = lay_out(*edited);
    return {};
  } catch (const InputError& error) {
    return error.problems().front().what;
  }
}

bool turns(const Grip& grip) {
  return grip.what.kind == &draggable::joint_slant || grip.what.kind == &draggable::joint_rake;
}

/// Where the middle plane of `joint` is, seen from the place where a turning grip is held.
Vec2 on_joint(const Joint& joint, const Grip& grip) {
  return {joint.place_mm + grip.xys.y * std::tan(joint.slant_deg / kDegrees) +
              grip.xys.z * std::tan(joint.rake_deg / kDegrees),
          grip.place.y_or_z_mm};
}

Joint joint_of(const Design& design, const Selection& what) {
  return (what.side == Which::left ? design.left : design.right_side()).joints[index_now(design, what)];
}

/// The grip of `design` that is nearest to where the same thing was held before.
Grip again(const Design& design, const Handle& handle, const Grip& before, Vec2 near) {
  std::optional<Grip> best;
  for (const Grip& grip : grips_of(design, handle, std::span(&before.what.kind, 1)))
    if (grip.what == before.what && grip.place.region == before.place.region &&
        grip.seen_from == before.seen_from &&
        (!best || glm::distance(place_of(grip), near) < glm::distance(place_of(*best), near)))
      best = grip;
  REQUIRE(best);
  return *best;
}

/// Calls `visit(design, handle, grip, random)` for grips of every kind on random designs.
template <class Visit>
void for_random_grips(std::uint64_t salt, std::uint64_t designs, Visit&& visit) {
  std::set<const Draggable*> met;
  if (std::getenv("HAFTWRIGHT_SHORT")) designs = std::min(designs, kShort);
  if (std::getenv("HAFTWRIGHT_LONG")) designs *= 20;
  for (std::uint64_t seed = 1; seed <= designs; ++seed) {
    Random random(seed * 977 + salt);
    const Design design = test::random_design(seed);
    const Handle handle = lay_out(design);
    for (const Grip& grip : some_grips(design, handle, random)) {
      CAPTURE(seed, grip.label);
      visit(design, handle, grip, random);
      met.insert(grip.what.kind);
    }
  }
  CHECK(met.size() == draggables().size());
}

}  // namespace

TEST_CASE("a drag gives a design that can be laid out, or says why not") {
  int good = 0, refused = 0;
  for_random_grips(1, 15, [&](const Design& design, const Handle& handle, const Grip& grip, Random& random) {
    const double reach = random.chance(0.3) ? 15 : 0.7;
    const Vec2 to = place_of(grip) + Vec2{random.between(-reach, reach), random.between(-reach, reach)};
    std::optional<Handle> after;
    const Edited edited =
        drag_to(design, handle, grip, to, random.chance(0.5) ? 1.0 : 0.0, random.chance(0.3));
    const std::string why = refusal_of(edited, after);
    (after ? good : refused) += 1;
    CHECK((after || why.size() > 10));
    if (!after) return;
    for (const SideField field : kSideFields) CHECK(linked(*edited, field) == linked(design, field));
    // What lies on the handle still does, and is told of in words.
    CHECK(exists(*edited, grip.what));
    for (const std::string& line : grip.what.kind->tell({*edited, design, *after}, grip.what))
      CHECK_FALSE(line.empty());
    CHECK_FALSE(grip.what.kind->title(*edited, grip.what).empty());
  });
  CHECK(good > refused);
  CHECK(refused > 5);
}

TEST_CASE("a drag that comes back to where it began changes nothing") {
  for_random_grips(2, 15, [&](const Design& design, const Handle& handle, const Grip& grip, Random& random) {
    const Edited still = drag_to(design, handle, grip, place_of(grip));
    if (!still) return;  // refused at any place
    check_same(*still, design, handle);
    // Taken hold of a second time, after it was let go elsewhere.
    const Vec2 to = place_of(grip) + Vec2{random.between(-0.3, 0.3), random.between(-0.3, 0.3)};
    std::optional<Handle> between;
    const Edited away = drag_to(design, handle, grip, to);
    if (!refusal_of(away, between).empty()) return;
    const bool held_by_its_way = turns(grip) || grip.what.kind == &draggable::edge;
    const Grip second = again(*away, *between, grip, held_by_its_way ? place_of(grip) : to);
    Vec2 home = place_of(grip);
    if (turns(grip)) home = on_joint(joint_of(design, grip.what), second);
    if (grip.what.kind == &draggable::joint) home = place_of(second) + Vec2{place_of(grip).x - to.x, 0};
    const Edited back = drag_to(*away, *between, second, home);
    REQUIRE(back);
    check_same(*back, design, handle);
  });
}

TEST_CASE("where a drag ends does not depend on its way") {
  for_random_grips(3, 5, [&](const Design& design, const Handle& handle, const Grip& grip, Random& random) {
    const Vec2 by{random.between(-0.6, 0.6), random.between(-0.6, 0.6)};
    const Edited at_once = drag_to(design, handle, grip, place_of(grip) + by, 0.4);
    Handle shown = handle;
    std::optional<Edited> last;
    for (int step = 1; step <= 4; ++step) {
      // A wide turn first; the last step goes where the other drag went.
      const Vec2 to = place_of(grip) + (step == 4 ? by : by * (0.5 * step) + Vec2{0.2, -0.1 * step});
      last = drag_to(design, shown, grip, to, 0.4);
      std::optional<Handle> after;
      if (refusal_of(*last, after).empty()) shown = *after;
    }
    REQUIRE(static_cast<bool>(*last) == static_cast<bool>(at_once));
    if (at_once) CHECK(**last == *at_once);
  });
}

TEST_CASE("a nudge is a drag by the same way") {
  for_random_grips(4, 30, [&](const Design& design, const Handle& handle, const Grip& grip, Random& random) {
    Nudge nudge{.by_mm = {random.between(0.05, 0.2), random.between(0.05, 0.2)},
                .turn_deg = random.between(-1, 1),
                .rise_mm = random.between(-0.3, 0.3)};
    // Along, a station keeps its thickness, and the grip follows the tang's taper.
    if (grip.what.kind == &draggable::station) nudge.by_mm.x = 0;
    const Edited nudged_once = nudged(design, grip.what, nudge);
    Vec2 to = place_of(grip) + nudge.by_mm;
    if (nudged_once && turns(grip)) to = on_joint(joint_of(*nudged_once, grip.what), grip);
    if (nudged_once && grip.what.kind == &draggable::edge)
      to = place_of(again(*nudged_once, handle, grip, to));
    const Edited drawn = drag_to(design, handle, grip, to);
    REQUIRE(static_cast<bool>(drawn) == static_cast<bool>(nudged_once));
    if (!drawn) return;
    CHECK(*nudged_once != design);
    check_same(*nudged_once, *drawn, handle);
  });
  const Design design = test::starter();
  CHECK(nudged(design, selected_at(design, draggable::joint, Which::left, 0), {.by_mm = {0, 1}})
            .refusal()
            .find("keys") != std::string::npos);
  const Design nudged_along = *nudged(design, {&draggable::station, Which::left, 0}, {.by_mm = {1, 0}});
  CHECK(nudged_along.left.finish.thickness_mm[0].x == design.left.finish.thickness_mm[0].x + 1);
  CHECK(nudged_along.left.finish.thickness_mm[0].value == design.left.finish.thickness_mm[0].value);
}

TEST_CASE("linked sides stay alike whichever is held") {
  for (const Which side : {Which::left, Which::right}) {
    const Design design = test::starter();
    const Handle handle = lay_out(design);
    int held = 0;
    for (const Grip& grip : grips_of(design, handle)) {
      if (!linked_field(grip.what) || grip.what.side != side) continue;
      INFO(grip.label);
      CHECK(grip.label.find("side") == std::string::npos);
      const Edited edited = drag_to(design, handle, grip, place_of(grip) + Vec2{0.3, 0.2});
      REQUIRE(edited);
      CHECK(edited->mirrored());
      CHECK(*edited != design);
      ++held;
      const Design apart = *unlink(design, *linked_field(grip.what));
      const Edited alone = drag_to(apart, handle, grip, place_of(grip) + Vec2{0.3, 0.2});
      REQUIRE(alone);
      CHECK_FALSE(alone->mirrored());
      CHECK((alone->left == design.left) == (side == Which::right));
      const Grip told = again(apart, handle, grip, place_of(grip));
      CHECK(told.label.find(name_of(side)) != std::string::npos);
    }
    CHECK(held >= 4);
  }
}

TEST_CASE("what is typed is what is then there, and typing what is there changes nothing") {
  for_random_grips(5, 30, [&](const Design& design, const Handle& handle, const Grip& grip, Random& random) {
    for (const TypedValue& value : grip.what.kind->values) {
      INFO(value.label);
      const double now = value.get(design, grip.what);
      CHECK_FALSE(value.step(design, grip.what).empty());
      const Edited same = value.set(design, grip.what, now);
      if (!same) continue;
      check_same(*same, design, handle);
      const double other = now + random.between(0.01, 0.2);
      CHECK(value.get(*value.set(design, grip.what, other), grip.what) == Approx(other).margin(1e-9));
    }
    for (const ThingAction& action : grip.what.kind->actions)
      if (const Edited done = action.make(design, grip.what)) CHECK(*done != design);
  });
}

TEST_CASE("what is taken away is gone, and what is not there is refused in words") {
  for_random_grips(6, 30, [&](const Design& design, const Handle& handle, const Grip& grip, Random&) {
    const Edited gone = removed(design, grip.what);
    CHECK(removal_step(design, grip.what).starts_with("Remove "));
    if (!gone) {
      CHECK(gone.refusal().size() > 10);
    } else {
      CHECK(removable(grip.what));
      Selection last = grip.what;  // without ids the others move up
      while (!last.kind->ids && exists(design, last)) ++last.index;
      if (!last.kind->ids) --last.index;
      CHECK_FALSE(exists(*gone, last));
    }
    Grip nowhere = grip;
    nowhere.what.index = static_cast<std::size_t>(-1) / 2;
    nowhere.what.id = "nowhere";
    CHECK_FALSE(exists(design, nowhere.what));
    for (const Edited& edited :
         {drag_to(design, handle, nowhere, place_of(grip)), nudged(design, nowhere.what, {{1, 1}, 1, 1}),
          removed(design, nowhere.what)}) {
      CHECK_FALSE(edited);
      CHECK(edited.refusal().size() > 10);
    }
  });
  const Design design = test::starter();
  CHECK_FALSE(dragged({design, lay_out(design), {}}));
  CHECK_FALSE(nudged(design, {}, {}));
  CHECK_FALSE(removed(design, {}));
  CHECK_FALSE(exists(design, {}));
  CHECK_FALSE(removed(design, {&draggable::edge}));
}

// --- A kind of its own: one such block is all that a new thing to drag needs --------------------------

namespace {

double butt_proud(const Design& design, const Selection& what) {
  return (what.side == Which::left ? design.left : design.right_side()).butt_proud_mm;
}
Edited drag_butt(const Drag& drag, const Selection& what) {
  return set_butt_proud(drag.base, what.side, butt_proud(drag.base, what) + drag.to_mm.x - drag.from_mm().x);
}
Edited nudge_butt(const Design& design, const Selection& what, const Nudge& nudge) {
  return set_butt_proud(design, what.side, butt_proud(design, what) + nudge.by_mm.x);
}
void add_butts(const Design&, const Handle& handle, std::vector<Grip>& grips);

constexpr TypedValue kButtValues[] = {
    {"proud", "how far the scale stands out behind the tang's butt", schema::kProud, butt_proud,
     [](const Design& design, const Selection& what, double mm) {
       return set_butt_proud(design, what.side, mm);
     },
     [](const Design&, const Selection&) { return std::string("Move butt"); }}};

constinit const Draggable kButt{
    .noun = "butt",
    .how = "Drag it along the handle.",
    .shared = SideField::butt_proud,
    .exists = [](const Design&, const Selection& what) { return what.index == 0; },
    .add_grips = add_butts,
    .title = [](const Design&, const Selection&) { return std::string("Butt"); },
    .tell = [](const HeldThing&, const Selection&) { return std::vector<std::string>{"stands proud"}; },
    .drag = drag_butt,
    .nudge = nudge_butt,
    .values = kButtValues};

void add_butts(const Design&, const Handle& handle, std::vector<Grip>& grips) {
  for (const Which side : {Which::left, Which::right})
    grips.push_back({.what = {&kButt, side},
                     .place = {side == Which::left ? FoldRegion::left_face : FoldRegion::right_face,
                               handle.side(side).finished.bounds().high.x, 0},
                     .label = "Move butt"});
}

}  // namespace

TEST_CASE("a new kind of thing that can be dragged is one file and one row") {
  std::vector<const Draggable*> kinds(draggables().begin(), draggables().end());
  kinds.push_back(&kButt);  // the row
  const Design design = *unlink(test::starter(), SideField::butt_proud);
  const Handle handle = lay_out(design);
  const std::vector<Grip> grips = grips_of(design, handle, kinds);
  CHECK(grips.size() == grips_of(design, handle).size() + 2);
  for (const Grip& grip : grips) {
    if (grip.what.kind != &kButt) continue;
    const double before = butt_proud(design, grip.what);
    const Edited longer = drag_to(design, handle, grip, place_of(grip) + Vec2{1.5, 4});
    REQUIRE(longer);
    CHECK(butt_proud(*longer, grip.what) == test::nearly(before + 1.5));
    CHECK(lay_out(*longer).side(grip.what.side).finished.bounds().high.x ==
          test::nearly(grip.place.x_mm + 1.5));
    CHECK(butt_proud(*nudged(design, grip.what, {.by_mm = {0.1, 0}}), grip.what) ==
          test::nearly(before + 0.1));
    CHECK(linked_field(grip.what) == SideField::butt_proud);
    CHECK(exists(design, grip.what));
    CHECK_FALSE(removable(grip.what));
    CHECK(removed(design, grip.what).refusal() == "this butt can't be taken away by itself");
  }
}

}  // namespace haftwright
