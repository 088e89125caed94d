// A smooth curve through stations that never overshoots them (monotone cubic Hermite interpolation,
// Fritsch and Carlson, SIAM J. Numer. Anal. 17 (1980) 238-246).
//
// Slopes at the stations are those of the parabola through three neighbours, 0 where the stations turn, and
// never over three times the flatter of the adjoining chords: the square [0, 3] x [0, 3] inside the region
// that the paper shows to be monotone. Two stations give the straight line between them.
#pragma once

#include <vector>

namespace haftwright {

class MonotoneCubic {
 public:
  struct Station {
    double x = 0;
    double value = 0;
    bool operator==(const Station&) const = default;
  };

  /// At least one station, x strictly increasing, all finite; else std::invalid_argument.
  explicit MonotoneCubic(std::vector<Station> stations);

  /// How far beyond the outer stations the curve takes to level out, in the unit of x.
  static constexpr double kLevelling = 15;

  /// Beyond the outer stations the curve goes on with its slope and levels out along a parabola; farther out
  /// it is constant. So it has no kink anywhere, and two stations still make a straight taper between them.
  double value(double x) const { return at(x).value; }
  double slope(double x) const { return at(x).slope; }

  /// Value and derivatives at one place. The curvature jumps at the stations.
  struct Local {
    double value = 0;
    double slope = 0;
    double curvature = 0;  ///< second derivative
  };
  Local at(double x) const;

  /// Where the curve becomes constant toward the front, and toward the rear.
  const Station& first() const { return first_; }
  const Station& last() const { return last_; }
  /// Where one cubic ends and the next begins: the stations, and first() and last() beyond them. Rising.
  std::vector<double> knots() const;
  /// The greatest value anywhere: the curve is monotone between knots, so it stands at one of them.
  double greatest() const;
  /// The greatest |slope| anywhere.
  double steepest() const;

 private:
  /// value + t (slope + t (square + t cube)), t = x - from, up to the next span or the last station.
  struct Span {
    double from = 0;
    double value = 0;
    double slope = 0;
    double square = 0;
    double cube = 0;
  };
  Station first_;
  Station last_;
  std::vector<Span> spans_;
};

}  // namespace haftwright
