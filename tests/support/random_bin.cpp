#include "random_bin.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>

#include "haftwright/offcuts/bin_checks.hpp"

namespace haftwright::test {
namespace {

constexpr std::string_view kWoods[] = {"black_walnut", "olive", "sugar_maple", "driftwood"};
constexpr std::string_view kNames[] = {"Thwart end", "Planche d'écailler", "板切れ", "back\\slash \"x\"", ""};
constexpr std::string_view kPlaces[] = {"box 3", "shelf above the bench", ""};
constexpr std::string_view kProjects[] = {"shucking knife", "marking knife", "Åls"};
constexpr std::string_view kPieces[] = {"left front", "left rear", "right front", "right rear"};

std::vector<Node> star(Random& random, double size_mm) {
  std::vector<Node> chain;
  const std::size_t count = random.count(5, 14);
  for (std::size_t i = 0; i < count; ++i) {
    const double turn =
        2 * std::numbers::pi * (static_cast<double>(i) + random.between(0, 0.7)) / static_cast<double>(count);
    const double radius = size_mm / 2 * random.between(0.6, 1);
    chain.push_back({radius * Vec2{std::cos(turn), 0.6 * std::sin(turn)},
                     random.chance(0.2) ? random.between(-0.3, 0.3) : 0});
  }
  return chain;
}

std::vector<Node> wedge(Random& random, double size_mm) {
  const double width = size_mm * random.between(0.2, 0.5);
  return {{{0, 0}},
          {{size_mm, random.between(0, width / 3)}, random.chance(0.3) ? 0.2 : 0},
          {{size_mm * 0.9, width}},
          {{random.between(0, 5), width * 0.9}}};
}

std::vector<Node> circle(Vec2 middle, double radius) {
  return {{middle - Vec2{radius, 0}, 1}, {middle + Vec2{radius, 0}, 1}};
}

/// A point on the outline or inside of it, so that what stands about it reaches in.
Vec2 place_on(Random& random, const Outline& outline) {
  const Vec2 corner = outline.nodes()[random.index(outline.nodes().size())].at;
  const Vec2 inside = corner + random.between(0, 1) * (outline.moments().centroid - corner);
  return outline.contains(inside) ? inside : corner;
}

Defect random_defect(Random& random, const Outline& outline) {
  Defect defect;
  defect.kind = static_cast<DefectKind>(random.index(5));
  const Vec2 at = place_on(random, outline);
  const double size = random.between(2, 15);
  if (random.chance(0.6))
    defect.outline = circle(at, size / 2);
  else
    defect.outline = {
        {at - Vec2{size, 1}}, {at + Vec2{size, -1}}, {at + Vec2{size, 2}}, {at + Vec2{-size, 1}}};
  if (random.chance(0.3)) defect.note = "sound behind it\nor so it looks";
  return defect;
}

OffcutPhoto random_photo(Random& random, const Bounds& bounds, Face face, const std::string& file) {
  OffcutPhoto photo;
  photo.file = file;
  photo.face = face;
  const Vec2 low = bounds.low, high = bounds.high;
  if (random.chance(0.8))
    for (const Vec2 at : {low, Vec2{high.x, low.y}, high, Vec2{low.x, high.y}, (low + high) / 2.0})
      photo.marks.push_back({Vec2{700, 500} + 8.0 * Vec2{at.x, -at.y} + random.between(0, 3), at});
  photo.face_above_marks_mm = random.chance(0.5) ? 0 : random.between(-20, 40);
  if (random.chance(0.3)) photo.camera_height_mm = random.between(200, 900);
  photo.lens_k1 = random.chance(0.5) ? 0 : random.between(-0.1, 0.1);
  return photo;
}

std::vector<Reservation> random_reservations(Random& random, std::size_t most_projects) {
  std::vector<Reservation> reserved;
  const std::size_t projects = random.index(std::min<std::size_t>(most_projects, 3) + 1);
  for (std::size_t p = 0; p < projects; ++p)
    for (const std::string_view piece : kPieces)
      if (random.chance(0.4)) reserved.push_back({std::string(kProjects[p]), std::string(piece)});
  return reserved;
}

void add_matched_set(Random& random, Bin& bin) {
  Offcut slice = random_offcut(random);
  slice.matched_set = "block " + std::to_string(random.index(100));
  slice.alike = 1;
  slice.photos.clear();
  const double thickness = slice.thickness_mm;
  for (int number = 1; number <= 5; ++number) {
    if (number > 1 && random.chance(0.2)) continue;  // used up
    slice.slice = number;
    slice.thickness_mm = std::clamp(thickness + random.between(-0.4, 0.4), 1.0, 300.0);
    bin.offcuts.push_back(slice);
  }
}

SheetStock random_sheet(Random& random) {
  SheetStock sheet;
  sheet.name = random.pick<std::string_view>(kNames);
  sheet.material = random.chance(0.5) ? "g10" : "copper";
  sheet.thickness_mm = random.between(0.1, 3);
  sheet.outline = random_outline(random, random.between(60, 300));
  sheet.alike = static_cast<int>(random.count(1, 4));
  sheet.kept_at = random.pick<std::string_view>(kPlaces);
  sheet.note = random.chance(0.3) ? "one face keyed" : "";
  sheet.reserved = random_reservations(random, 3);
  return sheet;
}

RodStock random_rod(Random& random) {
  RodStock rod;
  rod.name = random.pick<std::string_view>(kNames);
  rod.stock.nominal_mm = random.between(1, 8);
  if (random.chance(0.5)) rod.stock.measured_mm = rod.stock.nominal_mm + random.between(-0.05, 0.05);
  if (random.chance(0.4)) rod.stock.bore_mm = rod.stock.nominal_mm / 2;
  rod.stock.material = random.chance(0.5) ? "copper" : "brass_c36000";
  rod.length_mm = random.between(5, 1000);
  rod.alike = static_cast<int>(random.count(1, 4));
  rod.kept_at = random.pick<std::string_view>(kPlaces);
  rod.note = random.chance(0.3) ? "a little bent" : "";
  rod.reserved = random_reservations(random, 3);
  return rod;
}

}  // namespace

std::vector<Node> random_outline(Random& random, double size_mm) {
  for (;;) {
    const std::size_t kind = random.index(4);
    std::vector<Node> chain = kind == 0   ? star(random, size_mm)
                              : kind == 1 ? wedge(random, size_mm)
                                          : rectangle({size_mm, size_mm * random.between(0.2, 0.9)});
    if (find_fault(chain)) continue;
    const Outline outline(chain);
    if (2 * outline.area_mm2() / outline.perimeter_mm() > kLeastOffcutMm) return chain;
  }
}

Offcut random_offcut(Random& random) {
  Offcut offcut;
  offcut.name = random.pick<std::string_view>(kNames);
  offcut.material = random.pick<std::string_view>(kWoods);
  offcut.outline = random_outline(random, random.between(30, 200));
  offcut.thickness_mm = random.between(3, 60);
  offcut.grain = {random.between(-180, 180), random.between(-20, 20), random.between(-180, 180)};
  offcut.show_faces = static_cast<unsigned>(random.index(4));
  const Outline outline(offcut.outline);
  for (std::size_t i = random.index(4); i > 0; --i) offcut.defects.push_back(random_defect(random, outline));
  offcut.alike = random.chance(0.7) ? 1 : static_cast<int>(random.count(2, 5));
  if (random.chance(0.5)) offcut.moisture_percent = random.between(4, 15);
  if (random.chance(0.5))
    offcut.photos.push_back(random_photo(random, outline.bounds(), Face::upper, "upper face é.jpg"));
  if (random.chance(0.3))
    offcut.photos.push_back(random_photo(random, outline.bounds(), Face::lower, "lower.png"));
  offcut.kept_at = random.pick<std::string_view>(kPlaces);
  if (random.chance(0.3)) offcut.note = "from the old thwart\nsmells of tar";
  return offcut;
}

Bin random_bin(std::uint64_t seed) {
  Random random(seed);
  Bin bin;
  bin.note = random.chance(0.5) ? "invented" : "";
  bin.shown_unit = static_cast<LengthUnit>(random.index(3));
  Material driftwood;
  driftwood.key = "driftwood";
  driftwood.name = "driftwood";
  driftwood.density_kg_m3 = 512.5;
  bin.own_materials = {driftwood};
  for (std::size_t i = random.count(1, 8); i > 0; --i) {
    bin.offcuts.push_back(random_offcut(random));
    bin.offcuts.back().reserved =
        random_reservations(random, static_cast<std::size_t>(bin.offcuts.back().alike));
  }
  if (random.chance(0.5)) add_matched_set(random, bin);
  for (std::size_t i = random.index(4); i > 0; --i) bin.sheets.push_back(random_sheet(random));
  for (std::size_t i = random.index(4); i > 0; --i) bin.rods.push_back(random_rod(random));
  return with_ids(std::move(bin));
}

}  // namespace haftwright::test
