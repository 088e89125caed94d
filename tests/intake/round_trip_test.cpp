// Random outlines of lines and arcs, written as drawings in every way there is and read back equal.
#include <algorithm>
#include <cmath>

#include "drawings.hpp"
#include "geometry/shapes.hpp"
#include "haftwright/drawing/svg.hpp"
#include "support/random.hpp"
#include "support/seeds.hpp"

using namespace haftwright;
using namespace haftwright::test;

namespace {

std::optional<Outline> drawn_outline(Random& random) {
  const std::vector<Node> chain = random.chance(0.5) ? random_star(random) : random_handle(random);
  if (find_fault(chain)) return {};
  Outline outline(chain);
  // What the reader takes for a gap or one place must be none.
  for (const Edge& edge : outline.edges())
    if (edge.length() < 0.3 || std::abs(edge.bulge) > 1) return {};
  return outline;
}

std::string number(double value) {
  char text[40];
  std::snprintf(text, sizeof text, "%.17g", value);
  return text;
}

/// Each edge by itself, in any order and direction, arcs as ARC.
std::string as_edges(const Outline& outline, Random& random) {
  std::vector<std::string> edges;
  for (const Edge& edge : outline.edges()) {
    const auto angle = [&edge](Vec2 p) {
      return std::atan2(p.y - edge.centre.y, p.x - edge.centre.x) * 180 / std::numbers::pi;
    };
    if (!edge.is_arc()) {
      edges.push_back(random.chance(0.5) ? dxf_line(edge.from, edge.to) : dxf_line(edge.to, edge.from));
      continue;
    }
    const bool left = edge.bulge > 0;
    edges.push_back(entity("ARC", tag(10, edge.centre.x) + tag(20, edge.centre.y) + tag(40, edge.radius) +
                                      tag(50, angle(left ? edge.from : edge.to)) +
                                      tag(51, angle(left ? edge.to : edge.from))));
  }
  for (std::size_t i = edges.size(); i > 1; --i) std::swap(edges[i - 1], edges[random.index(i)]);
  std::string all;
  for (const std::string& edge : edges) all += edge;
  return dxf(all);
}

std::string as_svg_path(const Outline& outline) {
  std::string data = "M" + number(outline.nodes()[0].at.x) + "," + number(-outline.nodes()[0].at.y);
  for (const Edge& edge : outline.edges()) {
    const Vec2 by = edge.to - edge.from;
    if (edge.is_arc())
      data += "a" + number(edge.radius) + " " + number(edge.radius) + " 0 0" + (edge.bulge > 0 ? "0" : "1") +
              number(by.x) + "," + number(-by.y);
    else
      data += "l" + number(by.x) + " " + number(-by.y);
  }
  return svg(svg_path(data + "z"));
}

/// The same outline, wherever its chain begins.
void check_equal(const Outline& read, const Outline& written, Vec2 shift = {0, 0}) {
  REQUIRE(read.nodes().size() == written.nodes().size());
  const auto& nodes = read.nodes();
  const Vec2 first = written.nodes()[0].at + shift;
  const auto nearest = std::min_element(nodes.begin(), nodes.end(), [first](const Node& a, const Node& b) {
    return glm::distance(a.at, first) < glm::distance(b.at, first);
  });
  const auto begin = static_cast<std::size_t>(nearest - nodes.begin());
  for (std::size_t i = 0; i < nodes.size(); ++i) {
    const Node& node = nodes[(begin + i) % nodes.size()];
    REQUIRE(glm::distance(node.at, written.nodes()[i].at + shift) < 1e-6);
    REQUIRE(std::abs(node.bulge - written.nodes()[i].bulge) < 1e-6);
  }
}

}  // namespace

TEST_CASE("random outlines come back equal from DXF and SVG") {
  const Seeds seeds = seeds_to_try("HAFTWRIGHT_OUTLINES", {40, 400, 20'000}, 1);
  std::size_t tried = 0;
  for (std::uint64_t seed = seeds.first; seed < seeds.first + seeds.count; ++seed) {
    Random random(seed);
    const auto outline = drawn_outline(random);
    if (!outline) continue;
    ++tried;
    INFO("seed " << seed);
    std::vector<Node> turned(outline->nodes().rbegin(), outline->nodes().rend());
    for (std::size_t i = 0; i < turned.size(); ++i)
      turned[i].bulge = -outline->nodes()[(2 * turned.size() - 2 - i) % turned.size()].bulge;
    check_equal(only_loop(dxf(dxf_polyline(outline->nodes(), true))).outline, *outline);
    check_equal(only_loop(dxf(dxf_polyline(turned, true))).outline, *outline);
    check_equal(only_loop(as_edges(*outline, random)).outline, *outline);
    check_equal(only_loop(as_svg_path(*outline)).outline, *outline);
  }
  CHECK(tried * 4 > seeds.count);
}

TEST_CASE("drawings of our own are read back, arcs as arcs") {
  const Seeds seeds = seeds_to_try("HAFTWRIGHT_OUTLINES", {20, 200, 5'000}, 1);
  for (std::uint64_t seed = seeds.first; seed < seeds.first + seeds.count; ++seed) {
    Random random(seed);
    const auto outline = drawn_outline(random);
    if (!outline) continue;
    INFO("seed " << seed);
    Drawing drawing;
    drawing.add(Role::visible_edge, outline_stroke(*outline));
    const double margin = 5;
    const Vec2 corner{outline->bounds().low.x - margin, outline->bounds().high.y + margin};
    check_equal(only_loop(to_svg(drawing, {margin, "a <title>"})).outline, *outline, -corner);
  }
}
