#include "random_design.hpp"

#include <algorithm>
#include <cmath>

#include "haftwright/design/ids.hpp"
#include "haftwright/design/starters.hpp"
#include "haftwright/geometry/outline_ops.hpp"
#include "haftwright/reference/drills.hpp"
#include "random_side.hpp"

namespace haftwright::test {
namespace {

constexpr std::string_view kNames[] = {"Shucking knife", "Couteau d'écailler", "貝剥きナイフ",
                                       "Åls \"kniv\"",   "back\\slash",        ""};
constexpr std::string_view kSteels[] = {"carbon_steel", "tool_steel", "stainless_420", "stainless_440c"};
constexpr std::string_view kPinMetals[] = {"brass_c36000", "stainless_304", "copper", "nickel_silver_c75200"};
constexpr double kStocksMm[] = {2, 3, 4, 5, 6, 25.4 * 3 / 32, 25.4 / 8, 25.4 * 3 / 16, 25.4 / 4};
constexpr LengthUnit kUnits[] = {LengthUnit::millimetre, LengthUnit::inch, LengthUnit::inch_fraction};

constexpr DrillWay kWays[] = {DrillWay::by_eye, DrillWay::to_first, DrillWay::taped, DrillWay::guide,
                              DrillWay::guide_pinned};

struct RandomTang {
  Tang tang;
  Steel steel;
};

RandomTang random_tang(Random& random) {
  RandomTang made;
  Steel& steel = made.steel;
  steel.length_mm = random.between(85, 130);
  const double front = random.between(20, 28), butt = front + random.between(-2, 6);
  steel.butt_corner_mm = random.chance(0.1) ? 0 : random.between(3, std::min(9.0, butt / 2 - 1));
  const double ricasso = random.between(9, 14);  // ahead of any slanted and raked front face
  if (random.chance(0.5)) {
    made.tang.outline =
        starter_outline(StraightTang{steel.length_mm, front, butt, steel.butt_corner_mm, ricasso});
  } else {
    made.tang.outline = starter_outline(BowedTang{steel.length_mm, front, butt, random.between(0.1, 3),
                                                  random.between(0.1, 3), steel.butt_corner_mm, ricasso});
  }
  const Outline outline(made.tang.outline);
  steel.low_y_mm = outline.bounds().low.y;
  steel.high_y_mm = outline.bounds().high.y;
  made.tang.thickness_front_mm = random.between(2.5, 5);
  made.tang.thickness_butt_mm =
      made.tang.thickness_front_mm * (random.chance(0.5) ? 1.0 : random.between(0.45, 1));
  made.tang.material = random.pick<std::string_view>(kSteels);
  made.tang.hardened = random.chance(0.4);
  return made;
}

HoleSize random_hole(Random& random, double pin_mm) {
  HoleSize hole;
  const auto drill = smallest_drill_between(pin_mm + random.between(0, 0.1), pin_mm + 1, random.chance(0.2));
  if (drill && random.chance(0.6)) hole.drill = drill->label;
  if (hole.drill.empty() || random.chance(0.4))
    hole.diameter_mm = (hole.drill.empty() ? pin_mm + 0.1 : drill->diameter_mm) + random.between(-0.06, 0.1);
  return hole;
}

Pin random_pin(Random& random, std::size_t number) {
  Pin pin;
  pin.name = "pin " + std::to_string(number);
  pin.stock.nominal_mm = random.pick<double>(kStocksMm);
  if (random.chance(0.5)) pin.stock.measured_mm = pin.stock.nominal_mm + random.between(-0.03, 0.03);
  if (random.chance(0.3)) pin.stock.bore_mm = pin.stock.nominal_mm * random.between(0.3, 0.7);
  pin.stock.material = random.pick<std::string_view>(kPinMetals);
  pin.scale_hole = random_hole(random, pin.stock.diameter_mm());
  pin.liner_hole = random.chance(0.5) ? pin.scale_hole : random_hole(random, pin.stock.diameter_mm());
  pin.tang_hole = random_hole(random, pin.stock.diameter_mm());
  return pin;
}

/// A round opening, or a slot along x, between two pins.
std::vector<Node> random_cutout(Random& random, Vec2 middle, double radius) {
  const double half = random.chance(0.5) ? 0 : random.between(0.2, 0.8) * radius;
  const double r = radius - half;
  if (half == 0) return {{middle - Vec2{r, 0}, 1}, {middle + Vec2{r, 0}, 1}};
  return {{middle + Vec2{-half, -r}, 0},
          {middle + Vec2{half, -r}, 1},
          {middle + Vec2{half, r}, 0},
          {middle + Vec2{-half, r}, 1}};
}

void add_pins(Random& random, const Steel& steel, Design& design) {
  const std::size_t count = random.count(1, 6);
  const double from = 12, to = steel.length_mm - 10;
  const double step = (to - from) / static_cast<double>(count);
  const Outline tang(design.tang.outline);
  for (std::size_t i = 0; i < count; ++i) {
    Pin pin = random_pin(random, i + 1);
    pin.at_mm.x = from + step * (static_cast<double>(i) + random.between(0.35, 0.65));
    const auto across = crossings(tang, {pin.at_mm.x, 0}, {0, 1});
    pin.at_mm.y = (across.front().point.y + across.back().point.y) / 2 + random.between(-3, 3);
    if (random.chance(0.25)) {
      design.tang.holes.push_back({"", pin.at_mm, pin.stock.diameter_mm() + random.between(0.02, 0.2),
                                   "hole " + std::to_string(i + 1)});
      pin.existing_tang_hole = id_from(design.tang.holes.back().name);
      pin.tang_hole = {};
    }
    design.pins.push_back(std::move(pin));
  }
}

/// Cutouts and empty holes in the middle between pins, where steel is left.
void open_tang(Random& random, Design& design) {
  for (std::size_t i = 1; i < design.pins.size(); ++i) {
    const Vec2 middle = (design.pins[i].at_mm + design.pins[i - 1].at_mm) / 2.0;
    const double room = glm::distance(design.pins[i].at_mm, middle) - 3.6;
    if (room < 1.2) continue;
    const double radius = std::min(room, 3.0);
    if (random.chance(0.25))
      design.tang.cutouts.push_back(random_cutout(random, middle, radius));
    else if (random.chance(0.15))
      design.tang.holes.push_back({"", middle, radius, "spare " + std::to_string(i)});
  }
}

Material random_material(Random& random) {
  Material material;
  material.key = "own_wood";
  material.name = "bois flotté";
  material.density_kg_m3 = random.between(300, 1300);
  material.density_source = "weighed";
  material.hazards = random.chance(0.5) ? wood_dust | oily_wood : no_hazard;
  material.colour = {static_cast<float>(random.between(0, 1)), 0.25f, 0.1f};
  return material;
}

void add_the_rest(Random& random, Design& design) {
  Adhesive& glue = design.adhesive;
  glue.bond_line_mm = random.between(0.05, 0.25);
  glue.resin_parts = random.between(1, 5);
  glue.mix_by = random.chance(0.5) ? MixBy::volume : MixBy::weight;
  glue.hardener_density_g_ml = random.between(0.93, 1.1);
  GuideSettings& guide = design.guide;
  guide.plate_thickness_mm = random.between(10, 16);
  guide.margin_mm = random.between(12, 18);
  if (random.chance(0.4)) guide.bushing_outside_mm = random.between(9, 11);
  guide.blank_allowance_mm = random.chance(0.5) ? 0 : random.between(0.2, 1);
  guide.window_length_mm = random.between(7, 10);
  if (random.chance(0.2)) design.rules.edge_wall_mm = random.between(1, 4);
  if (random.chance(0.2)) design.rules.joint_step_mm = random.between(0.02, 0.3);
}

std::string joint_id(const Design& design, std::size_t joint) {
  return joint < design.left.joints.size() ? design.left.joints[joint].id : "no_such_joint";
}

/// Ids of every kind: made of names and order, given, like another thing's name; and names that are shared or
/// left out.
void name_things(Random& random, Design& design) {
  constexpr std::string_view kIds[] = {
      "a", "rivet-2", "pin_1", "joint_2", "hole_3", "0", "twenty-four_characters__"};
  const auto some = [&](auto& list) {
    for (auto& thing : list)
      if (random.chance(0.2)) {
        const std::string id(random.pick<std::string_view>(kIds));
        if (index_of(list, id) == list.size()) thing.id = id;
      }
  };
  some(design.left.pieces);
  some(design.left.joints);
  some(design.pins);
  for (Pin& pin : design.pins) {
    if (random.chance(0.1)) pin.name.clear();
    if (random.chance(0.1)) pin.name = design.pins.front().name;
  }
  design = with_ids(std::move(design));
}

void add_drilling(Random& random, Design& design) {
  Drilling& drilling = design.drilling;
  drilling.way = random.pick<DrillWay>(kWays);
  drilling.set_by = random.chance(0.5) ? SetBy::joint_line : SetBy::front_face;
  drilling.one_block = random.chance(0.2);
  for (const ErrorRow& row : error_rows())
    if (random.chance(0.1)) drilling.errors.*row.member = random.between(0, row.most / 10);
  for (int i = random.chance(0.3) ? 3 : 0; i > 0; --i)
    design.dry_fit.push_back({.joint = joint_id(design, random.chance(0.5) ? 0 : 1),
                              .strip_edge = random.chance(0.5) ? StripEdge::front : StripEdge::rear,
                              .at = random.chance(0.5) ? HandleEdge::spine : HandleEdge::belly,
                              .side = random.chance(0.5) ? Which::left : Which::right,
                              .from_pin = random.chance(0.3) ? design.pins.front().id : "",
                              .reading_mm = random.between(5, 60),
                              .accuracy_mm = random.between(0.01, 0.1)});
  for (CaliperReading& reading : design.dry_fit)
    if (reading.from_pin.empty() && random.chance(0.3)) {
      reading.kind = ReadingKind::step;
      reading.reading_mm = random.between(0, 0.5);
    }
}

/// Places for some blanks, of pieces that are there and one that is not, on offcuts that no bin has.
void add_hand_places(Random& random, Design& design) {
  constexpr std::string_view kOffcuts[] = {"thwart_end", "old-oar", "x"};
  for (const Which side : {Which::left, Which::right})
    for (const Piece& piece : design.pieces(side))
      if (random.chance(0.2))
        design.hand_places.push_back({side,
                                      random.chance(0.9) ? piece.id : "gone_" + piece.id.substr(0, 19),
                                      std::string(random.pick<std::string_view>(kOffcuts)),
                                      static_cast<int>(random.count(1, 3)),
                                      {random.between(-300, 300), random.between(-300, 300)},
                                      random.between(-180, 180),
                                      random.chance(0.5) ? Face::upper : Face::lower,
                                      static_cast<HandCut>(random.index(3))});
}

}  // namespace

Design random_design(std::uint64_t seed) {
  Random random(seed);
  Design design;
  design.name = random.pick<std::string_view>(kNames);
  if (random.chance(0.3)) design.note = "two lines,\n\ta tab and 1/8\" stock";
  design.shown_unit = random.pick<LengthUnit>(kUnits);
  auto [tang, steel] = random_tang(random);
  design.tang = std::move(tang);
  design.left = random_side(random, steel);
  design.right = random_overrides(random, steel, design.left);
  if (random.chance(0.2)) {
    design.own_materials.push_back(random_material(random));
    design.left.pieces.front().material = design.own_materials.front().key;
  }
  add_pins(random, steel, design);
  open_tang(random, design);
  add_the_rest(random, design);
  Random names(seed + 0x5eed);  // of its own, so that new kinds of names leave the shapes as they are
  name_things(names, design);
  add_drilling(random, design);
  Random hands(seed + 0xad5);  // of its own, as above
  if (hands.chance(0.4)) add_hand_places(hands, design);
  return design;
}

}  // namespace haftwright::test
