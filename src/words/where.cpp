#include "haftwright/words/where.hpp"

namespace haftwright {
namespace {

Sides turned(Sides sides) {
  if (sides == Sides::left) return Sides::right;
  return sides == Sides::right ? Sides::left : sides;
}

}  // namespace

Sides sides_of(Which which) {
  return which == Which::left ? Sides::left : Sides::right;
}

std::optional<std::size_t> pin_of(const Where& where) {
  return where.at.thing == Thing::pin || where.at.thing == Thing::bore ? where.at.index : std::nullopt;
}

Where mirrored(const Where& where) {
  Where other = where;
  other.at.sides = turned(where.at.sides);
  if (where.to) other.to->sides = turned(where.to->sides);
  return other;
}

Where on_both_sides(const Where& where) {
  Where both = where;
  if (both.at.sides == Sides::left) both.at.sides = Sides::both;
  if (both.to && both.to->sides == Sides::left) both.to->sides = Sides::both;
  return both;
}

}  // namespace haftwright
