#include "haftwright/geometry/monotone_cubic.hpp"

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <stdexcept>

namespace haftwright {
namespace {

using Stations = std::vector<MonotoneCubic::Station>;

void require_sound(const Stations& stations) {
  if (stations.empty()) throw std::invalid_argument("a curve needs at least one station");
  for (std::size_t i = 0; i < stations.size(); ++i) {
    if (!std::isfinite(stations[i].x) || !std::isfinite(stations[i].value))
      throw std::invalid_argument("a station's numbers must be finite");
    if (i > 0 && !(stations[i].x > stations[i - 1].x))
      throw std::invalid_argument("stations must follow each other in x");
  }
}

double chord_slope(const MonotoneCubic::Station& a, const MonotoneCubic::Station& b) {
  return (b.value - a.value) / (b.x - a.x);
}

/// `slope` brought into the range that keeps the curve monotone beside a chord of slope `chord`.
double limited(double slope, double chord) {
  return chord >= 0 ? std::clamp(slope, 0.0, 3 * chord) : std::clamp(slope, 3 * chord, 0.0);
}

/// Slope at an end: `near` and `far` are the chords next to it, `near_width` and `far_width` their widths.
double end_slope(double near, double far, double near_width, double far_width) {
  return limited(near + (near - far) * near_width / (near_width + far_width), near);
}

double inner_slope(double before, double after, double width_before, double width_after) {
  if (before * after <= 0) return 0;
  const double parabola = (width_after * before + width_before * after) / (width_before + width_after);
  return limited(limited(parabola, before), after);
}

std::vector<double> station_slopes(const Stations& s) {
  const std::size_t n = s.size();
  std::vector<double> slopes(n, 0);
  if (n == 1) return slopes;
  if (n == 2) {
    slopes[0] = slopes[1] = chord_slope(s[0], s[1]);
    return slopes;
  }
  const auto chord = [&](std::size_t i) { return chord_slope(s[i], s[i + 1]); };
  const auto width = [&](std::size_t i) { return s[i + 1].x - s[i].x; };
  slopes[0] = end_slope(chord(0), chord(1), width(0), width(1));
  for (std::size_t i = 1; i + 1 < n; ++i)
    slopes[i] = inner_slope(chord(i - 1), chord(i), width(i - 1), width(i));
  slopes[n - 1] = end_slope(chord(n - 2), chord(n - 3), width(n - 2), width(n - 3));
  return slopes;
}

}  // namespace

MonotoneCubic::MonotoneCubic(std::vector<Station> stations) {
  require_sound(stations);
  const std::vector<double> slopes = station_slopes(stations);
  const Station& front = stations.front();
  const Station& rear = stations.back();
  first_ = {front.x - kLevelling, front.value - slopes.front() * kLevelling / 2};
  last_ = {rear.x + kLevelling, rear.value + slopes.back() * kLevelling / 2};
  spans_.reserve(stations.size() + 1);
  spans_.push_back({first_.x, first_.value, 0, slopes.front() / (2 * kLevelling), 0});
  for (std::size_t i = 0; i + 1 < stations.size(); ++i) {
    const double width = stations[i + 1].x - stations[i].x;
    const double chord = chord_slope(stations[i], stations[i + 1]);
    spans_.push_back({stations[i].x, stations[i].value, slopes[i],
                      (3 * chord - 2 * slopes[i] - slopes[i + 1]) / width,
                      (slopes[i] + slopes[i + 1] - 2 * chord) / (width * width)});
  }
  spans_.push_back({rear.x, rear.value, slopes.back(), -slopes.back() / (2 * kLevelling), 0});
}

MonotoneCubic::Local MonotoneCubic::at(double x) const {
  if (x <= first_.x) return {first_.value, 0, 0};
  if (x >= last_.x) return {last_.value, 0, 0};
  // Handles have a handful of stations: counting up beats a binary search.
  std::size_t i = 0;
  while (i + 1 < spans_.size() && spans_[i + 1].from <= x) ++i;
  const Span& span = spans_[i];
  const double t = x - span.from;
  return {span.value + t * (span.slope + t * (span.square + t * span.cube)),
          span.slope + t * (2 * span.square + t * 3 * span.cube), 2 * span.square + 6 * t * span.cube};
}

std::vector<double> MonotoneCubic::knots() const {
  std::vector<double> places;
  for (const Span& span : spans_) places.push_back(span.from);
  places.push_back(last_.x);
  return places;
}

double MonotoneCubic::greatest() const {
  double greatest = last_.value;
  for (const Span& span : spans_) greatest = std::max(greatest, span.value);
  return greatest;
}

double MonotoneCubic::steepest() const {
  double steepest = 0;
  for (std::size_t i = 0; i < spans_.size(); ++i) {
    const Span& span = spans_[i];
    const double end = i + 1 < spans_.size() ? spans_[i + 1].from : last_.x;
    steepest = std::max({steepest, std::abs(span.slope), std::abs(at(end).slope)});
    const double turn = -span.square / (3 * span.cube);  // where the slope is extreme; not finite for cube 0
    if (turn > 0 && turn < end - span.from)
      steepest = std::max(steepest, std::abs(at(span.from + turn).slope));
  }
  return steepest;
}

}  // namespace haftwright
