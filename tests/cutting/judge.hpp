// Plans held against the bin by the exact operations of the room geometry, which the planner does not use.
#pragma once

#include <algorithm>
#include <catch2/catch.hpp>
#include <vector>

#include "haftwright/cutting/plan.hpp"
#include "haftwright/geometry/outline_ops.hpp"

namespace haftwright::test {

// Places are on a grid of a micrometre, and arcs of a rim are followed by chords.
inline constexpr double kGrid_mm = 0.005;

inline Outline outline_of(const std::vector<Vec2>& points) {
  std::vector<Node> chain;
  for (const Vec2 p : points) chain.push_back({p, 0});
  return Outline(chain);
}

inline bool overlap(const Outline& a, const Outline& b) {
  return boundary_distance_mm(a, b) == 0 || contains(a, b) || contains(b, a);
}

class Judge {
 public:
  Judge(const Design& design, const Bin& bin, const CuttingPlans& plans, bool blanks_too)
      : bin_(bin), plans_(plans), rules_(design.rules), blanks_too_(blanks_too) {}

  void hold(const CuttingPlan& plan) {
    std::vector<int> served(plans_.needs.pieces.size());
    std::vector<bool> by_hand(served.size());
    std::vector<std::vector<std::size_t>> copies(bin_.offcuts.size());
    for (const BoardUse& use : plan.offcuts) {
      REQUIRE_FALSE(use.blanks.empty());
      take_copy(copies[use.index], use.copy, bin_.offcuts[use.index]);
      if (use.with_slice) take_copy(copies[*use.with_slice], use.copy, bin_.offcuts[*use.with_slice]);
      board(use);
      for (const PlacedBlank& blank : use.blanks) {
        ++served[blank.need];
        by_hand[blank.need] = blank.by_hand;
        piece(use, blank);
      }
    }
    for (const std::size_t without : plan.pieces_without) ++served[without];
    for (std::size_t i = 0; i < served.size(); ++i)
      CHECK(served[i] == (plans_.needs.pieces[i].at_hand && !blanks_too_ && !by_hand[i] ? 0 : 1));
    pairs(plan);
  }

  std::size_t placed() const { return placed_; }

 private:
  void take_copy(std::vector<std::size_t>& taken, std::size_t copy, const Offcut& offcut) {
    CHECK(std::ranges::find(taken, copy) == taken.end());
    taken.push_back(copy);
    CHECK(taken.size() + offcut.reserved.size() <= static_cast<std::size_t>(offcut.alike));
  }

  /// Inside, clear of defects, a kerf from each other.
  void board(const BoardUse& use) {
    std::vector<Outline> shapes;
    for (const PlacedBlank& blank : use.blanks)
      if (blank.half != Half::lower || use.blanks.size() == 1) shapes.push_back(outline_of(blank.outline));
    for (const std::size_t index : {use.index, use.with_slice.value_or(use.index)}) {
      const Offcut& offcut = bin_.offcuts[index];
      const Outline rim(offcut.outline);
      for (const PlacedBlank& blank : use.blanks) {
        const Outline shape = outline_of(blank.outline);
        CHECK(contains(rim, shape));
        CHECK(boundary_distance_mm(rim, shape) >= rules_.offcut_rim_mm - kGrid_mm);
        for (const Defect& defect : offcut.defects) {
          const Outline area(defect.outline);
          CHECK_FALSE(overlap(area, shape));
          CHECK(boundary_distance_mm(area, shape) >= rules_.defect_margin_mm - kGrid_mm);
        }
      }
    }
    for (std::size_t a = 0; a < shapes.size(); ++a)
      for (std::size_t b = a + 1; b < shapes.size(); ++b) {
        CHECK_FALSE(overlap(shapes[a], shapes[b]));
        CHECK(boundary_distance_mm(shapes[a], shapes[b]) >= rules_.saw_kerf_mm - kGrid_mm);
      }
    // Only what was put there by hand may lie so that no saw parts it.
    const auto by_hand = std::ranges::count_if(use.blanks, &PlacedBlank::by_hand);
    CHECK((use.cuts.complete || by_hand > 1));
  }

  /// Of the right wood, thick enough, the right way up and along.
  void piece(const BoardUse& use, const PlacedBlank& blank) {
    ++placed_;
    const PieceNeed& need = plans_.needs.pieces[blank.need];
    const bool book = blank.pairing == Pairing::book;
    for (const std::size_t index : {use.index, use.with_slice.value_or(use.index)}) {
      const Offcut& offcut = bin_.offcuts[index];
      CHECK(offcut.material == need.material);
      CHECK(offcut.thickness_mm >= need.thickness_mm);
    }
    if (blank.half == Half::whole) {
      const unsigned face = blank.lower_face ? ShowFace::lower_face : ShowFace::upper_face;
      CHECK((bin_.offcuts[use.index].show_faces & face) != 0);
    }
    if (book) {
      double thick = rules_.saw_kerf_mm;
      for (const PlacedBlank& other : use.blanks)
        if (other.at_mm == blank.at_mm) thick += plans_.needs.pieces[other.need].thickness_mm;
      CHECK(bin_.offcuts[use.index].thickness_mm >= thick);
    }
    // The blank is the need's outline, moved without change of size.
    REQUIRE(blank.outline.size() == need.outline.size());
    CHECK(outline_of(blank.outline).area_mm2() == Approx(outline_of(need.outline).area_mm2()).epsilon(1e-9));
    CHECK(blank.mirrored == ((need.side == Which::right) != blank.lower_face));
  }

  void pairs(const CuttingPlan& plan) {
    for (const BoardUse& use : plan.offcuts)
      for (const PlacedBlank& blank : use.blanks) {
        if (blank.pairing == Pairing::single || blank.pairing == Pairing::apart) continue;
        const auto mate = std::ranges::find_if(use.blanks, [&](const PlacedBlank& other) {
          return &other != &blank && is_mate(other.need, blank.need);
        });
        REQUIRE(mate != use.blanks.end());
        CHECK(mate->pairing == blank.pairing);
        if (blank.pairing == Pairing::one_offcut) {
          CHECK(mate->lower_face == blank.lower_face);
          continue;
        }
        // Halves of a book lie over each other and face away from each other.
        CHECK(mate->at_mm == blank.at_mm);
        CHECK(mate->turn_deg == blank.turn_deg);
        CHECK(mate->lower_face != blank.lower_face);
        CHECK(mate->half != blank.half);
        CHECK(mate->mirrored == blank.mirrored);
      }
  }

  bool is_mate(std::size_t a, std::size_t b) const {
    return std::ranges::any_of(plans_.needs.mates, [&](const Mates& mates) {
      return (mates.left == a && mates.right == b) || (mates.left == b && mates.right == a);
    });
  }

  const Bin& bin_;
  const CuttingPlans& plans_;
  const ShopRules& rules_;
  bool blanks_too_;
  std::size_t placed_ = 0;
};

}  // namespace haftwright::test
