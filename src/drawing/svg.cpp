#include "haftwright/drawing/svg.hpp"

#include <algorithm>
#include <charconv>
#include <cmath>
#include <numbers>
#include <stdexcept>

#include "haftwright/drawing/dimension_lines.hpp"
#include "svg_looks.hpp"

namespace haftwright {
namespace {

std::string number(double value) {
  char text[32];
  const auto end = std::to_chars(text, text + sizeof text, value + 0.0);  // no "-0"
  return {text, end.ptr};
}

std::string escaped(const std::string& words) {
  std::string text;
  for (const char c : words) {
    if (c == '&')
      text += "&amp;";
    else if (c == '<')
      text += "&lt;";
    else if (c == '>')
      text += "&gt;";
    else if (c == '"')
      text += "&quot;";
    else if (static_cast<unsigned char>(c) < 0x20)
      text += ' ';  // XML has no place for control characters
    else
      text += c;
  }
  return text;
}

/// y runs down on the page.
class Writer {
 public:
  Writer(const Bounds& bounds, double margin_mm)
      : origin_{bounds.low.x - margin_mm, bounds.high.y + margin_mm}, size_(bounds.size() + 2 * margin_mm) {}

  std::string write(const Drawing& drawing, const std::string& title) {
    text_ +=
        "<?xml version=\"1.0\" encoding=\"UTF-8\"?>\n<svg xmlns=\"http://www.w3.org/2000/svg\" "
        "version=\"1.1\"" +
        attribute("width", number(size_.x) + "mm") + attribute("height", number(size_.y) + "mm") +
        attribute("viewBox", "0 0 " + number(size_.x) + " " + number(size_.y)) + ">\n";
    if (!title.empty()) text_ += "<title>" + escaped(title) + "</title>\n";
    style(drawing);
    for (const Item& item : drawing.items) {
      item_ = attribute("class", std::string(key_of(item.role))) +
              (item.tag ? attribute("data-tag", std::to_string(*item.tag)) : "");
      std::visit([&](const auto& shape) { add(shape); }, item.shape);
    }
    return text_ + "</svg>\n";
  }

 private:
  static std::string attribute(const char* name, const std::string& value) {
    return std::string(" ") + name + "=\"" + value + "\"";
  }
  double x(Vec2 p) const { return p.x - origin_.x; }
  double y(Vec2 p) const { return origin_.y - p.y; }
  std::string point(Vec2 p) const { return number(x(p)) + " " + number(y(p)); }

  /// The roles that there are. Texts and arrows take the colour of their role.
  void style(const Drawing& drawing) {
    text_ +=
        "<style>\n*{fill:none}text{fill:currentColor;stroke:none;font-family:sans-serif}"
        ".arrow{fill:currentColor;stroke:none}\n";
    std::vector<Role> roles;
    for (const Item& item : drawing.items) roles.push_back(item.role);
    std::sort(roles.begin(), roles.end());
    roles.erase(std::unique(roles.begin(), roles.end()), roles.end());
    for (const Role role : roles)
      text_ += "." + std::string(key_of(role)) + "{" + std::string(drawing::style_of(role)) + "}\n";
    text_ += "</style>\n";
  }

  std::string path(const std::vector<Node>& nodes, bool closed) const {
    const std::vector<Edge> edges = closed ? edges_of(nodes) : edges_of(Stroke{nodes, false});
    if (edges.empty()) return "";
    std::string text = "M" + point(edges.front().from);
    for (const Edge& edge : edges) {
      if (edge.is_arc()) {
        const std::string radius = number(edge.radius);
        text += "A" + radius + " " + radius + " 0 " + (std::abs(edge.bulge) > 1 ? "1 " : "0 ") +
                (edge.bulge > 0 ? "0 " : "1 ") + point(edge.to);
      } else {
        text += "L" + point(edge.to);
      }
    }
    return closed ? text + "Z" : text;
  }

