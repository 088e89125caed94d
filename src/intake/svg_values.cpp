#include "svg_values.hpp"

#include <algorithm>
#include <numbers>

#include "numbers.hpp"

namespace haftwright::intake {
namespace {

constexpr double kDegree = std::numbers::pi / 180;
constexpr std::size_t kMostNumbers = 4'000'000;

void skip_blanks(std::string_view& text) {
  while (!text.empty() && is_blank(text.front())) text.remove_prefix(1);
}

/// In pixels.
std::optional<double> unit_px(std::string_view unit) {
  if (unit.empty() || unit == "px") return 1;
  if (unit == "mm") return 1 / kMmPerPixel;
  if (unit == "cm") return 10 / kMmPerPixel;
  if (unit == "q") return 0.25 / kMmPerPixel;
  if (unit == "in") return 96;
  if (unit == "pt") return 96.0 / 72;
  if (unit == "pc") return 16;
  return {};
}

std::optional<Affine> one_transform(std::string_view name, const std::vector<double>& n) {
  const auto count = [&n](std::size_t least, std::size_t most) {
    return n.size() >= least && n.size() <= most;
  };
  if (name == "matrix" && n.size() == 6) return Affine{{n[0], n[1]}, {n[2], n[3]}, {n[4], n[5]}};
  if (name == "translate" && count(1, 2)) return Affine::shifted({n[0], n.size() > 1 ? n[1] : 0});
  if (name == "scale" && count(1, 2)) return Affine::scaled(n[0], n.back());
  if (name == "rotate" && (n.size() == 1 || n.size() == 3)) {
    const Affine turn = Affine::turned(n[0] * kDegree);
    if (n.size() == 1) return turn;
    return Affine::shifted({n[1], n[2]}).after(turn).after(Affine::shifted({-n[1], -n[2]}));
  }
  if (name == "skewX" && n.size() == 1) return Affine{{1, 0}, {std::tan(n[0] * kDegree), 1}, {0, 0}};
  if (name == "skewY" && n.size() == 1) return Affine{{1, std::tan(n[0] * kDegree)}, {0, 1}, {0, 0}};
  return {};
}

/// Where the lesser of two lengths lies in the greater: at its start, middle or end.
std::optional<double> share_of(std::string_view word) {
  if (word == "Min") return 0;
  if (word == "Mid") return 0.5;
  if (word == "Max") return 1;
  return {};
}

}  // namespace

void skip_separator(std::string_view& text) {
  skip_blanks(text);
  if (!text.starts_with(',')) return;
  text.remove_prefix(1);
  skip_blanks(text);
}

std::optional<std::vector<double>> number_list(std::string_view text) {
  std::vector<double> numbers;
  text = trimmed(text);
  while (!text.empty()) {
    const auto number = take_number(text);
    if (!number || numbers.size() >= kMostNumbers) return {};
    numbers.push_back(*number);
    skip_separator(text);
  }
  return numbers;
}

std::optional<SvgLength> svg_length(std::string_view text) {
  text = trimmed(text);
  const auto number = take_number(text);
  if (!number) return {};
  const std::string unit = lower_case(text);
  if (unit == "%") return SvgLength{*number, true, true};
  const auto px = unit_px(unit);
  if (!px) return {};
  return SvgLength{*number * *px, false, !unit.empty()};
}

std::optional<Affine> svg_transform(std::string_view text) {
  Affine map;
  text = trimmed(text);
  if (text == "none") return map;
  while (!text.empty()) {
    const std::size_t open = text.find('('), end = text.find(')');
    if (open == std::string_view::npos || end == std::string_view::npos || end < open) return {};
    const auto numbers = number_list(text.substr(open + 1, end - open - 1));
    if (!numbers) return {};
    const auto next = one_transform(trimmed(text.substr(0, open)), *numbers);
    if (!next) return {};
    map = map.after(*next);
    text.remove_prefix(end + 1);
    skip_separator(text);
  }
  return map;
}

std::optional<ViewBox> view_box(std::string_view text) {
  const auto n = number_list(text);
  if (!n || n->size() != 4 || !((*n)[2] > 0) || !((*n)[3] > 0)) return {};
  return ViewBox{(*n)[0], (*n)[1], (*n)[2], (*n)[3]};
}

std::optional<Affine> view_map(const ViewBox& box, double width, double height, std::string_view ratio) {
  double sx = width / box.width, sy = height / box.height;
  ratio = trimmed(ratio);
  if (ratio.starts_with("defer")) ratio = trimmed(ratio.substr(5));
  if (ratio.empty()) ratio = "xMidYMid";
  const std::size_t blank = std::min(ratio.find(' '), ratio.size());
  const std::string_view align = ratio.substr(0, blank), how = trimmed(ratio.substr(blank));
  if (align == "none") return Affine{{sx, 0}, {0, sy}, {-box.x * sx, -box.y * sy}};
  if (align.size() != 8 || align[0] != 'x' || align[4] != 'Y') return {};
  const auto x = share_of(align.substr(1, 3)), y = share_of(align.substr(5, 3));
  if (!x || !y || (!how.empty() && how != "meet" && how != "slice")) return {};
  sx = sy = how == "slice" ? std::max(sx, sy) : std::min(sx, sy);
  const Vec2 spare{width - box.width * sx, height - box.height * sy};
  return Affine{{sx, 0}, {0, sy}, {*x * spare.x - box.x * sx, *y * spare.y - box.y * sy}};
}

}  // namespace haftwright::intake
