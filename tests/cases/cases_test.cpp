// Projects and outlines that once ended the program, or gave figures that can't be: each ends with figures
// that can be or with an error that names a field.
#include <catch2/catch.hpp>
#include <cmath>
#include <cstdlib>
#include <filesystem>
#include <numbers>

#include "every_answer.hpp"
#include "haftwright/checks/checks.hpp"
#include "haftwright/design/validate.hpp"
#include "haftwright/estimates/epoxy.hpp"
#include "haftwright/files/project_file.hpp"
#include "haftwright/handle/lay_out.hpp"
#include "haftwright/handle/volumes.hpp"
#include "haftwright/preview/meshes.hpp"
#include "haftwright/solids/solids.hpp"
#include "nasty_design.hpp"

using namespace haftwright;
using namespace haftwright::test;

namespace {

Answers answers_of(const std::string& name) {
  try {
    return every_answer(read_project(std::filesystem::path(HAFTWRIGHT_CASES) / (name + ".json")));
  } catch (const InputError& error) {
    Answers answers;
    for (const Problem& problem : error.problems())
      answers.refusals.push_back(problem.field + ": " + problem.what);
    return answers;
  }
}

bool names_a_field(const std::string& refusal) {
  return !refusal.empty() && refusal.front() != ':';
}

void check(const Answers& answers) {
  for (const std::string& bad : answers.bad) FAIL_CHECK(bad);
  for (const std::string& refusal : answers.refusals) {
    INFO(refusal);
    CHECK(names_a_field(refusal));
  }
  CHECK((answers.laid_out || !answers.refusals.empty()));
}

}  // namespace

TEST_CASE("projects that once went wrong end with figures or with one clear error") {
  for (const auto& file : std::filesystem::directory_iterator(HAFTWRIGHT_CASES)) {
    INFO(file.path().filename());
    check(answers_of(file.path().stem()));
  }
}

TEST_CASE("a notched butt, a corner arc a hair off tangent and a bulge of nothing are laid out") {
  for (const char* name : {"notched_butt", "corner_arc_a_hair_off_tangent", "bulge_of_nothing",
                           "smaller_bulge_of_nothing", "one_great_arc_proud_butt", "spiked_butt_crowned"}) {
    INFO(name);
    CHECK(answers_of(name).laid_out);
  }
}

TEST_CASE("a butt that comes to a point can't stand proud: the error names the field") {
  const Answers answers = answers_of("two_nodes_close_together_pointed_butt");
  REQUIRE(answers.refusals.size() == 1);
  CHECK(answers.refusals.front().starts_with("sides.left.butt_proud_mm: "));
}

TEST_CASE("a strip inside a liner hole glues nothing there, and never less than nothing") {
  const Design design =
      read_project(std::filesystem::path(HAFTWRIGHT_CASES) / "strip_inside_a_liner_hole.json");
  for (const Bond& bond : lay_out(design).left.bonds) {
    INFO(bond.name);
    CHECK(bond.area_mm2 >= 0);
  }
}

TEST_CASE("a scale that can't show a mixture is named, by its field or in a failing finding") {
  const Answers refused = answers_of("scale_step_of_nothing");
  REQUIRE(refused.refusals.size() == 1);
  CHECK(refused.refusals.front().starts_with("adhesive.scale_step_g: "));

  const Design design =
      read_project(std::filesystem::path(HAFTWRIGHT_CASES) / "coarse_scale_hardly_any_hardener.json");
  const Handle handle = lay_out(design);
  const EpoxyEstimate estimate = estimate_epoxy(design, handle);
  CHECK(estimate.hardener_g > 0);
  int failing = 0;
  for (const Finding& finding : run_checks(design, handle))
    failing += finding.id == "glue.ratio" && finding.status == Status::fail;
  CHECK(failing == (std::abs(estimate.ratio_error_share) > 0.05 ? 1 : 0));
}

