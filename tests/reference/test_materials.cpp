#include <catch2/catch.hpp>
#include <set>
#include <string>
#include <vector>

#include "haftwright/reference/materials.hpp"
#include "support/check_values.hpp"

using namespace haftwright;
using haftwright::test::check_values;

TEST_CASE("Every material has a density, a source, a colour and a key in its place") {
  std::string before;
  for (const auto& material : listed_materials()) {
    INFO(material.key);
    CHECK(material.key > before);  // sorted and no key twice
    before = material.key;
    CHECK_FALSE(material.name.empty());
    CHECK_FALSE(material.density_source.empty());
    CHECK(material.density_kg_m3 > 300);
    CHECK(material.density_kg_m3 < 11000);
    for (const float channel : {material.colour.red, material.colour.green, material.colour.blue})
      CHECK((channel >= 0 && channel <= 1));
    CHECK(find_material(material.key) == &material);
    if (material.kind == MaterialKind::wood) CHECK((material.hazards & wood_dust) != 0);
    if (material.kind == MaterialKind::metal) CHECK(material.hazards == no_hazard);
  }
}

TEST_CASE("Wood densities follow from the published specific gravities") {
  // Wood Handbook ch. 4 as worked in a university page: G 0.40 at 12 % moisture is 448 kg/m3.
  constexpr double kDensityPerGravity = 448 / 0.40;
  for (const auto& row : check_values("wood_gravity.csv")) {
    INFO(row[0]);
    const auto* wood = find_material(row[0]);
    REQUIRE(wood);
    CHECK(wood->density_kg_m3 == Approx(std::stod(row[1]) * kDensityPerGravity).margin(0.5));
  }
}

TEST_CASE("A wood known by its green volume is denser at 12 % than green gravity alone would make it") {
  // Indian rosewood: basic gravity 0.75, volume shrinkage 8.5 % (Wood Handbook FPL-GTR-282, Tables 5-5 and
  // 4-4). By hand: 0.75 / (1 - 0.6 x 0.085) = 0.79031, x 1120 = 885.1.
  CHECK(find_material("indian_rosewood")->density_kg_m3 == 885);
}

TEST_CASE("Hazards that a caution hangs on are set") {
  CHECK((find_material("cocobolo")->hazards & sensitising_wood) != 0);
  CHECK((find_material("bubinga")->hazards & trade_controlled) != 0);
  CHECK((find_material("g10")->hazards & fibre_dust) != 0);
  CHECK((find_material("canvas_phenolic")->hazards & resin_dust) != 0);
  CHECK((find_material("bone")->hazards & mineral_dust) != 0);
  CHECK((find_material("teak")->hazards & oily_wood) != 0);
}

TEST_CASE("What is not listed is not found") {
  CHECK(find_material("") == nullptr);
  CHECK(find_material("black walnut") == nullptr);
  CHECK(find_material("zzz") == nullptr);
}

TEST_CASE("The nearest word is the one that takes fewest changes, and none when all are far") {
  const std::vector<std::string> words{"black_walnut", "black_cherry", "g10", "teak"};
  CHECK(nearest_word("black_wallnut", words) == "black_walnut");
  CHECK(nearest_word("blck_cherry", words) == "black_cherry");
  CHECK(nearest_word("g11", words) == "g10");
  CHECK(nearest_word("teek", words) == "teak");
  CHECK(nearest_word("kaet", words).empty());
  CHECK(nearest_word("marble", words).empty());
  CHECK(nearest_word("", words).empty());
  CHECK(nearest_word(std::string(100000, 'x'), words).empty());
  CHECK(nearest_word("teak", {}).empty());
}
