// Writes drawings as SVG and, beside each, where its items really are, for read_back.py: FOLDER/NAME.svg and
// FOLDER/NAME.json. The places are worked out here from centres and angles, not by the writer's own code.
#include <cmath>
#include <filesystem>
#include <fstream>
#include <iostream>
#include <nlohmann/json.hpp>

#include "drawing/random_drawing.hpp"
#include "haftwright/drawing/dimension_lines.hpp"
#include "haftwright/drawing/svg.hpp"
#include "haftwright/files/project_file.hpp"
#include "haftwright/handle/lay_out.hpp"
#include "haftwright/preview/fold.hpp"
#include "haftwright/preview/guide_plan.hpp"
#include "haftwright/preview/reading_sketch.hpp"
#include "haftwright/preview/starter_drawing.hpp"

using namespace haftwright;
using Json = nlohmann::json;

namespace {

constexpr double kMargin = 7;

/// Page coordinates: from the upper left corner, y down.
class Places {
 public:
  explicit Places(const Drawing& drawing) : box_(bounds_of(drawing, kMmPerPoint).value()) {}

  Json of(const Drawing& drawing) const {
    Json items = Json::array();
    for (const Item& item : drawing.items) {
      Json json = std::visit([&](const auto& shape) { return of_shape(shape); }, item.shape);
      json["class"] = key_of(item.role);
      json["tag"] = item.tag ? Json(std::to_string(*item.tag)) : Json(nullptr);
      items.push_back(json);
    }
    const Vec2 size = box_.size() + 2 * kMargin;
    return {{"page", {size.x, size.y}}, {"items", items}};
  }

 private:
  Json at(Vec2 p) const { return {p.x - box_.low.x + kMargin, box_.high.y + kMargin - p.y}; }

  /// Quarter by quarter along each edge.
  Json along(const std::vector<Edge>& edges) const {
    Json all = Json::array();
    for (const Edge& edge : edges) {
      Json places = Json::array();
      for (int i = 0; i <= 4; ++i) {
        const double t = i / 4.0;
        const Vec2 spoke = edge.from - edge.centre;
        const double angle = std::atan2(spoke.y, spoke.x) + edge.sweep * t;
        places.push_back(at(edge.is_arc() ? edge.centre + Vec2{std::cos(angle), std::sin(angle)} * edge.radius
                                          : edge.from * (1 - t) + edge.to * t));
      }
      all.push_back(places);
    }
    return all;
  }

  Json of_shape(const Stroke& stroke) const {
    return {{"kind", "path"}, {"loops", {along(edges_of(stroke))}}, {"closed", {stroke.closed}}};
  }
  Json of_shape(const Fill& fill) const {
    Json loops = Json::array();
    Json closed = Json::array();
    for (const auto& loop : fill.loops) {
      loops.push_back(along(edges_of(loop)));
      closed.push_back(true);
    }
    return {{"kind", "path"}, {"loops", loops}, {"closed", closed}};
  }
  Json of_shape(const Band& band) const {
    const auto edge = [](Vec2 a, Vec2 b) { return Edge(a, b, 0); };
    return {{"kind", "path"},
            {"loops",
             {along({edge(band.from[0], band.from[2]), edge(band.from[2], band.to[2]),
                     edge(band.to[2], band.to[0]), edge(band.to[0], band.from[0])}),
              along({edge(band.from[1], band.to[1])})}},
            {"closed", {true, false}}};
  }
  Json of_shape(const Circle& circle) const {
    return {{"kind", "circle"},
            {"at", at(circle.centre)},
            {"r", circle.radius.mm + circle.radius.points * 25.4 / 72}};
  }
  Json of_shape(const Text& text) const {
    constexpr const char* kAnchors[] = {"start", "middle", "end"};
    return {{"kind", "text"},
            {"words", text.words},
            {"at", at(text.at + text.shift_points * (25.4 / 72))},
            {"height", text.height.mm + text.height.points * 25.4 / 72},
            {"turn_deg", text.turn_rad * 180 / std::numbers::pi},
            {"anchor", kAnchors[static_cast<std::size_t>(text.along)]}};
  }
  Json of_shape(const Dimension& dimension) const {
    const DimensionLines lines = dimension_lines(dimension, 25.4 / 72);
    Json strokes = Json::array();
    Json arrows = Json::array();
    for (const auto& [a, b] : lines.lines)
      if (a != b) strokes.push_back({at(a), at(b)});
    for (const auto& [a, b, c] : lines.arrows) arrows.push_back({at(a), at(b), at(c)});
    return {{"kind", "dimension"},
            {"lines", strokes},
            {"arrows", arrows},
            {"text", lines.text ? of_shape(*lines.text) : Json(nullptr)}};
  }

  Bounds box_;
};

void write(const std::filesystem::path& folder, const std::string& name, const Drawing& drawing) {
  std::ofstream svg(folder / (name + ".svg"));
  svg << to_svg(drawing, {.margin_mm = kMargin, .title = name + " & <more>"});
  std::ofstream json(folder / (name + ".json"));
  json << Places(drawing).of(drawing).dump();
  if (!svg || !json) throw std::runtime_error(name + " can't be written");
}

void write_project(const std::filesystem::path& folder, const std::filesystem::path& file) {
  const Design design = read_project(file);
  const Handle handle = lay_out(design);
  const std::string name = file.stem().string();
  for (const FoldAbout about : {FoldAbout::spine, FoldAbout::belly})
    write(folder, name + (about == FoldAbout::spine ? "_spine" : "_belly"),
          draw_fold(design, handle, {.about = about}).drawing);
  write(folder, name + "_guide", draw_guide_plan(lay_out_guide(design, handle), handle).drawing);
  CaliperReading reading;
  for (const Which side : {Which::left, Which::right})
    write(folder, name + (side == Which::left ? "_left" : "_right"),
          draw_reading_sketch(design, handle, side, reading));
}

}  // namespace

/// FOLDER PROJECT...
int main(int count, char** arguments) try {
  const std::filesystem::path folder = arguments[1];
  for (int i = 2; i < count; ++i) write_project(folder, arguments[i]);
  for (std::uint64_t seed = 1; seed <= 60; ++seed)
    write(folder, "random_" + std::to_string(seed), test::random_drawing(seed, 15));
  write(folder, "straight", draw_starter(StraightTang{}, LengthUnit::millimetre));
  write(folder, "bowed", draw_starter(BowedTang{}, LengthUnit::inch_fraction));
  return 0;
} catch (const std::exception& error) {
  std::cerr << error.what() << "\n";
  return 1;
}
