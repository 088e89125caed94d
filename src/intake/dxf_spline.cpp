#include "dxf_spline.hpp"

#include <array>

namespace haftwright::intake {
namespace {

constexpr int kMostDegree = 15;
constexpr int kClosed = 1;

/// Stretches of a span between two knots with no more than one bay each, about.
constexpr int kPartsOfSpan = 2;

struct Spline {
  int flags = 0;
  int degree = 3;
  std::vector<double> knots;
  std::vector<double> weights;
  std::vector<Vec2> control;
  std::vector<Vec2> fit;
};

/// A place whose x came last.
void set_y(std::vector<Vec2>& places, const Tag& tag) {
  if (places.empty()) throw IntakeError(at_line(tag.line), "a place of the spline has y before x");
  places.back().y = real_of(tag);
}

void need_flat(double& height, bool& known, const Tag& tag) {
  const double z = real_of(tag);
  if (known && std::abs(z - height) > 1e-6 * (1 + std::abs(height)))
    throw IntakeError(at_line(tag.line), "the spline is not flat; save the drawing flat");
  height = z;
  known = true;
}

Spline read(std::span<const Tag> tags) {
  Spline spline;
  double height = 0;
  bool height_known = false;
  for (const Tag& tag : tags) {
    switch (tag.code) {
      case 70:
        spline.flags = whole_of(tag);
        break;
      case 71:
        spline.degree = whole_of(tag);
        break;
      case 40:
        spline.knots.push_back(real_of(tag));
        break;
      case 41:
        spline.weights.push_back(real_of(tag));
        break;
      case 10:
        spline.control.push_back({real_of(tag), 0});
        break;
      case 20:
        set_y(spline.control, tag);
        break;
      case 30:
        need_flat(height, height_known, tag);
        break;
      case 11:
        spline.fit.push_back({real_of(tag), 0});
        break;
      case 21:
        set_y(spline.fit, tag);
        break;
      default:
        break;
    }
  }
  return spline;
}

void need(bool good, const Record& record, const std::string& what) {
  if (!good) throw IntakeError(at_line(record.line), "SPLINE " + what);
}

void require_sound(const Spline& spline, const Record& record) {
  const auto degree = static_cast<std::size_t>(spline.degree);
  need(spline.degree >= 1 && spline.degree <= kMostDegree, record,
       "has a degree that is not from 1 to " + std::to_string(kMostDegree));
  need(spline.control.size() > degree, record, "has fewer control points than its degree asks for");
  need(spline.knots.size() == spline.control.size() + degree + 1, record,
       "has " + std::to_string(spline.knots.size()) + " knots where its control points and degree ask for " +
           std::to_string(spline.control.size() + degree + 1));
  need(spline.weights.empty() || spline.weights.size() == spline.control.size(), record,
       "has another number of weights than of control points");
  for (std::size_t i = 1; i < spline.knots.size(); ++i)
    need(spline.knots[i] >= spline.knots[i - 1], record, "has knots that do not rise");
  for (const double weight : spline.weights)
    need(weight > 1e-9 && weight < 1e9, record, "has a weight that is not above 0, or far too large");
}

struct PlaceAndWay {
  Vec2 place{0, 0};
  Vec2 way{0, 0};  ///< derivative
};

/// De Boor's algorithm in homogeneous coordinates, on the span that ends at knot `span` + 1.
PlaceAndWay at(const Spline& spline, std::size_t span, double t) {
  const auto degree = static_cast<std::size_t>(spline.degree);
  std::array<Vec3, kMostDegree + 1> d{};
  for (std::size_t j = 0; j <= degree; ++j) {
    const std::size_t i = span - degree + j;
    const double weight = spline.weights.empty() ? 1 : spline.weights[i];
    d[j] = Vec3(spline.control[i] * weight, weight);
  }
  Vec3 way{0, 0, 0};
  for (std::size_t r = 1; r <= degree; ++r) {
    for (std::size_t j = degree; j >= r; --j) {
      const double low = spline.knots[span - degree + j];
      const double high = spline.knots[span + 1 + j - r];
      const double share = high > low ? (t - low) / (high - low) : 0;
      if (r == degree && high > low) way = (d[j] - d[j - 1]) * (static_cast<double>(degree) / (high - low));
      d[j] = d[j - 1] * (1 - share) + d[j] * share;
    }
  }
  const Vec3 p = d[degree];
  const Vec2 place{p.x / p.z, p.y / p.z};
  return {place, (Vec2{way.x, way.y} - place * way.z) / p.z};
}

void end_spline(const Spline& spline, Vec2 start, Vec2 end, PathMaker& maker) {
  const double apart = glm::distance(start, end);
  if ((spline.flags & kClosed) != 0 && apart <= 1e-9 * (1 + glm::length(start)))
    maker.close();
  else
    maker.end();
}

void draw_control(const Spline& spline, PathMaker& maker) {
  const auto degree = static_cast<std::size_t>(spline.degree);
  const std::size_t last = spline.control.size();
  const Vec2 start = at(spline, degree, spline.knots[degree]).place;
  maker.move_to(start);
  Vec2 end = start;
  for (std::size_t span = degree; span < last; ++span) {
    const double a = spline.knots[span];
    const double b = spline.knots[span + 1];
    if (!(b > a)) continue;
    if (degree == 1) {
      maker.line_to(at(spline, span, b).place);
    } else {
      maker.curve_to([&](double t) { return at(spline, span, a + (b - a) * t).place; },
                     at(spline, span, a).way, at(spline, span, b).way, kPartsOfSpan);
    }
    end = at(spline, span, b).place;
  }
  end_spline(spline, start, end, maker);
}

/// A cubic through the points, in each with the direction of the parabola through it and its neighbours, the
/// parameter growing with the chords.
void draw_fit(const Spline& spline, const Record& record, PathMaker& maker) {
  std::vector<Vec2> points;
  for (const Vec2 p : spline.fit)
    if (points.empty() || p != points.back()) points.push_back(p);
  const bool closed = (spline.flags & kClosed) != 0;
  if (closed && points.size() > 2 && points.front() != points.back()) points.push_back(points.front());
  need(points.size() >= 2, record, "has neither control points nor two fit points");
  const std::size_t n = points.size();
  std::vector<double> chord;
  for (std::size_t i = 0; i + 1 < n; ++i) chord.push_back(glm::distance(points[i], points[i + 1]));
  const auto slope = [&](std::size_t i) { return (points[i + 1] - points[i]) / chord[i]; };
  const auto between = [&](std::size_t before, std::size_t after) {
    return (slope(before) * chord[after] + slope(after) * chord[before]) / (chord[before] + chord[after]);
  };
  std::vector<Vec2> way(n);
  for (std::size_t i = 1; i + 1 < n; ++i) way[i] = between(i - 1, i);
  const bool joined = closed && n > 3;
  way[0] = joined ? between(n - 2, 0) : n > 2 ? 2.0 * slope(0) - way[1] : slope(0);
  way[n - 1] = joined ? way[0] : n > 2 ? 2.0 * slope(n - 2) - way[n - 2] : slope(0);
  maker.move_to(points[0]);
  for (std::size_t i = 0; i + 1 < n; ++i) {
    const Vec2 a = points[i], b = points[i + 1], da = way[i] * chord[i], db = way[i + 1] * chord[i];
    maker.curve_to(
        [=](double t) {
          const double s = 1 - t;
          return a * (s * s * (1 + 2 * t)) + b * (t * t * (3 - 2 * t)) + da * (t * s * s) - db * (t * t * s);
        },
        da, db, kPartsOfSpan);
  }
  end_spline(spline, points.front(), points.back(), maker);
}

}  // namespace

bool draw_spline(std::span<const Tag> tags, const Record& record, PathMaker& maker) {
  const Spline spline = read(tags);
  if (spline.control.empty()) {
    draw_fit(spline, record, maker);
    return true;
  }
  require_sound(spline, record);
  draw_control(spline, maker);
  return false;
}

}  // namespace haftwright::intake
