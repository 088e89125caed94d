// A design drawn without a display, and pictures read back.
#pragma once

#include <algorithm>
#include <catch2/catch.hpp>
#include <cmath>
#include <map>

#include "haftwright/design/starters.hpp"
#include "haftwright/handle/lay_out.hpp"
#include "haftwright/render/offscreen.hpp"

namespace haftwright::test {

constexpr PictureSize kSize{640, 400};
using Rgb = std::array<std::uint8_t, 3>;

struct Pixels {
  int count = 0;
  Vec2 low{1e9, 1e9};
  Vec2 high{-1, -1};
  void add(int x, int y) {
    ++count;
    low = glm::min(low, Vec2{x, y});
    high = glm::max(high, Vec2{x + 1, y + 1});
  }
};

inline Rgb colour_at(const Picture& picture, int x, int y) {
  const auto pixel = picture.at(x, y);
  return {pixel[0], pixel[1], pixel[2]};
}

/// Where each body of the preview is in a picture of flat colours; nothing but their colours is in it.
inline std::vector<Pixels> find_bodies(const Picture& picture, std::size_t bodies) {
  std::map<Rgb, std::size_t> index;
  for (std::size_t i = 0; i < bodies; ++i) index[flat_id_colour(i)] = i;
  REQUIRE(index.size() == bodies);
  std::vector<Pixels> found(bodies);
  for (int y = 0; y < picture.height; ++y)
    for (int x = 0; x < picture.width; ++x) {
      if (picture.at(x, y)[3] == 0) continue;
      const auto body = index.find(colour_at(picture, x, y));
      REQUIRE(body != index.end());
      found[body->second].add(x, y);
    }
  return found;
}

inline Pixels all_of(const std::vector<Pixels>& bodies) {
  Pixels all;
  for (const Pixels& pixels : bodies) {
    all.count += pixels.count;
    all.low = glm::min(all.low, pixels.low);
    all.high = glm::max(all.high, pixels.high);
  }
  return all;
}

struct Scene {
  explicit Scene(Design made)
      : design(std::move(made)), handle(lay_out(design)), preview(build_preview(design, handle)) {
    view.set_preview(preview, pair_joint_lines(handle));
  }
  Camera camera(StandardView which, double exploded = 0, bool perspective = false) const {
    Camera made = standard_camera(which, perspective);
    fit(made, preview, exploded, kSize);
    return made;
  }
  Picture draw(const Camera& from, const SceneOptions& options) {
    view.draw(from, options, kSize);
    return view.read();
  }
  Design design;
  Handle handle;
  Preview preview;
  OffscreenContext context;
  SceneView view;
};

inline SceneOptions flat() {
  return {.mode = SceneMode::flat_ids, .backdrop = Backdrop::clear};
}

/// Two woods, a brass strip, a liner and three pins a side.
inline Design sample() {
  Design design = starter_design(starter_outline(StraightTang{}), 4, LengthUnit::millimetre);
  design.left.pieces[0].material = "gaboon_ebony";
  design.left.pieces[1].material = "sugar_maple";
  design.left.joints[0] = {.place_mm = 42, .spacers = {{"brass_c36000", 1.5}}};
  design.left.liners = {{"vulcanized_fibre", 1}};
  return design;
}

inline double pixels_per_mm(const Camera& camera) {
  return kSize.height / camera.height_mm;
}

inline int count_near(const Picture& picture, Rgb wanted, int tolerance) {
  int count = 0;
  for (int y = 0; y < picture.height; ++y)
    for (int x = 0; x < picture.width; ++x) {
      const Rgb here = colour_at(picture, x, y);
      bool near = picture.at(x, y)[3] == 255;
      for (std::size_t k = 0; k < 3; ++k) near = near && std::abs(here[k] - wanted[k]) <= tolerance;
      count += near;
    }
  return count;
}

/// Mean colour of the pixels that a body has in the picture of flat colours.
inline Vec3 mean_colour(const Picture& picture, const Picture& ids, std::size_t body) {
  Vec3 sum{0, 0, 0};
  int count = 0;
  for (int y = 0; y < picture.height; ++y)
    for (int x = 0; x < picture.width; ++x) {
      if (ids.at(x, y)[3] == 0 || colour_at(ids, x, y) != flat_id_colour(body)) continue;
      const Rgb here = colour_at(picture, x, y);
      sum += Vec3(here[0], here[1], here[2]);
      ++count;
    }
  REQUIRE(count > 0);
  return sum / static_cast<double>(count);
}

inline std::size_t index_of(const Preview& preview, const BodyId& id) {
  const Body* body = preview.find(id);
  REQUIRE(body);
  return static_cast<std::size_t>(body - preview.bodies.data());
}

}  // namespace haftwright::test
