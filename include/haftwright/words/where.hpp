// Places as values: what a figure is about, on which side, at which edge and height, and what it was measured
// to. Values compare, can be looked up and turned round from side to side; words.hpp writes them out.
#pragma once

#include <cstddef>
#include <optional>

#include "haftwright/design/design.hpp"
#include "haftwright/design/sides.hpp"

namespace haftwright {

enum class Thing {
  handle,
  side,
  wall,  ///< the lowest place of a side's wall, along the edge
  edge,
  crest,
  front_face,
  butt,
  piece,
  liners,
  joint,
  tang,
  tang_hole,
  cutout,
  pin,
  epoxy,
  drilling,  ///< `index` is the DrillWay
  // The drill guide.
  plate,
  plate_edge,
  bore,   ///< `index` is its pin
  fence,  ///< without an edge: all of them
  edge_pin,
  front_stop,
  butt_stop,
  tang_stop,
  window,  ///< `index` is its joint
  clamp_land,
  blank  ///< without a side: the thinnest there is
};

/// On which sides; one thing of both may be meant, or none in particular.
enum class Sides { none, left, right, both };
Sides sides_of(Which which);

enum class Layer { scale, liner, tang };
enum class Level { inner_face, finished_surface, between };
enum class Toward { front, butt, spine, belly, nowhere };

/// What of a place is looked at, where that is not the place itself.
enum class Aspect {
  none,
  count,            ///< how many there are
  slant,            ///< seen from the side
  rake,             ///< seen along the spine
  angle,            ///< of a line, at one of its ends
  walk,             ///< how far it goes along the handle as `mm` of thickness come off
  finished,         ///< as it is in the end, not as a blank
  lean,             ///< off square to the mid-plane
  drills,           ///< one layer's drill against the other's
  plate_thickness,  ///< against the drill that it guides
  flutes,           ///< of the drill, against what it goes through
  slope,            ///< of the handle's edge beside it
  spread            ///< from one to the other
};

/// One thing, as far as it needs to be named. Indices count from 0.
struct Spot {
  Thing thing = Thing::handle;
  std::optional<std::size_t> index;
  std::optional<std::size_t> line;  ///< of a joint that has several, front to rear
  Sides sides = Sides::none;
  std::optional<Layer> layer;
  std::optional<HandleEdge> edge;
  std::optional<Level> level;
  std::optional<Toward> toward;
  std::optional<double> mm;  ///< between levels: above the inner face; on the crest: behind a front face
  Aspect aspect = Aspect::none;
  bool operator==(const Spot&) const = default;
};

/// How the second spot of a Where stands to the first.
enum class Relation { to, against, beside, under, on, behind };

struct Where {
  Spot at;
  std::optional<Spot> to;
  Relation relation = Relation::to;
  bool operator==(const Where&) const = default;
};

/// The pin that a place is about: a pin, or its bore in the guide.
std::optional<std::size_t> pin_of(const Where& where);
/// Left for right and right for left.
Where mirrored(const Where& where);
/// What is on the left is on both sides.
Where on_both_sides(const Where& where);

}  // namespace haftwright
