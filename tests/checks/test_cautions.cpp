#include "plain_design.hpp"

using namespace haftwright;
using namespace haftwright::test;

namespace {

bool any_says(const Design& design, std::string_view words) {
  for (const auto& caution : cautions(design))
    if (caution.find(words) != std::string::npos) return true;
  return false;
}

}  // namespace

TEST_CASE("Cautions follow from what the project uses") {
  Design design = plain_design();
  CHECK(any_says(design, "Wood dust (black walnut)"));
  CHECK(any_says(design, "nitrile gloves"));
  CHECK(any_says(design, "before hardening"));
  CHECK_FALSE(any_says(design, "carbon"));
  CHECK_FALSE(any_says(design, "Trade in"));
  CHECK_FALSE(any_says(design, "This tang is hardened"));

  design.left.pieces[0].material = "cocobolo";
  design.left.pieces[1].material = "bone";
  design.left.liners[0].material = "g10";
  design.left.joints[0].spacers = {{"canvas_phenolic", 1}};
  design.right.liners = std::vector<Sheet>{{"carbon_fibre", 1}};
  design.tang.hardened = true;
  CHECK(any_says(design, "reported from cocobolo"));
  CHECK(any_says(design, "Trade in cocobolo"));
  CHECK(any_says(design, "Oily woods (cocobolo)"));
  CHECK(any_says(design, "(bone)"));
  CHECK(any_says(design, "(carbon fibre laminate and glass epoxy G10)"));
  CHECK(any_says(design, "canvas phenolic, carbon fibre laminate and glass epoxy G10"));
  CHECK(any_says(design, "This tang is hardened"));
}

TEST_CASE("A project's own materials carry their hazards") {
  Design design = plain_design();
  design.own_materials = {{.key = "attic_board",
                           .name = "board from the attic",
                           .density_kg_m3 = 700,
                           .density_source = "weighed",
                           .hazards = wood_dust | sensitising_wood}};
  design.left.pieces[0].material = "attic_board";
  CHECK(any_says(design, "reported from board from the attic"));
}

TEST_CASE("Nothing is said about drilling where nothing is drilled") {
  Design design = plain_design();
  design.pins.clear();
  CHECK_FALSE(any_says(design, "drill"));
}

TEST_CASE("The last caution defers to those who know more, and every one is plain") {
  Design design = plain_design();
  design.left.pieces[0].material = "cocobolo";
  const auto all = cautions(design);
  CHECK(all.back().find("aids to judgement") != std::string::npos);
  CHECK(all.back().find("safety data sheets") != std::string::npos);
  for (const auto& caution : all) {
    CHECK(caution.find('%') == std::string::npos);
    CHECK(caution.back() == '.');
  }
}
