// A handle plain enough to be measured in the head, and ways to look at its findings.
#pragma once

#include <catch2/catch.hpp>
#include <string>
#include <string_view>
#include <vector>

#include "haftwright/checks/checks.hpp"
#include "haftwright/design/validate.hpp"
#include "haftwright/handle/lay_out.hpp"

namespace haftwright::test {

/// A board: tang 118 x 25 x 4 mm, square corners, x from -8 to 110, y from -12.5 to 12.5. Both sides alike: a
/// 1 mm liner, 8 mm in all, flat, 7 mm of wood; two pieces that meet square at x = 50; front face at x = 0.
/// Two 3 mm pins at (20, -2) and (80, -2) in 3.08 mm holes. Nothing fails.
inline Design plain_design() {
  Design design;
  design.name = "board";
  design.tang.outline = {{{-8, -12.5}}, {{110, -12.5}}, {{110, 12.5}}, {{-8, 12.5}}};
  design.left.liners = {{"vulcanized_fibre", 1}};
  Piece piece{.material = "black_walnut", .blank = {.thickness_mm = 9}};
  design.left.pieces = {piece, piece};
  design.left.joints = {{.place_mm = 50}};
  Pin pin;
  pin.stock.nominal_mm = 3;
  pin.scale_hole.diameter_mm = pin.liner_hole.diameter_mm = pin.tang_hole.diameter_mm = 3.08;
  pin.name = "front";
  pin.at_mm = {20, -2};
  design.pins.push_back(pin);
  pin.name = "rear";
  pin.at_mm = {80, -2};
  design.pins.push_back(pin);
  return design;
}

inline std::vector<Finding> findings_of(const Design& design) {
  const auto problems = validate(design);
  for (const auto& problem : problems) UNSCOPED_INFO(problem.field << ": " << problem.what);
  REQUIRE(problems.empty());
  return run_checks(design, lay_out(design));
}

/// The findings of one kind whose place holds all the given words.
inline std::vector<Finding> those(const std::vector<Finding>& findings, std::string_view id,
                                  std::initializer_list<std::string_view> words = {}) {
  std::vector<Finding> found;
  for (const auto& finding : findings) {
    bool fits = finding.id == id;
    const std::string where = where_words(plain_design(), finding.where);
    for (const auto word : words) fits = fits && where.find(word) != std::string::npos;
    if (fits) found.push_back(finding);
  }
  return found;
}

/// The one finding there must be.
inline Finding the(const std::vector<Finding>& findings, std::string_view id,
                   std::initializer_list<std::string_view> words = {}) {
  const auto found = those(findings, id, words);
  INFO(id << (words.size() > 0 ? *words.begin() : ""));
  REQUIRE(found.size() == 1);
  return found.front();
}

inline Finding the(const Design& design, std::string_view id,
                   std::initializer_list<std::string_view> words = {}) {
  return the(findings_of(design), id, words);
}

inline Approx exactly(double value) {
  return Approx(value).margin(1e-9).epsilon(0);
}

}  // namespace haftwright::test
