#include "haftwright/preview/reading_sketch.hpp"

#include <algorithm>

#include "haftwright/alignment/reading_place.hpp"

namespace haftwright {
namespace {

// Points on the sheet.
constexpr double kRow = 11.25;     // between dimensions at one edge
constexpr double kFirstRow = 0.6;  // of a row, from the edge to the first
constexpr double kTitleGap = 6;
constexpr double kFromDot = 2.25;
constexpr double kToDot = 3;

class SketchMaker {
 public:
  SketchMaker(const Design& design, const Handle& handle, Which side, const CaliperReading& marked)
      : design_(design), handle_(handle), side_(handle.side(side)), marked_(marked) {}

  Drawing make() {
    face();
    const std::size_t rows = readings_at(HandleEdge::spine);
    readings_at(HandleEdge::belly);
    const Bounds& bounds = side_.finished.bounds();
    drawing_.add(Role::caption, Text{.at = {bounds.low.x, bounds.high.y},
                                     .shift_points = {0, kRow * static_cast<double>(rows) + kTitleGap},
                                     .words = side_.which == Which::left ? "left, front at the left"
                                                                         : "right, as seen from the left"});
    return std::move(drawing_);
  }

 private:
  bool lively() const { return marked_.side == side_.which || marked_.kind == ReadingKind::step; }

  void face() {
    const auto role = [&](Role usual) { return lively() ? usual : Role::context_edge; };
    drawing_.add(role(Role::visible_edge), outline_stroke(side_.finished));
    for (const JointLayout& joint : side_.joints)
      for (const JointLine& line : joint.lines)
        drawing_.add(role(Role::joint_line), straight(Vec2(line.belly.inner), Vec2(line.spine.inner)));
    for (const PinLayout& pin : handle_.pins)
      drawing_.add(role(Role::pin), Circle{pin.at, {.mm = pin.diameter_mm / 2}});
  }

  /// How many there are.
  std::size_t readings_at(HandleEdge edge) {
    std::size_t row = 0;
    const std::vector<CaliperReading>& all = design_.dry_fit;
    const auto listed = std::find(all.begin(), all.end(), marked_);
    for (auto one = all.begin(); one != all.end(); ++one)
      row += add(*one, edge, row, one == listed, static_cast<std::size_t>(one - all.begin()));
    if (listed == all.end()) row += add(marked_, edge, row, true, {});
    return row;
  }

  /// Adds 1 row, or 0 where the reading is not taken here.
  std::size_t add(const CaliperReading& reading, HandleEdge edge, std::size_t row, bool is_marked,
                  std::optional<std::size_t> tag) {
    const bool step = reading.kind == ReadingKind::step;  // from one side's line to the other's
    if ((!step && reading.side != side_.which) || reading.at != edge) return 0;
    CaliperReading here = reading;
    here.side = side_.which;
    const auto place = reading_place(design_, handle_, here);
    if (!place) return 0;
    const bool spine = edge == HandleEdge::spine;
    const Bounds& bounds = side_.finished.bounds();
    const double away = kRow * (static_cast<double>(row) + kFirstRow);
    drawing_.add(is_marked ? Role::chosen_dimension : Role::dimension,
                 level_dimension(place->from, place->to, {0, spine ? bounds.high.y : bounds.low.y},
                                 {.points = spine ? away : -away}, ""),
                 tag);
    if (!is_marked) return 1;
    drawing_.add(Role::measured_place, Circle{place->to, {.points = kToDot}});
    drawing_.add(Role::measured_place, Circle{place->from, {.points = kFromDot}});
    return 1;
  }

  const Design& design_;
  const Handle& handle_;
  const SideLayout& side_;
  const CaliperReading& marked_;
  Drawing drawing_;
};

}  // namespace

Drawing draw_reading_sketch(const Design& design, const Handle& handle, Which side,
                            const CaliperReading& marked) {
  return SketchMaker(design, handle, side, marked).make();
}

}  // namespace haftwright