TEST_CASE("a bulge of nothing changes no figure, a hair of one next to none") {
  Design straight = read_project(std::filesystem::path(HAFTWRIGHT_CASES) / "smaller_bulge_of_nothing.json");
  straight.tang.outline[2].bulge = 0;
  const auto volumes = [&](double bulge) {
    Design design = straight;
    design.tang.outline[2].bulge = bulge;
    const Handle handle = lay_out(design);
    const HandleVolumes measured = volumes_of(design, handle);
    std::vector<double> found{measured.tang_mm3};
    for (const PartVolume& part : measured.left.parts) found.push_back(part.left_mm3());
    for (const Body& body : build_preview(design, handle).bodies) found.push_back(mesh_volume_mm3(body));
    return found;
  };
  const std::vector<double> wanted = volumes(0);
  for (const double bulge : {4e-8, -1e-7, 1e-6, 1.6e-6, 1.7e-6, 3e-6, -1e-5, 1e-4}) {
    INFO(bulge);
    const std::vector<double> found = volumes(bulge);
    REQUIRE(found.size() == wanted.size());
    // The segment under the arc over 121 mm: two thirds of chord times sagitta.
    const double segment_mm2 = 2.0 / 3 * 121 * 60.5 * std::abs(bulge);
    for (std::size_t i = 0; i < found.size(); ++i)
      CHECK(found[i] == Approx(wanted[i]).margin(12 * segment_mm2).epsilon(1e-6));
  }
}

TEST_CASE("nasty outlines end with figures that can be, or with an error that names a field") {
  const std::uint64_t count = std::getenv("HAFTWRIGHT_SHORT") ? 30 : 120;
  std::uint64_t valid = 0, laid_out = 0;
  for (std::uint64_t seed = 0; seed < count; ++seed) {
    INFO("seed " << seed);
    const Design design = nasty_design(seed);
    if (!validate(design).empty()) continue;
    ++valid;
    const Answers answers = every_answer(design);
    check(answers);
    if (answers.laid_out) ++laid_out;
  }
  CHECK(valid > count / 4);
  CHECK(laid_out > valid / 4);
}

TEST_CASE("handles that the solid kernel balked at are made, with a warning where an edge differs") {
  for (const char* name : {"overlapping_pins", "bulge_of_nothing", "smaller_bulge_of_nothing", "notched_butt",
                           "corner_arc_a_hair_off_tangent"}) {
    INFO(name);
    const Design design =
        read_project(std::filesystem::path(HAFTWRIGHT_CASES) / (std::string(name) + ".json"));
    const auto made = build_handle(design, lay_out(design));
    const Bodies& bodies = *made;
    CHECK(bodies.warnings().empty());
    CHECK(bodies.step_text(name).starts_with("ISO-10303-21"));
  }
  const Design spiked = read_project(std::filesystem::path(HAFTWRIGHT_CASES) / "spiked_butt_crowned.json");
  const auto made = build_handle(spiked, lay_out(spiked));
  const Bodies& bodies = *made;
  REQUIRE(bodies.warnings().size() == 1);
  CHECK(bodies.warnings().front().find("sharp") != std::string::npos);
}

TEST_CASE("a tang of more edges than the solid kernel can take in good time is refused at once") {
  Design design = nasty_design(0);
  design.pins.clear();
  design.left = Side{};
  design.left.pieces = {Piece{.material = "olive"}};
  design.tang.outline = {{{-12, -13}}, {{112, -13}}, {{112, 13}}, {{-12, 13}}};
  for (int k = 0; k < 13; ++k) {
    std::vector<Node> cutout;
    for (int i = 0; i < 250; ++i)
      cutout.push_back({Vec2{8.0 * k, 0} + 3.0 * Vec2{std::cos(i * std::numbers::pi / 125),
                                                      std::sin(i * std::numbers::pi / 125)}});
    design.tang.cutouts.push_back(cutout);
  }
  CHECK(validate(design).empty());
  CHECK_THROWS_WITH(build_handle(design, lay_out(design)),
                    Catch::Contains("3254 edges") && Catch::Contains("at most 3000"));
  design.tang.cutouts.resize(1);
  CHECK(build_handle(design, lay_out(design))->warnings().empty());
}
