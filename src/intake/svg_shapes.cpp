#include "svg_shapes.hpp"

#include <map>
#include <numbers>

#include "svg_path.hpp"
#include "svg_values.hpp"

namespace haftwright::intake {
namespace {

constexpr double kTurn = 2 * std::numbers::pi;

/// One element that is being drawn.
struct Shape {
  const pugi::xml_node& element;
  const Viewport& viewport;
  const std::string& place;
  PathMaker& maker;

  double x(const char* name, double fallback = 0) const {
    return svg_length_of(element, name, viewport.width, fallback, place);
  }
  double y(const char* name, double fallback = 0) const {
    return svg_length_of(element, name, viewport.height, fallback, place);
  }
  double radius(const char* name, double fallback = 0) const {
    const double whole = std::hypot(viewport.width, viewport.height) / std::sqrt(2.0);
    return svg_length_of(element, name, whole, fallback, place);
  }
};

void draw_ellipse(const Shape& shape, double rx, double ry) {
  if (!(rx > 0 && ry > 0)) return;
  const EllipticArc arc{{shape.x("cx"), shape.y("cy")}, {rx, 0}, {0, ry}, 0, kTurn};
  shape.maker.move_to(arc.from());
  shape.maker.arc_to(arc, arc.from());
  shape.maker.close();
}

void circle(const Shape& shape) {
  const double r = shape.radius("r");
  draw_ellipse(shape, r, r);
}

void ellipse(const Shape& shape) {
  draw_ellipse(shape, shape.x("rx", shape.y("ry")), shape.y("ry", shape.x("rx")));
}

void line(const Shape& shape) {
  shape.maker.move_to({shape.x("x1"), shape.y("y1")});
  shape.maker.line_to({shape.x("x2"), shape.y("y2")});
  shape.maker.end();
}

void rect(const Shape& shape) {
  const double x = shape.x("x"), y = shape.y("y"), w = shape.x("width"), h = shape.y("height");
  if (!(w > 0 && h > 0)) return;
  const double rx = std::min(std::max(0.0, shape.x("rx", shape.y("ry"))), w / 2);
  const double ry = std::min(std::max(0.0, shape.y("ry", shape.x("rx"))), h / 2);
  PathMaker& maker = shape.maker;
  const auto corner = [&](Vec2 centre, double turns) {
    if (rx > 0 && ry > 0) {
      const EllipticArc arc{centre, {rx, 0}, {0, ry}, turns * kTurn, kTurn / 4};
      maker.arc_to(arc, arc.to());
    }
  };
  maker.move_to({x + rx, y});
  maker.line_to({x + w - rx, y});
  corner({x + w - rx, y + ry}, 0.75);
  maker.line_to({x + w, y + h - ry});
  corner({x + w - rx, y + h - ry}, 0);
  maker.line_to({x + rx, y + h});
  corner({x + rx, y + h - ry}, 0.25);
  maker.line_to({x, y + ry});
  corner({x + rx, y + ry}, 0.5);
  maker.close();
}

void draw_points(const Shape& shape, bool closed) {
  const auto numbers = number_list(shape.element.attribute("points").value());
  if (!numbers || numbers->size() % 2 != 0)
    throw IntakeError(shape.place, "the points must be pairs of numbers");
  if (numbers->size() < 4) return;
  shape.maker.move_to({(*numbers)[0], (*numbers)[1]});
  for (std::size_t i = 2; i < numbers->size(); i += 2)
    shape.maker.line_to({(*numbers)[i], (*numbers)[i + 1]});
  closed ? shape.maker.close() : shape.maker.end();
}

const std::map<std::string_view, void (*)(const Shape&)> kShapes{
    {"path",
     [](const Shape& shape) {
       draw_path_data(shape.element.attribute("d").value(), shape.place, shape.maker);
     }},
    {"rect", rect},
    {"circle", circle},
    {"ellipse", ellipse},
    {"line", line},
    {"polyline", [](const Shape& shape) { draw_points(shape, false); }},
    {"polygon", [](const Shape& shape) { draw_points(shape, true); }},
};

}  // namespace

double svg_length_of(const pugi::xml_node& element, const char* name, double whole, double fallback,
                     const std::string& place) {
  const pugi::xml_attribute attribute = element.attribute(name);
  if (!attribute || std::string_view(attribute.value()) == "auto") return fallback;
  const auto length = svg_length(attribute.value());
  if (!length)
    throw IntakeError(place, std::string(name) + " is no length with a unit that has a fixed size: \"" +
                                 std::string(attribute.value()).substr(0, 40) + "\"");
  return length->percent ? length->value / 100 * whole : length->value;
}

bool is_shape(std::string_view kind) {
  return kShapes.contains(kind);
}

void draw_shape(std::string_view kind, const pugi::xml_node& element, const Viewport& viewport,
                const std::string& place, PathMaker& maker) {
  kShapes.at(kind)({element, viewport, place, maker});
}

}  // namespace haftwright::intake
