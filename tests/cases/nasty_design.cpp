#include "nasty_design.hpp"

#include <cmath>

#include "support/random.hpp"

namespace haftwright::test {
namespace {

double sized(Random& random, double least_power, double most_power) {
  return std::pow(10, random.between(least_power, most_power));
}

double either_sign(Random& random, double value) {
  return random.chance(0.5) ? value : -value;
}

std::vector<Node> plain_chain(Random& random) {
  const auto off = [&](double by) { return random.between(-by, by); };
  switch (random.index(4)) {
    case 0:  // a triangle, its point at the butt or at the front
      return random.chance(0.5)
                 ? std::vector<Node>{{{-10, -12 + off(2)}}, {{110, off(14)}}, {{-10, 12 + off(2)}}}
                 : std::vector<Node>{{{-30, off(14)}}, {{105, -12 + off(3)}}, {{105, 12 + off(3)}}};
    case 1:
      return {{{-10 + off(3), -12 + off(3)}},
              {{110 + off(12), -9 + off(6)}},
              {{110 + off(12), 12 + off(3)}},
              {{-11 + off(3), 12 + off(2)}}};
    case 2:
      return {{{-12, -13}}, {{50, -15 + off(4)}}, {{108, -12}}, {{112 + off(6), off(6)}},
              {{108, 13}},  {{-12, 12}}};
    default:
      return {{{-12, -13}}, {{112, -13}}, {{112, 13}}, {{-12, 13}}};
  }
}

Vec2 between(const std::vector<Node>& chain, std::size_t i, double share) {
  return glm::mix(chain[i].at, chain[(i + 1) % chain.size()].at, share);
}

void spoil(Random& random, std::vector<Node>& chain) {
  const std::size_t i = random.index(chain.size());
  const auto after = chain.begin() + static_cast<std::ptrdiff_t>(i) + 1;
  switch (random.index(5)) {
    case 0: {  // a second node beside a node
      const double apart = sized(random, -7, -1);
      const double angle = random.chance(0.4) ? either_sign(random, 0) : random.between(0, 6.28);
      chain.insert(after, {chain[i].at + apart * Vec2{std::cos(angle), std::sin(angle)}, chain[i].bulge});
      break;
    }
    case 1:  // a bulge of next to nothing
      chain[i].bulge = either_sign(random, sized(random, -12, -2));
      break;
    case 2:  // a plain bulge
      chain[i].bulge = either_sign(random, sized(random, -2, 0.3));
      break;
    case 3: {  // a notch or a spike
      const double from = random.between(0.1, 0.8);
      const Vec2 a = between(chain, i, from), b = between(chain, i, from + sized(random, -3, -0.8));
      const Vec2 deep = (a + b) / 2.0 +
                        either_sign(random, random.between(0.5, 9)) * turned_left(glm::normalize(b - a)) +
                        random.between(-6, 6) * glm::normalize(b - a);
      chain.insert(after, {Node{a}, Node{deep}, Node{b}});
      break;
    }
    default:  // a node out of line
      chain.insert(after, Node{between(chain, i, random.between(0.1, 0.9)) +
                               Vec2{random.between(-3, 3), random.between(-3, 3)}});
  }
}

Finish nasty_finish(Random& random) {
  Finish finish;
  if (random.chance(0.5)) finish.thickness_mm = {{0, 8.5}, {55, random.between(8, 11)}, {105, 8.5}};
  if (random.chance(0.4)) finish.crown_radius_mm = random.between(30, 90);
  if (random.chance(0.5)) finish.round_over_mm = random.between(0.2, 4);
  return finish;
}

void add_pins(Random& random, Design& design) {
  for (std::size_t i = random.index(4); i > 0; --i) {
    Pin pin;
    pin.name = "pin " + std::to_string(i);
    pin.at_mm = {30 * static_cast<double>(i) + random.between(-14, 14), random.between(-6, 6)};
    pin.stock.nominal_mm = random.between(3, 7);
    pin.scale_hole.diameter_mm = pin.liner_hole.diameter_mm = pin.tang_hole.diameter_mm =
        pin.stock.nominal_mm + 0.1;
    design.pins.push_back(pin);
  }
}

}  // namespace

Design nasty_design(std::uint64_t seed) {
  Random random(seed);
  Design design;
  design.tang.outline = plain_chain(random);
  for (std::size_t i = random.count(1, 4); i > 0; --i) spoil(random, design.tang.outline);
  if (random.chance(0.3)) design.tang.thickness_butt_mm = random.between(1, 6);
  Side& side = design.left;
  if (random.chance(0.4)) side.liners = {{"brass_c26000", random.between(0.2, 1.5)}};
  side.pieces.resize(random.count(1, 3));
  for (Piece& piece : side.pieces) piece.material = "olive";
  for (std::size_t i = 1; i < side.pieces.size(); ++i)
    side.joints.push_back(
        {random.between(32, 42) * static_cast<double>(i), random.between(-25, 25), random.between(-15, 15),
         random.chance(0.4) ? std::vector<Sheet>{{"vulcanized_fibre", 0.5}} : std::vector<Sheet>{}});
  if (random.chance(0.5))
    side.front = {random.between(-4, 6), random.between(-40, 40), random.between(-30, 30)};
  if (random.chance(0.5)) side.butt_proud_mm = random.between(0.1, 5);
  side.finish = nasty_finish(random);
  add_pins(random, design);
  return design;
}

}  // namespace haftwright::test
