// The vocabulary of the field list (schema.hpp): what a number may be, how long a list may be, what the
// choices are called in a file.
#pragma once

#include <cstddef>
#include <cstdint>
#include <string>
#include <string_view>

#include "haftwright/design/design.hpp"
#include "haftwright/design/limits.hpp"

namespace haftwright::schema {

/// May a field be left out, and does it then keep its default?
enum class Need { required, defaulted };

/// What a number is measured in and from where to where it may go.
struct Quantity {
  std::string_view unit;  ///< "mm": may also be given as text with its unit; "" for a bare number
  double least = 0;
  double most = 0;
  bool above_least = false;  ///< `least` itself is not allowed
};
/// "from -60 to 60 deg", "more than 0 and at most 10 mm".
std::string range_text(const Quantity& quantity);
/// What is wrong with `value`, range and value named; empty when nothing is.
std::string range_problem(const Quantity& quantity, double value);

/// From where to where a whole number may go.
struct Whole {
  int least = 0;
  int most = 0;
};
/// "from 1 to 999".
std::string range_text(const Whole& range);
/// As range_problem, for a whole number.
std::string whole_problem(const Whole& range, int value);

/// How many entries a list may have.
struct Count {
  std::size_t least = 0;
  std::size_t most = 0;
};
/// As range_problem, for a list of `size` entries.
std::string count_problem(const Count& count, std::size_t size);
/// May a text run over several lines?
enum class Lines { one, many };
/// What is wrong with a text: too long, not UTF-8, or with control characters (of either set) beside the tab
/// and, where it may have many lines, the line feed.
std::string text_problem(std::string_view text, Lines lines = Lines::many);
/// Notes may have many lines; what else people name stands in one, so that no name can pass for a line of a
/// report.
Lines lines_of(std::string_view key);

/// Takes one well-formed UTF-8 character (The Unicode Standard, table 3-7) off the front of a text that is
/// not empty; its code point, or -1 with nothing taken.
std::int32_t take_character(std::string_view& text);
/// The beginning of a text, cut between characters, with "..." where it went on: for messages.
std::string shortened(const std::string& text);
/// The same between quotation marks.
std::string quoted(const std::string& text);

/// "; did you mean "x"?", or nothing when nothing is near.
std::string did_you_mean(const std::string& nearest);

inline constexpr Count kNodes{2, limits::kOutlineNodes};
inline constexpr Count kCutoutNodes{2, limits::kCutoutNodes};

template <class Value>
struct Named {
  std::string_view name;
  Value value;
};

inline constexpr Quantity kCoordinate{"mm", -limits::kCoordinateMm, limits::kCoordinateMm};
inline constexpr Quantity kBulge{"", -16, 16};
inline constexpr Quantity kTangThickness{"mm", 0.5, 20};
inline constexpr Quantity kSheetThickness{"mm", 0, 10, true};
inline constexpr Quantity kPinDiameter{"mm", 0, 50, true};
inline constexpr Quantity kBore{"mm", 0, 50};
inline constexpr Quantity kHoleDiameter{"mm", 0, 60, true};
inline constexpr Quantity kBlankThickness{"mm", 0, 100, true};
inline constexpr Quantity kBlankSize{"mm", 0, 2000, true};
inline constexpr Quantity kTurn{"deg", -180, 180};
inline constexpr Quantity kDip{"deg", -90, 90};
inline constexpr Quantity kSlant{"deg", -60, 60};
inline constexpr Quantity kRake{"deg", -60, 60};
inline constexpr Quantity kProud{"mm", 0, 50};
inline constexpr Quantity kSideThickness{"mm", 0, 100, true};
inline constexpr Quantity kCrownRadius{"mm", 0, 10000, true};
inline constexpr Quantity kRoundOver{"mm", 0, 50};
inline constexpr Quantity kShare{"", 0, 1};
inline constexpr Quantity kDensity{"kg/m3", 0, 25000, true};
inline constexpr Quantity kBondLine{"mm", 0, 2};
inline constexpr Quantity kParts{"parts", 0.01, 1000};
inline constexpr Quantity kGlueDensity{"g/ml", 0.5, 3};
inline constexpr Quantity kSqueezeOut{"", 0, 20};
inline constexpr Quantity kCupLoss{"ml", 0, 1000};
inline constexpr Quantity kScaleStep{"g", 0.001, 100};
inline constexpr Quantity kBatch{"g", 0, 10000};
inline constexpr Quantity kReadingLength{"mm", 0, limits::kCoordinateMm};
/// No caliper shows less than 0.01 mm (common practice), so that no reading is surer than that.
inline constexpr Quantity kAccuracy{"mm", 0.01, 5};
inline constexpr Whole kAlikeRange{1, limits::kAlike};
inline constexpr Quantity kStarterLength{"mm", 1, limits::kCoordinateMm};
inline constexpr Quantity kStarterRise{"mm", 0, 500};

inline constexpr Named<LengthUnit> kUnitNames[] = {
    {"mm", LengthUnit::millimetre}, {"inch", LengthUnit::inch}, {"inch_fraction", LengthUnit::inch_fraction}};
inline constexpr Named<DrillWay> kWayNames[] = {{"by_eye", DrillWay::by_eye},
                                                {"to_first", DrillWay::to_first},
                                                {"taped", DrillWay::taped},
                                                {"guide", DrillWay::guide},
                                                {"guide_pinned", DrillWay::guide_pinned}};
inline constexpr Named<SetBy> kSetByNames[] = {{"joint_line", SetBy::joint_line},
                                               {"front_face", SetBy::front_face}};
inline constexpr Named<GlueUp> kGlueUpNames[] = {{"even", GlueUp::even}, {"crept", GlueUp::crept}};
inline constexpr Named<StripEdge> kStripEdgeNames[] = {{"front", StripEdge::front},
                                                       {"rear", StripEdge::rear}};
inline constexpr Named<ReadingKind> kReadingNames[] = {{"length", ReadingKind::length},
                                                       {"step", ReadingKind::step}};
inline constexpr Named<HandleEdge> kEdgeNames[] = {{"spine", HandleEdge::spine},
                                                   {"belly", HandleEdge::belly}};
inline constexpr Named<Which> kSideNames[] = {{"left", Which::left}, {"right", Which::right}};
inline constexpr Named<Face> kFaceNames[] = {{"upper", Face::upper}, {"lower", Face::lower}};
inline constexpr Named<HandCut> kHandCutNames[] = {
    {"single", HandCut::single}, {"book", HandCut::book}, {"slices", HandCut::slices}};
inline constexpr Named<MixBy> kMixNames[] = {{"volume", MixBy::volume}, {"weight", MixBy::weight}};
inline constexpr Named<MaterialKind> kKindNames[] = {
    {"wood", MaterialKind::wood},       {"laminate", MaterialKind::laminate}, {"metal", MaterialKind::metal},
    {"plastic", MaterialKind::plastic}, {"natural", MaterialKind::natural},   {"sheet", MaterialKind::sheet}};
inline constexpr Named<unsigned> kHazardNames[] = {
    {"wood_dust", wood_dust},       {"sensitising_wood", sensitising_wood},
    {"fibre_dust", fibre_dust},     {"resin_dust", resin_dust},
    {"mineral_dust", mineral_dust}, {"trade_controlled", trade_controlled},
    {"oily_wood", oily_wood}};

}  // namespace haftwright::schema
