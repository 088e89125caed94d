#include <algorithm>
#include <iterator>

#include "haftwright/words/words.hpp"

namespace haftwright {
namespace {

/// How a thing is called, in words and in files. Those with a number of their own get it behind the words.
struct ThingRow {
  Thing thing;
  std::string_view key;
  std::string_view words;
};
constexpr ThingRow kThings[] = {
    {Thing::handle, "handle", "handle"},
    {Thing::side, "side", ""},
    {Thing::wall, "wall", "thinnest place along the edge"},
    {Thing::edge, "edge", "edge of the handle"},
    {Thing::crest, "crest", "on the crest"},
    {Thing::front_face, "front_face", "front face"},
    {Thing::butt, "butt", "butt"},
    {Thing::piece, "piece", "piece"},
    {Thing::liners, "liners", "liners"},
    {Thing::joint, "joint", "joint"},
    {Thing::tang, "tang", "tang"},
    {Thing::tang_hole, "tang_hole", "tang hole"},
    {Thing::cutout, "cutout", "cutout"},
    {Thing::pin, "pin", "pin"},
    {Thing::epoxy, "epoxy", "epoxy as weighed"},
    {Thing::drilling, "drilling", ""},
    {Thing::plate, "plate", "plate"},
    {Thing::plate_edge, "plate_edge", "plate's edge"},
    {Thing::bore, "bore", "bore of pin"},
    {Thing::fence, "fence", "fence"},
    {Thing::edge_pin, "edge_pin", "pin"},
    {Thing::front_stop, "front_stop", "front stop pin"},
    {Thing::butt_stop, "butt_stop", "butt stop pin"},
    {Thing::tang_stop, "tang_stop", "stop pin for the tang"},
    {Thing::window, "window", "sight window of joint"},
    {Thing::clamp_land, "clamp_land", "clamp land"},
    {Thing::blank, "blank", "blank"},
};
const ThingRow& row_of(Thing thing) {
  return kThings[static_cast<std::size_t>(thing)];
}
// A row for each thing, in their order.
static_assert(std::size(kThings) == static_cast<std::size_t>(Thing::blank) + 1);
static_assert([] {
  for (std::size_t i = 0; i < std::size(kThings); ++i)
    if (static_cast<std::size_t>(kThings[i].thing) != i) return false;
  return true;
}());

constexpr std::string_view kSidesKeys[] = {"none", "left", "right", "both"};
constexpr std::string_view kLayerKeys[] = {"scale", "liner", "tang"};
constexpr std::string_view kLayerWords[] = {"scales", "liners", "tang"};
constexpr std::string_view kLevelKeys[] = {"inner_face", "finished_surface", "between"};
constexpr std::string_view kTowardKeys[] = {"front", "butt", "spine", "belly", "nowhere"};
constexpr std::string_view kAspectKeys[] = {"place",  "count",    "slant", "rake",   "angle",
                                            "walk",   "finished", "lean",  "drills", "plate_thickness",
                                            "flutes", "slope",    "spread"};
constexpr std::string_view kRelations[] = {"to", "against", "beside", "under", "on", "behind"};
constexpr std::string_view kDrillWays[] = {
    "each scale by eye, through the tang", "second scale against the first",
    "both taped together, drilled as one", "through the drill guide", "drill guide, onto a pinned tang"};

template <class Value, std::size_t count>
std::string_view at(const std::string_view (&list)[count], Value value) {
  return list[static_cast<std::size_t>(value)];
}

/// "left front piece", "left and right front piece".
std::string on(Sides sides, const std::string& what) {
  if (sides == Sides::none) return what;
  return (sides == Sides::both ? "left and right" : std::string(at(kSidesKeys, sides))) + " " + what;
}

std::string piece_of(const Design& design, const Spot& spot) {
  const Which side = spot.sides == Sides::right ? Which::right : Which::left;
  return piece_words(spot.index.value_or(0), design.pieces(side).size());
}

/// Whether a thing's sides stand ahead of its name rather than behind it.
bool sides_lead(const Spot& spot) {
  return spot.thing == Thing::piece || spot.thing == Thing::blank || spot.thing == Thing::front_face ||
         spot.thing == Thing::wall || (spot.thing == Thing::side && spot.aspect == Aspect::finished);
}

std::string name_of(const Design& design, const Spot& spot) {
  const std::string words(row_of(spot.thing).words);
  switch (spot.thing) {
    case Thing::side:
      return spot.aspect == Aspect::finished ? on(spot.sides, "scale") : sides_words(spot.sides);
    case Thing::wall:
      return (spot.sides == Sides::none ? "" : sides_words(spot.sides) + ", ") + words;
    case Thing::piece:
      return on(spot.sides, piece_of(design, spot));
    case Thing::blank:
      return on(spot.sides, spot.sides == Sides::none ? "thinnest blank" : "blank");
    case Thing::front_face:
      return on(spot.sides, words);
    case Thing::pin:
      return pin_words(design, spot.index.value_or(0));
    case Thing::tang_hole:
      if (spot.index) return tang_hole_words(design, *spot.index);
      break;
    case Thing::drilling:
      return std::string(drilling_words(static_cast<DrillWay>(spot.index.value_or(0))));
    case Thing::fence:
    case Thing::edge_pin:
    case Thing::tang_stop:
      return spot.edge ? haftwright::name_of(*spot.edge) + (" " + words) : words + "s";
    case Thing::joint:
      if (!spot.index) return words + "s";
      break;
    default:
      break;
  }
  return spot.index ? numbered(words, *spot.index) : words;
}

bool edge_in_name(Thing thing) {
  return thing == Thing::fence || thing == Thing::edge_pin || thing == Thing::tang_stop;
}

std::string toward_words(const Spot& spot) {
  if (!spot.toward) return {};
  const bool land = spot.thing == Thing::clamp_land;
  switch (*spot.toward) {
    case Toward::front:
      return land ? " ahead of the front face" : ", toward the front";
    case Toward::butt:
      return land ? " behind the butt" : ", toward the butt";
    case Toward::spine:
      return ", toward the spine";
    case Toward::belly:
      return ", toward the belly";
    case Toward::nowhere:
      break;
  }
  return ", on the edge";
}

std::string level_words(const Design& design, const Spot& spot) {
  if (!spot.level) return {};
  const char* const lead = spot.edge ? ", " : ", at the ";
  switch (*spot.level) {
    case Level::inner_face:
      return std::string(lead) + "inner face";
    case Level::finished_surface:
      return std::string(lead) + "finished surface";
    case Level::between:
      break;
  }
  return ", " + format_length(spot.mm.value_or(0), design.shown_unit) + " above the inner face";
}

std::string aspect_words(const Spot& spot) {
  switch (spot.aspect) {
    case Aspect::slant:
      return ", slant, seen from the side";
    case Aspect::rake:
      return ", rake, seen along the spine";
    case Aspect::angle:
      return ", angle";
    case Aspect::count:
      return spot.index ? ", number of lines" : ", number of them";
    case Aspect::walk:
      return ", per " + format_length(spot.mm.value_or(0), LengthUnit::millimetre) +
             " of thickness taken off";
    case Aspect::finished:
      return ", finished";
    case Aspect::lean:
      return ", off square to the mid-plane";
    case Aspect::drills:
      return ", tang's drill against the scale's";
    case Aspect::plate_thickness:
      return ", plate thickness against its drill";
    case Aspect::flutes:
      return ", flutes of its drill against what it goes through";
    case Aspect::slope:
      return ", edge of the handle beside it";
    case Aspect::spread:
      return ", from one to the other";
    case Aspect::none:
      break;
  }
  return {};
}

/// All that stands behind the name but ahead of what it was measured to.
std::string qualifiers(const Design& design, const Spot& spot) {
  std::string words;
  if (spot.layer) words += ", " + std::string(at(kLayerWords, *spot.layer));
  if (spot.sides != Sides::none && spot.thing != Thing::side && !sides_lead(spot))
    words += spot.thing == Thing::liners ? ", left against right" : ", " + sides_words(spot.sides);
  if (spot.line) words += ", " + numbered("line", *spot.line);
  if (spot.edge && !edge_in_name(spot.thing))
    words += std::string(", at the ") + haftwright::name_of(*spot.edge);
  if (spot.thing == Thing::crest && spot.mm) words += ", " + format_length(*spot.mm, design.shown_unit);
  return words;
}

/// Names that stand for themselves take no article.
bool takes_article(const Spot& spot) {
  return !spot.index && (spot.thing != Thing::joint);
}

std::string end_words(const Design& design, const Spot& spot) {
  return toward_words(spot) + level_words(design, spot) + aspect_words(spot);
}

/// Whether one thing's name says which one it is.
template <class List>
bool name_is_own(const List& list, std::size_t index) {
  const std::string& name = list[index].name;
  return !name.empty() && std::ranges::count(list, name, [](const auto& thing) { return thing.name; }) == 1;
}

template <class List>
std::string id_in(const List& list, std::size_t index) {
  return index < list.size() ? list[index].id : std::string();
}

}  // namespace

std::string numbered(std::string_view what, std::size_t index) {
  return std::string(what) + " " + std::to_string(index + 1);
}

std::string sides_words(Sides sides) {
  if (sides == Sides::none) return {};
  return std::string(at(kSidesKeys, sides)) + (sides == Sides::both ? " sides" : " side");
}

std::string pin_words(const Design& design, std::size_t pin) {
  const std::string number = numbered("pin", pin);
  if (pin >= design.pins.size()) return number;
  const std::string& name = design.pins[pin].name;
  return name.empty() || name == number || name == std::to_string(pin + 1) ? number
                                                                           : number + " (" + name + ")";
}

std::string pin_name(const Design& design, std::size_t pin) {
  const bool own = pin < design.pins.size() && name_is_own(design.pins, pin);
  return own ? design.pins[pin].name : pin_words(design, pin);
}

std::string tang_hole_words(const Design& design, std::size_t hole) {
  const std::string words(row_of(Thing::tang_hole).words);
  if (hole >= design.tang.holes.size()) return numbered(words, hole);
  const std::string& name = design.tang.holes[hole].name;
  const std::string own = name_is_own(design.tang.holes, hole) ? words : numbered(words, hole);
  return name.empty() ? own : own + " \"" + name + '"';
}

std::string id_of(const Design& design, const Spot& spot) {
  if (!spot.index) return {};
  const Which side = spot.sides == Sides::right ? Which::right : Which::left;
  switch (spot.thing) {
    case Thing::pin:
    case Thing::bore:
      return id_in(design.pins, *spot.index);
    case Thing::tang_hole:
      return id_in(design.tang.holes, *spot.index);
    case Thing::piece:
      return id_in(design.pieces(side), *spot.index);
    case Thing::joint:
    case Thing::window:
      return id_in(design.joints(side), *spot.index);
    default:
      return {};
  }
}

std::string piece_words(std::size_t piece, std::size_t count) {
  if (count == 1) return "piece";
  if (piece == 0) return "front piece";
  if (piece + 1 == count) return "rear piece";
  return count == 3 ? "middle piece" : numbered("piece", piece);
}

std::string_view drilling_words(DrillWay way) {
  return at(kDrillWays, way);
}

std::string spot_words(const Design& design, const Spot& spot) {
  return name_of(design, spot) + qualifiers(design, spot) + end_words(design, spot);
}

std::string where_words(const Design& design, const Where& where) {
  const std::string middle = qualifiers(design, where.at);
  std::string words = name_of(design, where.at) + middle;
  if (where.to) {
    words += middle.empty() || where.relation == Relation::behind ? " " : ", ";
    words += at(kRelations, where.relation);
    words += takes_article(*where.to) ? " the " : " ";
    words += spot_words(design, *where.to);
  }
  return words + end_words(design, where.at);
}

std::string_view key_of(Thing thing) {
  return row_of(thing).key;
}
std::string_view key_of(Sides sides) {
  return at(kSidesKeys, sides);
}
std::string_view key_of(Layer layer) {
  return at(kLayerKeys, layer);
}
std::string_view key_of(Level level) {
  return at(kLevelKeys, level);
}
std::string_view key_of(Toward toward) {
  return at(kTowardKeys, toward);
}
std::string_view key_of(Aspect aspect) {
  return at(kAspectKeys, aspect);
}

}  // namespace haftwright
