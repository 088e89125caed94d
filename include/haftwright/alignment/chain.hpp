// The error chain in numbers: independent random variables, what each does to every measure, and the pins'
// play that comes on top. Knows nothing of knives; chain_of() in ways.hpp makes one from a Handle.
//
// A draw: take every variable once; each measure is nominal + sum of its terms + the effect of each play's
// pose; the pose is taken from those that the play's pins leave, given that draw's hole offsets and
// clearances: evenly, or at their end (Chain::crept).
#pragma once

#include <array>
#include <cstddef>
#include <optional>
#include <string>
#include <vector>

#include "haftwright/alignment/play.hpp"

namespace haftwright {

enum class Spread {
  normal,      ///< the limit holds 95.45 of 100: two standard deviations
  rectangular  ///< even between -limit and +limit
};

/// A variable is standardised: its limit is 1. Terms carry the size.
struct Variable {
  Spread spread = Spread::normal;
  std::size_t source = 0;  ///< index in Chain::sources
};

struct Term {
  std::size_t variable = 0;
  double mm_at_limit = 0;  ///< what the variable adds when it is at +1
  bool operator==(const Term&) const = default;
};
using Terms = std::vector<Term>;

/// What the maker can name and change: "joint's place on a blank".
struct Source {
  std::string key;    ///< of the field in the project's shop errors, or "play"
  std::string words;  ///< plain words
};

struct Measure {
  enum class Kind { step_mm, angle_deg };  ///< angle: all "mm" of it are degrees
  Kind kind = Kind::step_mm;
  double nominal = 0;
  double visible = 0;  ///< more than this shows
  Terms terms;
};

/// One bound that a pin sets in one play: where it stands, |motion + offset| <= radius. A pin is a straight
/// line that may tilt in its holes; the holes' rims that it passes bound the motion in several ways, so that
/// one pin has several of these on one spot.
struct ChainPin {
  Vec2 at_mm{0, 0};
  double radius_mm = 0;  ///< nominal; negative: no motion will do
  Terms offset_x;
  Terms offset_y;
  Terms radius;
  /// What radius_mm gains for each mm of room (half of what a hole is wider than its pin) that all holes
  /// gain.
  double radius_for_room = 1;
  /// What it gains in Limits, where holes that the pin never enters count as opened until it just does.
  double opened_mm = 0;
};

/// A hole that its pin must go into wherever the bodies are: it does not where this is below zero.
struct PinRoom {
  double room_mm = 0;  ///< half of what the hole is wider than the pin, nominal
  Terms room;
};

/// A body that its pins hold: the right scale against the left, the tang against a scale, or each scale
/// against pins fixed in the tang.
struct Play {
  /// What it counts for. A bound takes the place of plays that follow one likely course of the work.
  enum class Use { draws_and_limits, draws, limits };
  Use use = Use::draws_and_limits;
  std::vector<ChainPin> pins;
  std::vector<PinRoom> rooms;
  std::vector<PoseEffect> effects;  ///< one a measure; where none does anything, only the fit is asked for
  /// Where pins do not hold it (none, or one): how the maker lines it up by eye instead. Turn about
  /// the one pin, or about `about_mm` where there is none.
  Terms free_along;
  Terms free_across;
  Terms free_turn;  ///< in radians
  Vec2 about_mm{0, 0};
  /// The play, an earlier one, whose random numbers this one takes its pose with; none: numbers of its own.
  std::optional<std::size_t> numbers_of;
};

struct Chain {
  std::vector<Source> sources;
  std::vector<Variable> variables;
  std::vector<Measure> measures;
  std::vector<Play> plays;
  /// Where in its play a body ends up: anywhere, evenly; or pushed in a direction of chance as far as the
  /// pins let it go.
  bool crept = false;
};

/// Every source at its limit at once and the play at its farthest: |value| can't be more (normal sources
/// taken as ending at their limit). Holes may be off in every way that their terms allow; each bound that a
/// pin sets is taken at its own worst. A pin that does not go in counts as fitted tight: its hole was opened.
struct Limits {
  double worst = 0;  ///< greatest |measure|
  double rss = 0;   ///< |nominal| + root of the sum of the squares of what each variable, and each play, adds
                    ///< at its limit
  double play = 0;  ///< the plays' part of `worst`
};
Limits limits_of(const Chain& chain, std::size_t measure);

}  // namespace haftwright
