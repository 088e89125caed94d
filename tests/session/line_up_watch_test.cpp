#include "haftwright/session/line_up_watch.hpp"

#include <catch2/catch.hpp>
#include <chrono>

#include "bell.hpp"
#include "desk.hpp"
#include "haftwright/handle/lay_out.hpp"
#include "support/designs.hpp"

namespace haftwright {

using test::Bell;
namespace {

std::shared_ptr<const Design> starter(double joint_error_mm) {
  Design design = test::starter();
  design.drilling.errors.joint_place_mm = joint_error_mm;
  return std::make_shared<const Design>(std::move(design));
}

}  // namespace

TEST_CASE("a design that rests gets the whole answer, the same as asked directly") {
  Bell bell;
  const SampleSettings settings{.samples = 2'000, .seed = 3};
  LineUpWatch watch([&] { bell.ring(); }, settings);
  CHECK(watch.answer() == nullptr);
  CHECK_FALSE(watch.busy());
  const auto design = starter(0.2);
  watch.want(design);
  REQUIRE(bell.until([&] { return !watch.busy(); }));
  const auto answer = watch.answer();
  REQUIRE(answer);
  CHECK(answer->design == design);
  CHECK(answer->whole);
  CHECK(answer->problem.empty());
  const LineUpReport wanted = assess(*design, lay_out(*design), settings);
  REQUIRE(answer->report.ways.size() == wanted.ways.size());
  for (std::size_t i = 0; i < wanted.ways.size(); ++i)
    CHECK(answer->report.ways[i].samples.any_size_95 == wanted.ways[i].samples.any_size_95);
  watch.want(design);
  CHECK_FALSE(watch.busy());
}

TEST_CASE("of many designs in a row the last one gets its answer") {
  Bell bell;
  LineUpWatch watch([&] { bell.ring(); }, {.samples = 500});
  std::shared_ptr<const Design> last;
  for (int i = 0; i < 40; ++i) watch.want(last = starter(0.1 + 0.01 * i));
  REQUIRE(bell.until([&] { return !watch.busy(); }));
  CHECK(watch.answer()->design == last);
  CHECK(watch.answer()->whole);
}

TEST_CASE("a design that can't be laid out is told of, and the next one is answered") {
  Bell bell;
  LineUpWatch watch([&] { bell.ring(); }, {.samples = 500});
  auto broken = std::make_shared<Design>(*starter(0.2));
  broken->tang.outline.clear();
  watch.want(broken);
  REQUIRE(bell.until([&] { return !watch.busy(); }));
  CHECK_FALSE(watch.answer()->problem.empty());
  watch.want(starter(0.2));
  REQUIRE(bell.until([&] { return !watch.busy(); }));
  CHECK(watch.answer()->problem.empty());
}

TEST_CASE("the watch can end while it computes") {
  for (int i = 0; i < 5; ++i) {
    LineUpWatch watch(nullptr, {.samples = 5'000});
    watch.want(starter(0.2));
  }
}

TEST_CASE("a design that moves gets its own way alone, and the whole answer once it rests") {
  Bell bell;
  LineUpWatch watch([&] { bell.ring(); }, {.samples = 500});
  const auto before = starter(0.2);
  watch.want(before);
  REQUIRE(bell.until([&] { return !watch.busy(); }));
  const auto moved = starter(0.4);
  watch.want(moved, true);
  REQUIRE(bell.until([&] { return !watch.busy(); }));
  CHECK(watch.answer()->design == moved);
  CHECK_FALSE(watch.answer()->whole);
  REQUIRE(watch.answer()->report.ways.size() == 1);
  CHECK(watch.answer()->report.ways.front().way == moved->drilling.way);
  CHECK(watch.whole_answer()->design == before);
  watch.want(moved);
  REQUIRE(bell.until([&] { return !watch.busy(); }));
  CHECK(watch.answer()->whole);
  CHECK(watch.whole_answer()->design == moved);
}

TEST_CASE("what was asked before another project came is never answered") {
  Bell bell;
  LineUpWatch watch([&] { bell.ring(); }, {.samples = 20'000});
  for (int i = 0; i < 10; ++i) {
    watch.want(starter(0.2));
    watch.forget();
    CHECK(watch.answer() == nullptr);
    CHECK_FALSE(watch.busy());
  }
  const auto other = starter(0.3);
  watch.want(other);
  REQUIRE(bell.until([&] { return !watch.busy(); }));
  CHECK(watch.answer()->design == other);
  CHECK(watch.whole_answer()->design == other);
}

TEST_CASE("readings of a dry fit are read, and those that can't be used are named") {
  Bell bell;
  LineUpWatch watch([&] { bell.ring(); }, {.samples = 500});
  Design design = test::starter();
  const double place = design.left.joints[0].place_mm;
  for (const Which side : {Which::left, Which::right})
    design.dry_fit.push_back({.joint = design.left.joints[0].id,
                              .side = side,
                              .reading_mm = side == Which::left ? place + 0.3 : place});
  design.dry_fit.push_back({.joint = "joint_2", .reading_mm = place});
  watch.want(std::make_shared<const Design>(design));
  REQUIRE(bell.until([&] { return !watch.busy(); }));
  const auto answer = watch.answer();
  REQUIRE(answer->dry_fit);
  REQUIRE(answer->dry_fit->lines.size() == 1);
  REQUIRE(answer->dry_fit->lines[0].spine_mm);
  CHECK(answer->dry_fit->lines[0].spine_mm->value == Approx(0.3).margin(1e-9));
  REQUIRE(answer->unused_readings.size() == 1);
  CHECK(answer->unused_readings[0].reading == 2);
}

TEST_CASE("a session answers for the project that is open") {
  Desk desk;
  LineUpWatch& watch = desk.session->line_up();
  const auto wait = [&] {
    for (int i = 0; i < 600'000 && watch.busy(); ++i) std::this_thread::sleep_for(200us);
    REQUIRE_FALSE(watch.busy());
  };
  watch.want(desk.document().snapshot());
  wait();
  REQUIRE(watch.answer());
  CHECK(watch.answer()->design == desk.document().snapshot());
  desk.session->request_open(desk.other);
  CHECK(watch.answer() == nullptr);
  watch.want(desk.document().snapshot());
  wait();
  CHECK(watch.answer()->design->name == "other");
}

TEST_CASE("what the line-up finds joins the other findings as soon as it is known, worst first") {
  Desk desk;
  Session::AllFindings all = desk.session->findings();
  CHECK(all.findings.size() >= desk.document().answers()->findings.size());
  for (int i = 0; i < 600'000 && all.line_up_pending; ++i) {
    std::this_thread::sleep_for(200us);
    all = desk.session->findings();
  }
  REQUIRE_FALSE(all.line_up_pending);
  const auto joined = std::ranges::count_if(
      all.findings, [](const Finding& finding) { return finding.id.starts_with("line_up."); });
  CHECK(joined >= 2);
  CHECK(all.findings.size() == desk.document().answers()->findings.size() + static_cast<std::size_t>(joined));
  for (std::size_t i = 1; i < all.findings.size(); ++i)
    CHECK(all.findings[i - 1].status >= all.findings[i].status);
  // Of a newer design there is nothing yet: no verdict of the older one stands in for it.
  Design next = desk.document().design();
  next.drilling.errors.joint_place_mm = 1;
  desk.document().apply("less careful", next);
  CHECK(desk.session->findings().line_up_pending);
}

}  // namespace haftwright
