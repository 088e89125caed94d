#include "haftwright/preview/starter_drawing.hpp"

#include <cmath>
#include <string>

namespace haftwright {
namespace {

// Points on the sheet: how far dimension lines stand off.
constexpr double kBelow = 26;
constexpr double kBehind = 22;
constexpr double kLeastRadius_mm = 1e-6;  // two radii as near as this are one

/// Without the unit where it is the millimetre, as drawings have it.
std::string measure(double mm, LengthUnit unit) {
  return unit == LengthUnit::millimetre ? shortest_number(std::round(mm * 1000) / 1000)
                                        : format_length(mm, unit);
}

template <class Tang>
class StarterMaker {
 public:
  StarterMaker(const Tang& tang, LengthUnit unit)
      : tang_(tang), unit_(unit), outline_(starter_outline(tang)) {}

  Drawing make() {
    drawing_.add(Role::steel, outline_fill(outline_));
    drawing_.add(Role::visible_edge, outline_stroke(outline_));
    const double top = tang_.front_height_mm / 2;
    const Vec2 front_spine{0, top};
    const Vec2 front_belly{0, -top};
    const Vec2 butt_spine{tang_.length_mm, top};
    const Vec2 butt_belly{tang_.length_mm, top - tang_.butt_height_mm};
    drawing_.add(Role::hidden_joint_line, straight(front_belly, front_spine));
    const Vec2 lowest{0, outline_.bounds().low.y};
    dimension(level_dimension(front_belly, butt_belly, lowest, {.points = -kBelow}, text(tang_.length_mm)));
    if (tang_.ricasso_mm > 0)
      dimension(level_dimension(front_belly, {-tang_.ricasso_mm, -top}, lowest, {.points = -kBelow},
                                text(tang_.ricasso_mm)));
    dimension(upright_dimension(front_belly, front_spine, {tang_.length_mm / 10, 0}, {},
                                text(tang_.front_height_mm)));
    dimension(upright_dimension(butt_belly, butt_spine, {outline_.bounds().high.x, 0}, {.points = -kBehind},
                                text(tang_.butt_height_mm)));
    corner();
    if constexpr (requires { tang_.spine_rise_mm; }) {
      bow(front_spine, butt_spine, tang_.spine_rise_mm);
      bow(front_belly, butt_belly, tang_.belly_rise_mm);
    }
    return std::move(drawing_);
  }

 private:
  std::string text(double mm) const { return measure(mm, unit_); }
  void dimension(Dimension made) { drawing_.add(Role::dimension, std::move(made)); }

  /// The radius at the belly's corner, written inside.
  void corner() {
    if (tang_.butt_corner_mm == 0) return;
    const Edge* lower = nullptr;
    for (const Edge& edge : outline_.edges())
      if (std::abs(edge.radius - tang_.butt_corner_mm) < kLeastRadius_mm &&
          (!lower || edge.point(0.5).y < lower->point(0.5).y))
        lower = &edge;
    if (!lower) return;
    dimension({.kind = Dimension::Kind::leader,
               .from = lower->point(0.5),
               .to = lower->centre - Vec2{tang_.butt_corner_mm / 2, 0},
               .words = "R " + text(tang_.butt_corner_mm)});
  }

  /// A chord, and how far the arc rises above it in its middle.
  void bow(Vec2 front, Vec2 butt, double rise_mm) {
    if (rise_mm == 0) return;
    const Vec2 middle = (front + butt) * 0.5;
    const Vec2 up = turned_left(glm::normalize(butt - front)) * rise_mm;
    drawing_.add(Role::projection_line, straight(front, butt));
    dimension(aligned_dimension(middle, middle + up, {}, text(rise_mm)));
  }

  const Tang& tang_;
  LengthUnit unit_;
  Outline outline_;
  Drawing drawing_;
};

}  // namespace

Drawing draw_starter(const StraightTang& tang, LengthUnit unit) {
  return StarterMaker(tang, unit).make();
}
Drawing draw_starter(const BowedTang& tang, LengthUnit unit) {
  return StarterMaker(tang, unit).make();
}

}  // namespace haftwright
