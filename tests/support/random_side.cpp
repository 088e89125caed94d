#include "random_side.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>

namespace haftwright::test {
namespace {

constexpr double kLeastPieceMm = 4;  // along x, wherever measured
constexpr double kLeastWallMm = 1;   // wood of the upright side wall under the round-over
constexpr double kThickestMm = 12;

constexpr std::string_view kWoods[] = {"black_walnut", "sugar_maple", "olive",           "cocobolo",
                                       "ipe",          "apple",       "gaboon_ebony",    "white_oak",
                                       "purpleheart",  "bubinga",     "canvas_phenolic", "bone"};
constexpr std::string_view kSheets[] = {"vulcanized_fibre", "g10", "brass_c26000", "paper_phenolic",
                                        "copper"};

double tan_deg(double degrees) {
  return std::tan(degrees * std::numbers::pi / 180);
}

/// x of a joint's or front face's plane at the corners of the space a side can take up, less `other`'s.
template <class Rear, class Front>
double least_gap_mm(const Steel& steel, const Rear& rear, const Front& front) {
  const auto x = [](const auto& plane, double y, double s) {
    return plane.place_mm + y * tan_deg(plane.slant_deg) + s * tan_deg(plane.rake_deg);
  };
  double gap = x(rear, 0, 0) - x(front, 0, 0);
  for (const double y : {steel.low_y_mm, steel.high_y_mm})
    for (const double s : {0.0, kThickestMm}) gap = std::min(gap, x(rear, y, s) - x(front, y, s));
  return gap;
}

/// Length along x that a joint's spacers take up.
double stack_mm(const Joint& joint) {
  double sum = 0;
  for (const Sheet& spacer : joint.spacers) sum += spacer.thickness_mm;
  const double slant = tan_deg(joint.slant_deg), rake = tan_deg(joint.rake_deg);
  return sum * std::sqrt(1 + slant * slant + rake * rake);
}

/// Every piece is long enough at every height, and no joint runs into the butt's corners.
bool pieces_hold(const Steel& steel, const Side& side) {
  if (side.joints.empty()) return true;
  for (std::size_t i = 0; i < side.joints.size(); ++i) {
    const Joint& joint = side.joints[i];
    const double gap = i == 0 ? least_gap_mm(steel, joint, side.front) - stack_mm(joint) / 2
                              : least_gap_mm(steel, joint, side.joints[i - 1]) - stack_mm(joint) / 2 -
                                    stack_mm(side.joints[i - 1]) / 2;
    if (gap < kLeastPieceMm) return false;
  }
  const FrontFace butt{steel.length_mm - steel.butt_corner_mm, 0, 0};
  return least_gap_mm(steel, butt, side.joints.back()) - stack_mm(side.joints.back()) / 2 >= 1;
}

/// The round-over and the crown leave wall above the liners.
bool wall_holds(const Steel& steel, const Side& side) {
  double wall = kThickestMm;
  for (const auto& station : side.finish.thickness_mm) wall = std::min(wall, station.value);
  for (const Sheet& liner : side.liners) wall -= liner.thickness_mm;
  if (const auto& crown = side.finish.crown_radius_mm) {
    const double reach =
        std::max(steel.high_y_mm - side.finish.crest_y_mm, side.finish.crest_y_mm - steel.low_y_mm);
    if (*crown < 1.2 * reach) return false;
    wall -= *crown - std::sqrt(*crown * *crown - reach * reach);
  }
  return wall - side.finish.round_over_mm >= kLeastWallMm;
}

std::vector<Sheet> random_sheets(Random& random, std::size_t most, double thickest_mm) {
  std::vector<Sheet> sheets(random.index(most + 1));
  for (Sheet& sheet : sheets)
    sheet = {std::string(random.pick<std::string_view>(kSheets)), random.between(0.3, thickest_mm)};
  return sheets;
}

Piece random_piece(Random& random) {
  Piece piece;
  piece.material = random_wood(random);
  piece.blank.thickness_mm = random.between(6, 16);
  if (random.chance(0.5)) piece.blank.width_mm = random.between(25, 45);
  if (random.chance(0.5)) piece.blank.length_mm = random.between(20, 150);
  if (random.chance(0.5)) piece.grain.along_deg = random.between(-90, 90);
  if (random.chance(0.3)) piece.grain.dip_deg = random.between(-20, 20);
  if (random.chance(0.3)) piece.grain.rings_deg = random.between(-180, 180);
  return piece;
}

/// Joints in even steps from the front face to the butt, shifted a little, all leaning much the same way.
std::vector<Joint> random_joints(Random& random, const Steel& steel, const FrontFace& front,
                                 std::size_t count) {
  std::vector<Joint> joints(count);
  const bool slanted = random.chance(0.7), raked = random.chance(0.4);
  const double slant = slanted ? random.between(-26, 26) : 0, rake = raked ? random.between(-17, 17) : 0;
  const double step =
      (steel.length_mm - steel.butt_corner_mm - front.place_mm) / (static_cast<double>(count) + 1);
  for (std::size_t i = 0; i < count; ++i) {
    Joint& joint = joints[i];
    joint.place_mm = front.place_mm + step * (static_cast<double>(i + 1) + random.between(-0.15, 0.15));
    if (slanted) joint.slant_deg = slant + random.between(-4, 4);
    if (raked) joint.rake_deg = rake + random.between(-3, 3);
    if (random.chance(0.6)) joint.spacers = random_sheets(random, 3, 1.2);
  }
  return joints;
}

/// Turns joints and front face toward square until every piece holds, then takes pieces away.
void make_pieces_hold(const Steel& steel, Side& side) {
  for (int halvings = 0; !pieces_hold(steel, side); ++halvings) {
    const double share = halvings < 4 ? 0.5 : 0.0;
    side.front.slant_deg *= share;
    side.front.rake_deg *= share;
    for (Joint& joint : side.joints) {
      joint.slant_deg *= share;
      joint.rake_deg *= share;
    }
    if (halvings < 4) continue;
    side.joints.pop_back();
    side.pieces.pop_back();
  }
}

Finish random_finish(Random& random, const Steel& steel, const std::vector<Sheet>& liners) {
  Side side;
  side.liners = liners;
  Finish& finish = side.finish;
  do {
    finish = {};
    const double thickness = random.between(7, 10);
    finish.thickness_mm.clear();
    const std::size_t stations = random.count(1, 4);
    for (std::size_t i = 0; i < stations; ++i)
      finish.thickness_mm.push_back({steel.length_mm * static_cast<double>(i) / 3 + random.between(-4, 4),
                                     thickness + random.between(-1, 1)});
    if (random.chance(0.3)) finish.crest_y_mm = random.between(-2, 2);
    if (random.chance(0.7)) {
      const double reach = std::max(steel.high_y_mm, -steel.low_y_mm) + std::abs(finish.crest_y_mm);
      const double drop = random.between(0.3, 2.5);
      finish.crown_radius_mm = (reach * reach + drop * drop) / (2 * drop);
    }
    if (random.chance(0.8)) finish.round_over_mm = random.between(0.3, 4);
  } while (!wall_holds(steel, side));
  return finish;
}

}  // namespace

std::string_view random_wood(Random& random) {
  return random.pick<std::string_view>(kWoods);
}

Side random_side(Random& random, const Steel& steel) {
  Side side;
  if (random.chance(0.6)) side.liners = random_sheets(random, 2, 1.2);
  if (random.chance(0.5)) side.front.place_mm = random.between(-1, 3);
  if (random.chance(0.3)) side.front.slant_deg = random.between(-15, 15);
  if (random.chance(0.3)) side.front.rake_deg = random.between(-15, 15);
  if (random.chance(0.3)) side.butt_proud_mm = random.between(0.3, 3);
  side.pieces.resize(random.count(1, 5));
  for (Piece& piece : side.pieces) piece = random_piece(random);
  side.joints = random_joints(random, steel, side.front, side.pieces.size() - 1);
  make_pieces_hold(steel, side);
  side.finish = random_finish(random, steel, side.liners);
  return side;
}

SideOverrides random_overrides(Random& random, const Steel& steel, const Side& left) {
  SideOverrides right;
  if (random.chance(0.4)) return right;
  if (random.chance(0.25)) {
    const Side other = random_side(random, steel);
    return {other.liners, other.pieces, other.joints, other.front, other.butt_proud_mm, other.finish};
  }
  if (random.chance(0.5)) {  // a small miss: what a check has to find
    right.joints = left.joints;
    for (Joint& joint : *right.joints) {
      joint.place_mm += random.between(-0.3, 0.3);
      joint.slant_deg += random.between(-1, 1);
    }
    Side changed = left;
    changed.joints = *right.joints;
    if (!pieces_hold(steel, changed)) right.joints.reset();
  }
  if (random.chance(0.3)) {
    right.pieces = left.pieces;
    for (Piece& piece : *right.pieces) piece = random_piece(random);
  }
  if (random.chance(0.3)) right.butt_proud_mm = random.between(0, 3);
  if (random.chance(0.4)) right.finish = random_finish(random, steel, left.liners);
  return right;
}

}  // namespace haftwright::test
