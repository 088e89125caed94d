#include "looks.hpp"

#include <cmath>
#include <string_view>

namespace haftwright::render {
namespace {

/// What woods have in common. Lengths in mm, the rest shares; see wood.frag.glsl.
struct WoodKind {
  double depth;       // how much darker late wood and streaks are
  glm::dvec4 rings;   // period, contrast, distance of the pith, waviness
  glm::dvec4 pores;   // share of cells, cell, darkness, how much they keep to early wood
  glm::dvec4 figure;  // streak contrast, streak width, sheen, darkening of end grain
};

constexpr WoodKind kFine{0.60, {1.7, 0.34, 42, 0.9}, {0.12, 0.17, 0.25, 0}, {0.10, 3.0, 0.35, 0.55}};
constexpr WoodKind kDiffuse{0.44, {1.6, 0.62, 34, 1.0}, {0.26, 0.24, 0.50, 0.3}, {0.24, 2.6, 0.25, 0.65}};
constexpr WoodKind kRingPorous{0.42, {1.7, 0.55, 38, 0.8}, {0.48, 0.27, 0.62, 1}, {0.08, 3.0, 0.20, 0.65}};
constexpr WoodKind kTropical{0.38, {1.2, 0.50, 44, 0.8}, {0.30, 0.25, 0.50, 0}, {0.34, 1.9, 0.30, 0.55}};
constexpr WoodKind kStreaked{0.26, {1.5, 0.62, 24, 1.7}, {0.16, 0.24, 0.45, 0}, {0.62, 1.5, 0.25, 0.50}};
constexpr WoodKind kBanded{0.16, {1.1, 1.15, 40, 0.5}, {0.30, 0.28, 0.40, 0}, {0.10, 2.0, 0.15, 0.40}};
constexpr WoodKind kBlack{0.50, {1.2, 0.55, 44, 0.6}, {0.14, 0.22, 0.35, 0}, {0.40, 2.0, 0.30, 0.25}};

constexpr struct {
  std::string_view key;
  const WoodKind& kind;
} kWoods[] = {
    {"american_beech", kFine},
    {"american_holly", kFine},
    {"apple", kFine},
    {"bigleaf_maple", kFine},
    {"black_maple", kFine},
    {"degame", kFine},
    {"european_boxwood", kFine},
    {"european_hornbeam", kFine},
    {"ironwood", kFine},
    {"paper_birch", kFine},
    {"pear", kFine},
    {"persimmon", kFine},
    {"red_maple", kFine},
    {"silver_maple", kFine},
    {"sugar_maple", kFine},
    {"sweet_birch", kFine},
    {"yellow_birch", kFine},
    {"black_ash", kRingPorous},
    {"black_locust", kRingPorous},
    {"honeylocust", kRingPorous},
    {"live_oak", kRingPorous},
    {"mockernut_hickory", kRingPorous},
    {"northern_red_oak", kRingPorous},
    {"osage_orange", kRingPorous},
    {"pecan_hickory", kRingPorous},
    {"pignut_hickory", kRingPorous},
    {"rock_elm", kRingPorous},
    {"shagbark_hickory", kRingPorous},
    {"teak", kRingPorous},
    {"white_ash", kRingPorous},
    {"white_oak", kRingPorous},
    {"african_mahogany", kTropical},
    {"african_padauk", kTropical},
    {"azobe", kTropical},
    {"bubinga", kTropical},
    {"greenheart", kTropical},
    {"honey_mesquite", kTropical},
    {"ipe", kTropical},
    {"iroko", kTropical},
    {"jatoba", kTropical},
    {"purpleheart", kTropical},
    {"sapele", kTropical},
    {"sucupira", kTropical},
    {"brazilian_rosewood", kStreaked},
    {"cocobolo", kStreaked},
    {"goncalo_alves", kStreaked},
    {"indian_rosewood", kStreaked},
    {"lignum_vitae", kStreaked},
    {"macawood", kStreaked},
    {"olive", kStreaked},
    {"wenge", kBanded},
    {"gaboon_ebony", kBlack},
};

const WoodKind& wood_kind(std::string_view key) {
  for (const auto& row : kWoods)
    if (row.key == key) return row.kind;
  return kDiffuse;
}

/// Bone, horn and antler: no rings, faint streaks along the fibre.
constexpr WoodKind kNatural{0.50, {9.0, 0.05, 200, 2.0}, {0.05, 0.30, 0.30, 0}, {0.45, 2.6, 0.35, 0.30}};

Look wooden(Vec3 base, const WoodKind& kind) {
  Look look{.surface = Surface::wood, .rings = kind.rings, .pores = kind.pores, .figure = kind.figure};
  // Darker parts are deeper in colour too.
  look.pale = base * 1.18;
  look.dark = glm::pow(base, Vec3(1.15)) * kind.depth;
  return look;
}

/// Laminates by what their name says they are layers of.
Look layered(Vec3 base, const Body& body) {
  const auto named = [&](std::string_view word) { return body.material.find(word) != std::string::npos; };
  Look look{.surface = Surface::layered, .pale = base * 1.35, .dark = base * 0.62};
  if (named("canvas"))
    look.grain = {0.55, 0.85, 0.75, 0.45};
  else if (named("linen"))
    look.grain = {0.34, 0.75, 0.42, 0.42};
  else if (named("carbon"))
    look.grain = {0.30, 1.0, 1.10, 0.18};
  else if (body.material_kind == MaterialKind::laminate)
    look.grain = {0.24, 0.55, 0.45, 0.25};
  else
    look.grain = {0.18, 0.18, 0, 0.55};  // paper and fibre sheet
  return look;
}

Look metallic(Vec3 base, const Body& body) {
  // A polished metal mirrors much more light than the colour its picture has on a page.
  const Vec3 mirror = glm::min(glm::pow(base, Vec3(0.62)) * 1.15, Vec3(0.98));
  const glm::dvec4 brush = body.id.kind == BodyKind::pin    ? glm::dvec4{0.07, 0.07, 0.18, 1}
                           : body.id.kind == BodyKind::tang ? glm::dvec4{0.16, 0.12, 0.26, 0}
                                                            : glm::dvec4{0.07, 0.07, 0.18, 0};
  return {.surface = Surface::metal, .pale = mirror, .grain = brush};
}

}  // namespace

Vec3 linear(const Colour& colour) {
  const auto decode = [](float coded) {
    const double c = coded;
    return c <= 0.04045 ? c / 12.92 : std::pow((c + 0.055) / 1.055, 2.4);
  };
  return {decode(colour.red), decode(colour.green), decode(colour.blue)};
}

Look look_of(const Body& body) {
  return look_of(body, linear(body.colour));
}

Look look_of(const Body& body, Vec3 base) {
  switch (body.material_kind) {
    case MaterialKind::wood:
      return wooden(base, wood_kind(body.material));
    case MaterialKind::natural:
      return wooden(base, body.material == "stabilised_wood" ? kDiffuse : kNatural);
    case MaterialKind::laminate:
    case MaterialKind::sheet:
      return layered(base, body);
    case MaterialKind::metal:
      return metallic(base, body);
    case MaterialKind::plastic:
      return {.surface = Surface::plain, .pale = base};
  }
  return {};
}

}  // namespace haftwright::render
