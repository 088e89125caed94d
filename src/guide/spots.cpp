#include "haftwright/guide/spots.hpp"

namespace haftwright {

Spot spot_of(const GuideBore& bore) {
  return {.thing = Thing::bore, .index = bore.pin};
}

Spot spot_of(const GuideLocator& locator) {
  switch (locator.role) {
    case LocatorRole::edge_fence:
      return {.thing = locator.loose ? Thing::edge_pin : Thing::fence, .edge = locator.edge};
    case LocatorRole::front_stop:
      return {.thing = Thing::front_stop};
    case LocatorRole::butt_stop:
      return {.thing = Thing::butt_stop};
    case LocatorRole::tang_stop:
      break;
  }
  return {.thing = Thing::tang_stop, .edge = locator.edge};
}

Spot spot_of(const SightWindow& window) {
  const Sides sides = !window.for_right ? Sides::left : !window.for_left ? Sides::right : Sides::none;
  return {.thing = Thing::window,
          .index = window.joint,
          .sides = sides,
          .edge = window.at_spine ? HandleEdge::spine : HandleEdge::belly};
}

}  // namespace haftwright
