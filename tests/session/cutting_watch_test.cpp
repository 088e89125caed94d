// Plans beside the window: answered, marked as old, stopped, acted on.
#include "haftwright/session/cutting_watch.hpp"

#include <algorithm>
#include <catch2/catch.hpp>
#include <set>
#include <tuple>

#include "bell.hpp"
#include "desk.hpp"
#include "haftwright/cutting/cutting_list.hpp"
#include "haftwright/files/bin_file.hpp"
#include "haftwright/handle/lay_out.hpp"
#include "haftwright/session/bin_forms.hpp"

namespace haftwright {
namespace {

double length_of(const PieceNeed& need) {
  const auto [low, high] = std::ranges::minmax_element(need.outline, {}, &Vec2::x);
  return high->x - low->x;
}

/// A board of each wood of the design, its sheets and a rod; thick enough to be sawn through for both sides.
Bin bin_for(const Design& design, double length_mm = 180) {
  Bin bin;
  for (const Piece& piece : design.left.pieces) {
    Offcut offcut = offcut_to_begin_with(piece.material);
    offcut.outline = rectangle({length_mm, 60});
    offcut.thickness_mm = 30;
    bin = *add(bin, std::move(offcut));
  }
  for (const SheetNeed& need : needs_of(design, lay_out(design)).sheets) {
    SheetStock sheet = sheet_to_begin_with(need.material);
    sheet.thickness_mm = need.thickness_mm;
    sheet.outline = rectangle({300, 200});
    bin = *add(bin, std::move(sheet));
  }
  return *add(bin, rod_to_begin_with(design.pins.front().stock));
}

std::shared_ptr<const Bin> shared(Bin bin) {
  return std::make_shared<const Bin>(std::move(bin));
}
std::shared_ptr<const Design> starter() {
  return std::make_shared<const Design>(test::starter());
}

/// A session with a bin for its project.
struct Bench : Desk {
  Bench() { write_bin(bin_for(design()), bin_file); }
  std::shared_ptr<const CuttingAnswer> plan() {
    session->want_cutting();
    test::Bell bell;
    REQUIRE(bell.until([&] { return !session->cutting().busy(); }));
    return session->cutting().answer();
  }
};

}  // namespace

TEST_CASE("a plan is answered as when it is asked directly, why not after it") {
  test::Bell bell;
  CuttingWatch watch([&] { bell.ring(); }, 0ms);
  CHECK(watch.answer() == nullptr);
  CHECK_FALSE(watch.busy());
  const CuttingQuestion question{starter(), shared(bin_for(test::starter())), {.project = "starter"}};
  watch.want(question);
  CHECK(watch.busy());
  REQUIRE(bell.until([&] { return !watch.busy(); }));
  const auto answer = watch.answer();
  REQUIRE(answer);
  CHECK(answer->problem.empty());
  CHECK(answer->asked == question);
  CHECK(answer->reasons_known);
  CHECK(answer->findings.size() == answer->plans.plans.size());
  const CuttingPlans wanted =
      plan_cutting(*question.design, lay_out(*question.design), *question.bin, question.wishes);
  // Those that differ for whoever saws, the best of them first; mirrored books are no choice to offer.
  REQUIRE_FALSE(answer->plans.plans.empty());
  std::set<std::set<std::tuple<std::size_t, std::size_t, Pairing>>> taken;
  for (const CuttingPlan& plan : answer->plans.plans) {
    std::set<std::tuple<std::size_t, std::size_t, Pairing>> pieces;
    for (const BoardUse& use : plan.offcuts)
      for (const PlacedBlank& blank : use.blanks) pieces.emplace(use.index, blank.need, blank.pairing);
    CHECK(taken.insert(pieces).second);
  }
  CHECK(answer->plans.plans.front().value == wanted.plans.front().value);
  CHECK(wanted.plans.front().complete());
  watch.want(question);
  CHECK_FALSE(watch.busy());
  CHECK(watch.answer() == answer);
}

TEST_CASE("the old plan stays until the new one is there, and the last question gets its answer") {
  test::Bell bell;
  CuttingWatch watch([&] { bell.ring(); }, 1ms);
  const auto design = starter();
  watch.want({design, shared(bin_for(*design)), {}});
  REQUIRE(bell.until([&] { return !watch.busy(); }));
  const auto first = watch.answer();
  CuttingQuestion last;
  for (int i = 0; i < 20; ++i) {
    watch.want(last = {design, shared(bin_for(*design, 180 + i)), {}});
    CHECK(watch.answer());
  }
  CHECK(watch.question() == last);
  REQUIRE(bell.until([&] { return !watch.busy(); }));
  CHECK(watch.answer()->asked == last);
  CHECK(watch.answer() != first);
}

TEST_CASE("a stopped plan leaves what was there, and can be asked again") {
  test::Bell bell;
  CuttingWatch watch([&] { bell.ring(); }, std::chrono::hours(1));  // it never begins by itself
  const CuttingQuestion question{starter(), shared(bin_for(test::starter())), {}};
  watch.want(question);
  CHECK(watch.busy());
  watch.stop();
  CHECK_FALSE(watch.busy());
  CHECK(watch.stopped());
  CHECK(watch.answer() == nullptr);
  watch.want(question);
  CHECK_FALSE(watch.busy());
  watch.again();
  CHECK(watch.busy());
  CHECK_FALSE(watch.stopped());
  watch.forget();
  CHECK_FALSE(watch.busy());
  CHECK(watch.question() == CuttingQuestion{});
}

TEST_CASE("a design that can't be laid out is told of, and the next one is planned") {
  test::Bell bell;
  CuttingWatch watch([&] { bell.ring(); }, 0ms);
  const auto bin = shared(bin_for(test::starter()));
  watch.want({std::make_shared<const Design>(test::crossing_joints()), bin, {}});
  REQUIRE(bell.until([&] { return !watch.busy(); }));
  CHECK_FALSE(watch.answer()->problem.empty());
  watch.want({starter(), bin, {}});
  REQUIRE(bell.until([&] { return !watch.busy(); }));
  CHECK(watch.answer()->problem.empty());
}

TEST_CASE("without a bin nothing is planned; with one the open project is") {
  Desk desk;
  desk.session->want_cutting();
  CHECK_FALSE(desk.session->cutting().busy());
  Bench bench;
  const auto answer = bench.plan();
  REQUIRE(answer);
  CHECK(answer->asked.wishes.project == "starter");
  CHECK(bench.session->in_force(*answer));
  bench.edit();
  CHECK_FALSE(bench.session->in_force(*answer));
  const auto next = bench.plan();
  CHECK(next != answer);
  CHECK(bench.session->in_force(*next));
  bench.session->request_close();
  bench.session->answer(Choice::discard);
  CHECK(bench.session->cutting().answer() == nullptr);
}

TEST_CASE("a plan is reserved, cut and brought back, each one step of the bin's") {
  Bench bench;
  const Bin before = read_bin(bench.bin_file);
  const auto answer = bench.plan();
  REQUIRE(answer->plans.plans.front().complete());
  bench.session->reserve(*answer, 0);
  CHECK(bench.session->bin().said().words.empty());
  CHECK(reserved_by(read_bin(bench.bin_file), "starter") > 0);
  // The answer is of the bin before.
  bench.session->cut(*answer, 0);
  CHECK(bench.session->bin().said().trouble);
  const auto again = bench.plan();
  bench.session->cut(*again, 0);
  const Bin after = read_bin(bench.bin_file);
  CHECK(reserved_by(after, "starter") == 0);
  for (const BoardUse& use : again->plans.plans.front().offcuts) {
    const std::string& id = again->asked.bin->offcuts[use.index].id;
    CHECK(std::ranges::find(after.offcuts, id, &Offcut::id) == after.offcuts.end());
  }
  REQUIRE(bench.session->bin().undo());
  REQUIRE(bench.session->bin().undo());
  CHECK(read_bin(bench.bin_file) == before);
}

TEST_CASE("a project without a name or a file can't reserve") {
  Bench bench;
  bench.session->request_close();
  Design nameless = test::starter();
  nameless.name = "";
  bench.session->request_new(nameless);
  const auto answer = bench.plan();
  REQUIRE(answer);
  CHECK(bench.session->name_in_bin().empty());
  const std::string bytes = test::bytes_of(bench.bin_file);
  bench.session->reserve(*answer, 0);
  CHECK(bench.session->bin().said().words.find("name") != std::string::npos);
  CHECK(test::bytes_of(bench.bin_file) == bytes);
}

TEST_CASE("a change that gives a piece its place is one step of the project's, and then it has one") {
  Bench bench;
  // Without room for the rim the board of the rear pieces is too short by little.
  Bin bin = bin_for(bench.design());
  const Needs needs = needs_of(bench.design(), lay_out(bench.design()));
  bin.offcuts[1].outline = rectangle({length_of(needs.pieces[1]), 40});
  write_bin(bin, bench.bin_file);
  const auto answer = bench.plan();
  REQUIRE_FALSE(answer->plans.plans.front().complete());
  REQUIRE(answer->reasons_known);
  const CuttingChange* change = nullptr;
  for (const WhyNot& reason : answer->reasons)
    for (const CuttingChange& one : reason.changes) change = &one;
  REQUIRE(change);
  const std::size_t without = answer->plans.plans.front().pieces_without.size();
  const Design before = bench.design();
  REQUIRE(bench.document().apply(change->words, change->design) == Outcome::changed);
  CHECK(bench.plan()->plans.plans.front().pieces_without.size() < without);
  bench.document().undo();
  CHECK(bench.design() == before);
}

TEST_CASE("the cutting drawing is written, and a file that is there is asked about first") {
  Bench bench;
  const auto answer = bench.plan();
  const fs::path drawing = bench.files / "cutting.svg";
  test::put(drawing, "mine");
  bench.session->export_cutting(*answer, 0, drawing);
  REQUIRE(bench.asks(Kind::replace_file));
  bench.session->answer(Choice::cancel);
  CHECK(test::bytes_of(drawing) == "mine");
  bench.session->export_cutting(*answer, 0, drawing);
  bench.session->answer(Choice::overwrite);
  CHECK(test::bytes_of(drawing).find("<svg") != std::string::npos);
  CHECK(bench.notice() == "Cutting drawing written\n" + drawing.string());
  bench.session->export_cutting(*answer, 0, bench.knife);
  CHECK(bench.notice().find("project's own file") != std::string::npos);
}

}  // namespace haftwright