  void add(const Stroke& stroke) {
    text_ += "<path" + item_ + attribute("d", path(stroke.nodes, stroke.closed)) + "/>\n";
  }

  void add(const Circle& circle) {
    text_ += "<circle" + item_ + attribute("cx", number(x(circle.centre))) +
             attribute("cy", number(y(circle.centre))) +
             attribute("r", number(circle.radius.in_mm(kMmPerPoint))) + "/>\n";
  }

  void add(const Fill& fill) {
    std::string loops;
    for (const std::vector<Node>& loop : fill.loops) loops += path(loop, true);
    text_ += "<path" + item_ + attribute("fill-rule", "evenodd");
    if (fill.natural) {
      std::string colour = "fill:rgb(";
      for (std::size_t i = 0; i < 3; ++i)
        colour += (i > 0 ? "," : "") +
                  std::to_string(std::lround(255 * std::clamp((*fill.natural)[i], 0.0F, 1.0F)));
      text_ += attribute("style", colour + ")");
    }
    text_ += attribute("d", loops) + "/>\n";
  }

  /// Evenly filled, with its middle as a line.
  void add(const Band& band) {
    const auto& [a, b] = band;
    text_ += "<path" + item_ +
             attribute("d", path({{a[0], 0}, {a[2], 0}, {b[2], 0}, {b[0], 0}}, true) +
                                path({{a[1], 0}, {b[1], 0}}, false)) +
             "/>\n";
  }

  void add(const Text& text) { add_text(text, item_); }

  void add_text(const Text& text, const std::string& attributes) {
    const Vec2 at = text.at + text.shift_points * kMmPerPoint;
    static constexpr const char* kAnchors[] = {"start", "middle", "end"};
    // From the middle of a line's height to the base of its letters: from memory of common sans serif faces.
    static constexpr double kBaseline[] = {-0.2, 0.3, 0.8};
    const double height = text.height.in_mm(kMmPerPoint);
    text_ += "<text" + attributes + attribute("x", number(x(at))) + attribute("y", number(y(at))) +
             attribute("font-size", number(height)) +
             attribute("dy", number(kBaseline[static_cast<std::size_t>(text.across)] * height)) +
             attribute("text-anchor", kAnchors[static_cast<std::size_t>(text.along)]);
    if (text.turn_rad != 0)
      text_ += attribute("transform",
                         "rotate(" + number(-text.turn_rad * 180 / std::numbers::pi) + " " + point(at) + ")");
    text_ += ">" + escaped(text.words) + "</text>\n";
  }

  void add(const Dimension& dimension) {
    const DimensionLines lines = dimension_lines(dimension, kMmPerPoint);
    text_ += "<g" + item_ + ">\n";
    item_.clear();
    for (const auto& [a, b] : lines.lines) add(straight(a, b));
    for (const auto& arrow : lines.arrows)
      text_ += "<polygon" + attribute("class", "arrow") +
               attribute("points", point(arrow[0]) + " " + point(arrow[1]) + " " + point(arrow[2])) + "/>\n";
    if (lines.ring) add(*lines.ring);
    if (lines.text) add_text(*lines.text, "");
    text_ += "</g>\n";
  }

  Vec2 origin_;  ///< the page's upper left corner in the drawing
  Vec2 size_;
  std::string text_;
  std::string item_;  ///< attributes of the item that is written now
};

}  // namespace

std::string to_svg(const Drawing& drawing, const SvgPage& page) {
  if (!(page.margin_mm >= 0 && std::isfinite(page.margin_mm)))
    throw std::invalid_argument("a page's margin can't be negative");
  const std::optional<Bounds> bounds = bounds_of(drawing, kMmPerPoint);
  if (!bounds) throw std::invalid_argument("there is nothing in the drawing");
  return Writer(*bounds, page.margin_mm).write(drawing, page.title);
}

}  // namespace haftwright
