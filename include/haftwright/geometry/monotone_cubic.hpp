// A smooth curve through stations that never overshoots them (monotone cubic Hermite interpolation,
// Fritsch and Carlson, SIAM J. Numer. Anal. 17 (1980) 238-246).
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

  /// Constant beyond the first and the last station.
  double value(double x) const;
  double slope(double x) const;

 private:
  std::vector<Station> stations_;
  std::vector<double> slopes_;
};

}  // namespace haftwright
