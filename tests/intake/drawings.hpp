// Drawings for the tests of this room, as text.
#pragma once

#include <catch2/catch.hpp>
#include <cstdio>
#include <string>

#include "haftwright/intake/placing.hpp"

namespace haftwright::test {

/// A pair of lines of DXF.
inline std::string tag(int code, const std::string& value) {
  return std::to_string(code) + "\n" + value + "\n";
}
/// Numbers that read back as they were.
inline std::string tag(int code, double value) {
  char text[40];
  std::snprintf(text, sizeof text, "%.17g", value);
  return tag(code, std::string(text));
}
inline std::string tag(int code, int value) {
  return tag(code, std::to_string(value));
}
inline std::string entity(const std::string& type, const std::string& tags, const std::string& layer = "0") {
  return tag(0, type) + tag(8, layer) + tags;
}
inline std::string section(const std::string& name, const std::string& content) {
  return tag(0, "SECTION") + tag(2, name) + content + tag(0, "ENDSEC");
}
/// A drawing in millimetres (INSUNITS 4) of these entities.
inline std::string dxf(const std::string& entities, const std::string& before = "", int unit = 4) {
  return section("HEADER", tag(9, "$INSUNITS") + tag(70, unit)) + before + section("ENTITIES", entities) +
         tag(0, "EOF");
}
inline std::string dxf_line(Vec2 a, Vec2 b, const std::string& layer = "0") {
  return entity("LINE", tag(10, a.x) + tag(20, a.y) + tag(11, b.x) + tag(21, b.y), layer);
}
inline std::string dxf_circle(Vec2 centre, double radius, const std::string& layer = "0",
                              const std::string& more = "") {
  return entity("CIRCLE", tag(10, centre.x) + tag(20, centre.y) + tag(40, radius) + more, layer);
}
inline std::string dxf_polyline(const std::vector<Node>& nodes, bool closed, const std::string& layer = "0",
                                const std::string& more = "") {
  std::string tags = tag(90, static_cast<int>(nodes.size())) + tag(70, closed ? 1 : 0) + more;
  for (const Node& node : nodes) tags += tag(10, node.at.x) + tag(20, node.at.y) + tag(42, node.bulge);
  return entity("LWPOLYLINE", tags, layer);
}

/// An SVG whose unit is the millimetre, 200 by 100.
inline std::string svg(const std::string& content,
                       const std::string& size = R"(width="200mm" height="100mm" viewBox="0 0 200 100")") {
  return R"(<svg xmlns="http://www.w3.org/2000/svg" xmlns:xlink="http://www.w3.org/1999/xlink" )" + size +
         ">" + content + "</svg>";
}
inline std::string svg_path(const std::string& data) {
  return "<path d=\"" + data + "\"/>";
}

inline intake::Loops loops_of(const std::string& text, const intake::ReadOptions& options = {}) {
  return intake::find_loops(intake::read_drawing(text, options), 0.05, options.tolerance_mm);
}
/// The only loop of a drawing.
inline intake::Loop only_loop(const std::string& text, const intake::ReadOptions& options = {}) {
  const intake::Loops loops = loops_of(text, options);
  REQUIRE(loops.spoilt.empty());
  REQUIRE(loops.loops.size() == 1);
  return loops.loops.front();
}

/// The place and the words with which a drawing is refused; empty where it is not.
inline std::string refusal(const std::string& text, const intake::ReadOptions& options = {}) {
  try {
    loops_of(text, options);
  } catch (const intake::IntakeError& error) {
    return error.place() + ": " + error.what();
  }
  return "";
}

}  // namespace haftwright::test
