// A disc's part of a plan face, cut into bands along x in which everything can be integrated in closed form.
#pragma once

#include <span>
#include <vector>

#include "haftwright/geometry/outline_ops.hpp"

namespace haftwright::layout {

struct Disc {
  Vec2 centre{0, 0};
  double radius_mm = 0;
  double area_mm2() const;
};

/// A boundary that every row of a band meets: x as a function of y, on a line or on one half of a circle.
class RowEnd {
 public:
  static RowEnd on_line(Vec2 from, Vec2 to);
  /// `half` is +1 for the half toward larger x, -1 for the other.
  static RowEnd on_circle(Vec2 centre, double radius_mm, double half);

  double x_at(double y) const;
  /// Integral of x over y.
  double area_mm2(double low, double high) const;
  /// Integral of x^2 / 2 over y.
  double moment_mm3(double low, double high) const;

 private:
  double half_ = 0;  // 0: a line
  Vec2 at_{0, 0};    // a point of the line, or the circle's centre
  double slope_ = 0;
  double radius_mm_ = 0;
};

struct RowSpan {
  RowEnd from;
  RowEnd to;
};

/// Rows from y = low to y = high; each meets the same boundaries in the same order.
struct Band {
  double low = 0;
  double high = 0;
  std::vector<RowSpan> spans;  ///< in order of x
};

/// Appends the heights y at which two circles meet.
void add_meetings(const Disc& a, const Disc& b, std::vector<double>& ys);

/// The part of `disc` that lies in the face, in none of its openings and in none of the discs `taken` before.
/// Exact for lines and arcs, also where boundaries run along each other.
std::vector<Band> bands_of(const Disc& disc, std::span<const Disc> taken, const std::vector<Outline>& face,
                           const std::vector<Outline>& openings);

}  // namespace haftwright::layout
