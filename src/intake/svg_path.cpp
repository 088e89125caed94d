#include "svg_path.hpp"

#include <numbers>

#include "numbers.hpp"
#include "svg_values.hpp"

namespace haftwright::intake {
namespace {

constexpr double kPi = std::numbers::pi;

// Stretches of a curve with no more than one bay each, about.
constexpr int kPartsOfCubic = 3;
constexpr int kPartsOfQuadratic = 2;

Vec2 first_way(Vec2 from, Vec2 a, Vec2 b, Vec2 to) {
  if (a != from) return a - from;
  return b != from ? b - from : to - from;
}

class DataReader {
 public:
  DataReader(std::string_view data, const std::string& place, PathMaker& maker)
      : whole_(data), rest_(trimmed(data)), place_(place), maker_(maker) {}

  void draw() {
    if (rest_.empty() || rest_ == "none") return;
    if (rest_.front() != 'M' && rest_.front() != 'm') refuse("begins with no M");
    while (!rest_.empty()) {
      const char letter = rest_.front();
      if (std::string_view("MmZzLlHhVvCcSsQqTtAa").find(letter) == std::string_view::npos)
        refuse("holds something that is no command of a path");
      rest_.remove_prefix(1);
      skip_blanks();
      command(letter);
    }
    maker_.end();
  }

 private:
  [[noreturn]] void refuse(const std::string& what) const {
    throw IntakeError(place_, "path data " + what + ", at its character " +
                                  std::to_string(whole_.size() - rest_.size() + 1));
  }

  void skip_blanks() {
    while (!rest_.empty() && is_blank(rest_.front())) rest_.remove_prefix(1);
  }

  bool more() const {
    return !rest_.empty() &&
           (is_digit(rest_.front()) || rest_.front() == '.' || rest_.front() == '-' || rest_.front() == '+');
  }

  double number() {
    const auto value = take_number(rest_);
    if (!value) refuse("lacks a number");
    skip_separator(rest_);
    return *value;
  }

  /// A single character, with or without a blank behind it.
  bool flag() {
    if (rest_.empty() || (rest_.front() != '0' && rest_.front() != '1'))
      refuse("lacks a flag of an arc, 0 or 1");
    const bool set = rest_.front() == '1';
    rest_.remove_prefix(1);
    skip_separator(rest_);
    return set;
  }

  Vec2 place(bool relative) {
    const double x = number();
    const Vec2 read{x, number()};
    return relative ? at_ + read : read;
  }

  /// After Z a path goes on from where it began.
  void need_path() {
    if (!maker_.begun()) maker_.move_to(at_);
  }

  void command(char letter) {
    const bool relative = letter >= 'a';
    const char kind = relative ? static_cast<char>(letter - 'a' + 'A') : letter;
    if (kind == 'Z') {
      maker_.close();
      at_ = start_;
      last_ = 'Z';
      skip_separator(rest_);
      return;
    }
    if (!more()) refuse("lacks numbers after " + std::string(1, letter));
    for (char step_kind = kind; more(); step_kind = kind == 'M' ? 'L' : kind) {
      step(step_kind, relative);
      last_ = step_kind;
    }
  }

  void step(char kind, bool relative) {
    if (kind == 'M') {
      at_ = start_ = place(relative);
      maker_.move_to(at_);
      return;
    }
    need_path();
    switch (kind) {
      case 'L':
        return line_to(place(relative));
      case 'H':
        return line_to({number() + (relative ? at_.x : 0), at_.y});
      case 'V':
        return line_to({at_.x, number() + (relative ? at_.y : 0)});
      case 'C':
      case 'S':
        return cubic(kind, relative);
      case 'Q':
      case 'T':
        return quadratic(kind, relative);
      default:
        return arc(relative);
    }
  }

  void line_to(Vec2 p) {
    maker_.line_to(p);
    at_ = p;
  }

  void cubic(char kind, bool relative) {
    const bool follows = last_ == 'C' || last_ == 'S';
    const Vec2 a = kind == 'C' ? place(relative) : follows ? 2.0 * at_ - handle_ : at_;
    const Vec2 b = place(relative), to = place(relative), from = at_;
    handle_ = b;
    if (from == a && b == to) return line_to(to);
    maker_.curve_to(
        [=](double t) {
          const double s = 1 - t;
          return from * (s * s * s) + a * (3 * s * s * t) + b * (3 * s * t * t) + to * (t * t * t);
        },
        first_way(from, a, b, to), -first_way(to, b, a, from), kPartsOfCubic);
    at_ = to;
  }

  void quadratic(char kind, bool relative) {
    const bool follows = last_ == 'Q' || last_ == 'T';
    const Vec2 a = kind == 'Q' ? place(relative) : follows ? 2.0 * at_ - handle_ : at_;
    const Vec2 to = place(relative), from = at_;
    handle_ = a;
    maker_.curve_to(
        [=](double t) {
          const double s = 1 - t;
          return from * (s * s) + a * (2 * s * t) + to * (t * t);
        },
        first_way(from, a, a, to), -first_way(to, a, a, from), kPartsOfQuadratic);
    at_ = to;
  }

  void arc(bool relative) {
    const double rx = number(), ry = number(), turn = number();
    const bool large = flag(), sweep = flag();
    const Vec2 to = place(relative);
    const auto arc = arc_by_ends(at_, to, {rx, ry}, turn, large, sweep);
    if (!arc) return line_to(to);
    maker_.arc_to(*arc, to);
    at_ = to;
  }

  std::string_view whole_;
  std::string_view rest_;
  const std::string& place_;
  PathMaker& maker_;
  Vec2 at_{0, 0};
  Vec2 start_{0, 0};
  Vec2 handle_{0, 0};  ///< the last control point of the last curve
  char last_ = 'M';
};

}  // namespace

std::optional<EllipticArc> arc_by_ends(Vec2 from, Vec2 to, Vec2 radii, double turn_deg, bool large,
                                       bool sweep) {
  double rx = std::abs(radii.x), ry = std::abs(radii.y);
  if (from == to || !(rx > 0) || !(ry > 0)) return {};
  const Affine turn = Affine::turned(std::fmod(turn_deg, 360) * kPi / 180);
  const Vec2 half = (from - to) / 2.0;
  const Vec2 p{glm::dot(turn.x_axis, half), glm::dot(turn.y_axis, half)};
  const double reach = std::hypot(p.x / rx, p.y / ry);
  if (!std::isfinite(reach)) return {};
  // Radii that do not reach are scaled up.
  if (reach > 1) rx *= reach, ry *= reach;
  const Vec2 unit{p.x / rx, p.y / ry};
  const double square = glm::dot(unit, unit);
  if (!(square > 0)) return {};
  const double off = std::sqrt(std::max(0.0, 1 / square - 1)) * (large == sweep ? -1 : 1);
  const Vec2 centre_unit{off * unit.y, -off * unit.x};
  const Vec2 centre = turn.direction({centre_unit.x * rx, centre_unit.y * ry}) + (from + to) / 2.0;
  const Vec2 a = unit - centre_unit, b = -unit - centre_unit;
  double angle = std::atan2(cross(a, b), glm::dot(a, b));
  if (sweep && angle < 0) angle += 2 * kPi;
  if (!sweep && angle > 0) angle -= 2 * kPi;
  return EllipticArc{centre, turn.x_axis * rx, turn.y_axis * ry, std::atan2(a.y, a.x), angle};
}

void draw_path_data(std::string_view data, const std::string& place, PathMaker& maker) {
  DataReader(data, place, maker).draw();
}

}  // namespace haftwright::intake
