// The plan as drawings at true size.
#include <glm/trigonometric.hpp>

#include <algorithm>

#include "boards.hpp"
#include "haftwright/cutting/cutting_list.hpp"
#include "haftwright/drawing/motion.hpp"
#include "haftwright/geometry/box.hpp"

namespace haftwright {
namespace {

constexpr double kBetween_mm = 12;  // boards below each other
constexpr double kCaptionPoints = 9;
constexpr double kMostTack_mm = 1.6;  // radius
constexpr double kTackShare = 0.08;   // of the blank's lesser size

std::vector<Node> chain_of(const std::vector<Vec2>& points) {
  std::vector<Node> nodes;
  for (const Vec2 p : points) nodes.push_back({p, 0});
  return nodes;
}

Vec2 centroid(const std::vector<Vec2>& points) {
  return Outline::trusted(chain_of(points)).moments().centroid;
}

/// An arrow from the middle toward the front end.
Item front_mark(const PieceNeed& need, const PlacedBlank& placed) {
  const Bounds box = box_round(need.outline);
  const double middle = (box.low.y + box.high.y) / 2;
  const double length = box.size().x;
  return {Dimension{.kind = Dimension::Kind::leader,
                    .from = as_placed({box.low.x + length * 0.03, middle}, placed),
                    .to = as_placed({box.low.x + length * 0.2, middle}, placed)},
          Role::dimension,
          {}};
}

class BoardMaker {
 public:
  BoardMaker(const Needs& needs, const BoardUse& use, const Bin& bin, bool sheet, LengthUnit unit)
      : needs_(needs), use_(use), bin_(bin), sheet_(sheet), unit_(unit) {}

  Drawing make(bool titled) {
    board();
    for (std::size_t i = 0; i < use_.blanks.size(); ++i) blank(i);
    for (std::size_t i = 0; i < use_.cuts.cuts.size(); ++i) cut(i);
    if (titled) title();
    return std::move(drawing_);
  }

 private:
  const std::vector<Node>& outline() const {
    return sheet_ ? bin_.sheets[use_.index].outline : bin_.offcuts[use_.index].outline;
  }

  void board() {
    const std::string& key = sheet_ ? bin_.sheets[use_.index].material : bin_.offcuts[use_.index].material;
    const Material* material = bin_.material(key);
    Fill wood{{outline()}, {}};
    if (material) wood.natural = {material->colour.red, material->colour.green, material->colour.blue};
    drawing_.add(Role::material, std::move(wood));
    drawing_.add(Role::visible_edge, Stroke{outline(), true});
    if (sheet_) return;
    for (const Defect& defect : bin_.offcuts[use_.index].defects)
      drawing_.add(Role::defect, Fill{{defect.outline}, {}});
    if (!use_.with_slice) return;
    for (const Defect& defect : bin_.offcuts[*use_.with_slice].defects)
      drawing_.add(Role::defect, Fill{{defect.outline}, {}});
  }

  void blank(std::size_t index) {
    const PlacedBlank& placed = use_.blanks[index];
    drawing_.add(Role::chosen, Stroke{chain_of(placed.outline), true}, index);
    const std::string& name = sheet_ ? needs_.sheets[placed.need].name : needs_.pieces[placed.need].name;
    const Vec2 middle = centroid(placed.outline);
    // The lower half of a book lies under the upper one: its words go below those.
    const double line = placed.half == Half::lower ? -1.2 * kCaptionPoints : 0;
    drawing_.add(Role::caption,
                 Text{.at = middle,
                      .shift_points = {0, line},
                      .words = name,
                      .height = {.points = kCaptionPoints},
                      .along = TextAlong::middle,
                      .across = TextAcross::middle},
                 index);
    if (!sheet_ && placed.half != Half::lower)
      drawing_.items.push_back(front_mark(needs_.pieces[placed.need], placed));
    if (placed.by_hand && placed.half != Half::lower) pin_mark(placed, index);
  }

  /// A tack in the upper part of what lies where the maker put it.
  void pin_mark(const PlacedBlank& placed, std::size_t index) {
    const Bounds box = box_round(placed.outline);
    const double radius = std::min(kMostTack_mm, kTackShare * std::min(box.size().x, box.size().y));
    const Vec2 at = centroid(placed.outline) + Vec2{0, box.size().y / 4};
    drawing_.add(Role::pin, Fill{{{{at - Vec2{radius, 0}, 1}, {at + Vec2{radius, 0}, 1}}}, {}}, index);
  }

  void cut(std::size_t index) {
    const nesting::Cut& cut = use_.cuts.cuts[index];
    drawing_.add(Role::saw_cut, straight(cut.from_mm, cut.to_mm));
    drawing_.add(Role::caption, Text{.at = cut.to_mm,
                                     .words = std::to_string(index + 1),
                                     .height = {.points = kCaptionPoints},
                                     .along = TextAlong::middle,
                                     .across = TextAcross::middle});
  }

  void title() {
    const auto box = bounds_of(drawing_);
    drawing_.add(Role::caption, Text{.at = {box->low.x, box->high.y},
                                     .shift_points = {0, 6},
                                     .words = board_title(use_, bin_, sheet_, unit_),
                                     .height = {.points = kCaptionPoints}});
  }

  const Needs& needs_;
  const BoardUse& use_;
  const Bin& bin_;
  bool sheet_;
  LengthUnit unit_;
  Drawing drawing_;
};

}  // namespace

Drawing in_hand_drawing(const Needs& needs, const BlankInHand::Held& held) {
  Drawing drawing;
  double line = 0;
  for (const PlacedBlank& blank : held.blanks) {
    drawing.add(held.legal ? Role::finding_pass : Role::finding_fail, Stroke{chain_of(blank.outline), true});
    drawing.items.push_back(front_mark(needs.pieces[blank.need], blank));
    drawing.add(Role::caption, Text{.at = centroid(blank.outline),
                                    .shift_points = {0, line},
                                    .words = needs.pieces[blank.need].name,
                                    .height = {.points = kCaptionPoints},
                                    .along = TextAlong::middle,
                                    .across = TextAcross::middle});
    line -= 1.2 * kCaptionPoints;
  }
  return drawing;
}

std::string board_title(const BoardUse& use, const Bin& bin, bool sheet, LengthUnit unit) {
  if (sheet) {
    const SheetStock& stock = bin.sheets[use.index];
    return "sheet \"" + (stock.name.empty() ? stock.id : stock.name) + "\"";
  }
  return offcut_words(bin, use.index) + (use.with_slice ? " and " + offcut_words(bin, *use.with_slice) : "") +
         ", " + format_length(bin.offcuts[use.index].thickness_mm, unit) +
         " thick; arrows point to the front ends";
}

Drawing board_drawing(const Needs& needs, const BoardUse& use, const Bin& bin, bool sheet, LengthUnit unit,
                      bool titled) {
  return BoardMaker(needs, use, bin, sheet, unit).make(titled);
}

Drawing cutting_drawing(const Needs& needs, const CuttingPlan& plan, const Bin& bin, LengthUnit unit) {
  Drawing all;
  double below = 0;
  const auto append = [&](const BoardUse& use, bool sheet) {
    Drawing board = board_drawing(needs, use, bin, sheet, unit);
    const Bounds box = *bounds_of(board, kMmPerPoint);
    all.append(moved(std::move(board), move_by({-box.low.x, below - box.high.y})));
    below -= box.size().y + kBetween_mm;
  };
  for (const BoardUse& use : plan.offcuts) append(use, false);
  for (const BoardUse& use : plan.sheets) append(use, true);
  return all;
}

}  // namespace haftwright
