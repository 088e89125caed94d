// The little numerical analysis this room needs: fixed quadrature rules and a bracketing root finder.
#pragma once

#include <algorithm>
#include <array>
#include <cmath>
#include <limits>

namespace haftwright::layout {

/// A node of a quadrature rule on [0, 1]; the weights of a rule sum to 1.
struct QuadratureNode {
  double at;
  double weight;
};

// Gauss-Legendre rules (Abramowitz and Stegun, Handbook of Mathematical Functions, table 25.4).
inline constexpr std::array<QuadratureNode, 2> kGauss2{
    {{0.5 - 0.2886751345948129, 0.5}, {0.5 + 0.2886751345948129, 0.5}}};
inline constexpr std::array<QuadratureNode, 3> kGauss3{
    {{0.5 - 0.3872983346207417, 5.0 / 18}, {0.5, 8.0 / 18}, {0.5 + 0.3872983346207417, 5.0 / 18}}};
inline constexpr std::array<QuadratureNode, 5> kGauss5{{{0.5 - 0.4530899229693320, 0.1184634425280945},
                                                        {0.5 - 0.2692346550528415, 0.2393143352496832},
                                                        {0.5, 0.2844444444444444},
                                                        {0.5 + 0.2692346550528415, 0.2393143352496832},
                                                        {0.5 + 0.4530899229693320, 0.1184634425280945}}};

/// Integral of f over [from, to].
template <std::size_t N, class F>
double integrate(const std::array<QuadratureNode, N>& rule, double from, double to, F&& f) {
  double sum = 0;
  for (const QuadratureNode& node : rule) sum += node.weight * f(from + node.at * (to - from));
  return sum * (to - from);
}

/// As integrate, for an f that behaves like the square root of the distance from `from` near that end.
template <std::size_t N, class F>
double integrate_from_root(const std::array<QuadratureNode, N>& rule, double from, double to, F&& f) {
  double sum = 0;
  for (const QuadratureNode& node : rule)
    sum += 2 * node.at * node.weight * f(from + node.at * node.at * (to - from));
  return sum * (to - from);
}

/// Weight of node i of the composite Simpson rule with `intervals` (even) intervals of width 1.
inline double simpson_weight(std::size_t i, std::size_t intervals) {
  if (i == 0 || i == intervals) return 1.0 / 3;
  return i % 2 == 1 ? 4.0 / 3 : 2.0 / 3;
}

/// Zero of f between a and b, where fa = f(a) and fb = f(b) have opposite signs: inverse quadratic steps
/// where they are safe, else bisection (T. R. Chandrupatla, Advances in Engineering Software 28 (1997)
/// 145-149).
template <class F>
double find_zero(F&& f, double a, double fa, double b, double fb, double tolerance) {
  double c = a;
  double fc = fa;
  double t = 0.5;
  for (int step = 0; step < 100; ++step) {
    const double x = a + t * (b - a);
    const double fx = f(x);
    if ((fx < 0) == (fa < 0)) {
      c = a, fc = fa;
    } else {
      c = b, fc = fb;
      b = a, fb = fa;
    }
    a = x, fa = fx;
    const double best = std::abs(fb) < std::abs(fa) ? b : a;
    const double reach = 2 * std::numeric_limits<double>::epsilon() * std::abs(best) + tolerance;
    const double least = reach / std::abs(b - a);
    if (least > 0.5 || fa == 0) return best;
    const double xi = (a - b) / (c - b);
    const double phi = (fa - fb) / (fc - fb);
    t = 0.5;
    if (phi * phi < xi && (1 - phi) * (1 - phi) < 1 - xi)
      t = fa / (fb - fa) * fc / (fb - fc) + (c - a) / (b - a) * fa / (fc - fa) * fb / (fc - fb);
    t = std::clamp(t, least, 1 - least);
  }
  return std::abs(fb) < std::abs(fa) ? b : a;
}

/// Where between a and b an f with one least value has it, by golden section, which also bears an f that is
/// infinite toward one end. 48 steps narrow it to 1e-10 of b - a, 24 to 1e-5.
template <class F>
double least_between(double a, double b, F&& f, int steps = 48) {
  constexpr double kGolden = 0.6180339887498949;
  double left = b - kGolden * (b - a);
  double right = a + kGolden * (b - a);
  double f_left = f(left);
  double f_right = f(right);
  for (int step = 0; step < steps; ++step) {
    if (f_left < f_right) {
      b = right, right = left, f_right = f_left;
      f_left = f(left = b - kGolden * (b - a));
    } else {
      a = left, left = right, f_left = f_right;
      f_right = f(right = a + kGolden * (b - a));
    }
  }
  return f_left < f_right ? left : right;
}

}  // namespace haftwright::layout
