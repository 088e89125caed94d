// Readings sorted by line, end and datum; each that can't be used with its reason.
#include <algorithm>
#include <array>
#include <cmath>
#include <limits>
#include <map>

#include "dry_fit_parts.hpp"
#include "haftwright/alignment/reading_place.hpp"
#include "haftwright/design/ids.hpp"
#include "haftwright/design/quantities.hpp"
#include "haftwright/geometry/outline_ops.hpp"
#include "haftwright/words/words.hpp"

namespace haftwright::alignment {
namespace {

/// A value that one reading tells, or several together.
struct Told {
  double value = 0;
  double variance = 1;
  std::vector<std::size_t> readings;
};

/// Weighted mean, and what the values are off from it, in deviations, squared and added.
struct Mean {
  double value = 0;
  double variance = 0;
  double chi_square = 0;
};
Mean mean_of(const std::vector<Told>& all) {
  double weight = 0, sum = 0;
  for (const Told& one : all) {
    weight += 1 / one.variance;
    sum += one.value / one.variance;
  }
  Mean mean{sum / weight, 1 / weight};
  for (const Told& one : all)
    mean.chi_square += (one.value - mean.value) * (one.value - mean.value) / one.variance;
  return mean;
}

using BothSides = std::array<std::vector<Told>, 2>;  ///< left, right: x of the end
struct EndReadings {
  std::map<std::string, BothSides> by_datum;
  std::vector<Told> steps;  ///< read straight across, left less right
};

std::string number(std::size_t n) {
  return std::to_string(n);
}

/// "Readings 1, 5 and 6".
std::string readings_words(std::vector<std::size_t> readings) {
  std::ranges::sort(readings);
  std::string words = readings.size() > 1 ? "Readings " : "Reading ";
  for (std::size_t i = 0; i < readings.size(); ++i) {
    if (i > 0) words += i + 1 == readings.size() ? " and " : ", ";
    words += number(readings[i] + 1);
  }
  return words;
}

/// The one farthest from the middle one; of two, either.
std::string suspect_words(std::vector<Told> all) {
  if (all.size() == 2) return "Read both again";
  std::ranges::sort(all, {}, &Told::value);
  const double middle = all[all.size() / 2].value;
  const auto suspect = std::ranges::max_element(
      all, {}, [&](const Told& one) { return (one.value - middle) * (one.value - middle) / one.variance; });
  return readings_words(suspect->readings) + (suspect->readings.size() > 1
                                                  ? " are the suspects: read them again"
                                                  : " is the suspect: read it again");
}

class Gathering {
 public:
  Gathering(const Design& design, const Handle& handle) : design_(design), handle_(handle) {}

  Readings take() {
    for (std::size_t i = 0; i < design_.dry_fit.size(); ++i)
      if (const std::string why = sort_in(i); !why.empty()) made_.unused.push_back({i, why});
    for (const auto& [place, readings] : sorted_) add_end(place, readings);
    std::ranges::sort(made_.unused, {}, &UnusedReading::reading);
    return std::move(made_);
  }

 private:
  /// Empty when the reading can be used, else why not.
  std::string sort_in(std::size_t i) {
    const CaliperReading& reading = design_.dry_fit[i];
    const std::optional<std::size_t> joint = joint_read(design_, reading);
    if (!joint) return why_no_joint(reading.joint);
    LinePlace place{*joint, reading.strip_edge, reading.at};
    const std::size_t left = handle_.left.joints[place.joint].lines.size();
    const std::size_t right = handle_.right.joints[place.joint].lines.size();
    if (place.strip_edge == StripEdge::rear) {
      if (left != right)
        return "joint " + number(place.joint + 1) + " has " + number(left - 1) + " strips on the left and " +
               number(right - 1) +
               " on the right, so that the rear edges of its strips have nothing to meet; read the front "
               "edge";
      if (left == 1) place.strip_edge = StripEdge::front;
    }
    constexpr double kTwoDeviations = 2;
    const double variance = std::pow(reading.accuracy_mm / kTwoDeviations, 2);
    if (reading.kind == ReadingKind::step) {
      const double sign = reading.side == Which::left ? 1 : -1;  // x grows toward the butt
      sorted_[place].steps.push_back({sign * reading.reading_mm, variance, {i}});
      return {};
    }
    double x = 0;
    if (const std::string why = find_x(reading, place, x); !why.empty()) return why;
    if (crossings(handle_.side(reading.side).edge, {x, 0}, {0, 1}).size() < 2)
      return "it puts the line " + format_length(x, design_.shown_unit) +
             " behind the origin, which is off the handle; read it again";
    sorted_[place].by_datum[reading.from_pin][reading.side == Which::left ? 0 : 1].push_back(
        {x, variance, {i}});
    return {};
  }

  std::string why_no_joint(const std::string& id) const {
    const std::vector<Joint>& left = design_.joints(Which::left);
    const std::vector<Joint>& right = design_.joints(Which::right);
    const std::size_t on_left = index_of(left, id), on_right = index_of(right, id);
    if (on_left < left.size() && on_right < right.size())
      return "joint " + number(on_left + 1) + " of the left side is joint " + number(on_right + 1) +
             " of the right side, so that the two do not meet: give both sides the same joints first";
    const std::size_t both = common_joints(handle_);
    return "there is no joint with the id \"" + id + "\" on both sides: they have " +
           (both == 0 ? "none" : number(both)) + " in common" + schema::did_you_mean(nearest_id(id, left));
  }

  /// From the datum to the line, the way the line lies.
  std::string find_x(const CaliperReading& reading, const LinePlace& place, double& x) const {
    const SideLayout& side = handle_.side(reading.side);
    if (reading.from_pin.empty()) {
      const LineEnd& front = reading.at == HandleEdge::spine ? side.front_spine : side.front_belly;
      return x_from_front(side, Vec2(front.inner), line_end(side, reading, place), reading.reading_mm, x);
    }
    const std::size_t index = index_of(design_.pins, reading.from_pin);
    if (index == design_.pins.size())
      return "there is no pin with the id \"" + reading.from_pin + "\"" +
             schema::did_you_mean(nearest_id(reading.from_pin, design_.pins));
    const Pin& pin = design_.pins[index];
    const Vec2 end = line_end(side, reading, place);
    const double toward = end.x < pin.at_mm.x ? -1 : 1;
    const double near_side = pin.at_mm.x + toward * pin.stock.diameter_mm() / 2;
    // A line that runs past over the pin itself lies on the other side of its near side.
    x = near_side + (end.x < near_side ? -1 : 1) * reading.reading_mm;
    return {};
  }

  static Vec2 line_end(const SideLayout& side, const CaliperReading& reading, const LinePlace& place) {
    const auto& lines = side.joints[place.joint].lines;
    const JointLine& line = place.strip_edge == StripEdge::front ? lines.front() : lines.back();
    return Vec2((reading.at == HandleEdge::spine ? line.spine : line.belly).inner);
  }

  /// The place of the edge that lies `reading_mm` straight from the front's end: the edge may rise or fall
  /// between the two.
  std::string x_from_front(const SideLayout& side, Vec2 front, Vec2 laid_out, double reading_mm,
                           double& x) const {
    constexpr int kMostSteps = 40;
    constexpr double kClose_mm = 1e-12;
    double height = laid_out.y;
    x = laid_out.x;
    for (int step = 0; step < kMostSteps; ++step) {
      const double rise = height - front.y;
      if (std::abs(rise) > reading_mm)
        return "it is shorter than the edge rises between the front and the line; read it again";
      const double before = x;
      x = front.x + std::sqrt(reading_mm * reading_mm - rise * rise);
      if (std::abs(x - before) < kClose_mm) break;
      double nearest = std::numeric_limits<double>::infinity();
      for (const Crossing& crossing : crossings(side.edge, {x, 0}, {0, 1})) {
        if (std::abs(crossing.point.y - laid_out.y) >= nearest) continue;
        nearest = std::abs(crossing.point.y - laid_out.y);
        height = crossing.point.y;
      }
    }
    return {};
  }

  void add_end(const LinePlace& place, const EndReadings& readings) {
    std::vector<Told> lefts, steps = readings.steps;
    bool twice = false;  // from one place, on both sides
    for (const auto& [datum, both] : readings.by_datum) {
      for (const std::size_t side : {0u, 1u})
        hold_together(both[side], place_words(place, has_strips(place)) + ", " +
                                      (side == 0 ? "left" : "right") + " side");
      if (both[0].empty() || both[1].empty()) {
        name_one_sided(place, datum, both);
        continue;
      }
      const Mean left = mean_of(both[0]), right = mean_of(both[1]);
      lefts.push_back({left.value, left.variance, {}});
      Told step{left.value - right.value, left.variance + right.variance, {}};
      for (const std::vector<Told>& side : both)
        for (const Told& one : side) step.readings.push_back(one.readings.front());
      steps.push_back(step);
      twice = twice || std::min(both[0].size(), both[1].size()) > 1;
      (datum.empty() ? made_.from_front : made_.from_pin) = true;
    }
    if (steps.empty()) return;
    hold_together(steps, place_words(place, has_strips(place)) + ", the step");
    const Mean step = mean_of(steps);
    ReadEnd end{.place = place,
                .step_mm = step.value,
                .step_variance = step.variance,
                .confirmed = twice || steps.size() > 1};
    if (!lefts.empty()) {
      const Mean left = mean_of(lefts);
      end.left_mm = left.value;
      end.left_variance = left.variance;
    }
    made_.ends.push_back(end);
  }

  bool has_strips(const LinePlace& place) const { return handle_.left.joints[place.joint].lines.size() > 1; }

  /// What was read of one thing must agree as well as it is accurate.
  void hold_together(const std::vector<Told>& all, const std::string& what) {
    if (!made_.contradiction.empty() || all.size() < 2 ||
        !beyond_chance(mean_of(all).chi_square, all.size() - 1))
      return;
    std::vector<std::size_t> readings;
    for (const Told& one : all) readings.insert(readings.end(), one.readings.begin(), one.readings.end());
    made_.contradiction =
        readings_words(readings) + " (" + what +
        ") contradict each other by more than their accuracy allows. " +
        (readings.size() > 2 && all.size() == 2 ? "Read all of them again" : suspect_words(all)) +
        " before anything is done.";
  }

  void name_one_sided(const LinePlace& place, const std::string& datum, const BothSides& both) {
    const Which read = both[1].empty() ? Which::left : Which::right;
    const Which other = read == Which::left ? Which::right : Which::left;
    for (const Told& one : both[read == Which::left ? 0 : 1])
      made_.unused.push_back(
          {one.readings.front(), "only the " + std::string(name_of(read)) + " side was read from " +
                                     datum_words(datum) + " to " + place_words(place, has_strips(place)) +
                                     "; read the " + name_of(other) + " side from there too"});
  }

  std::string datum_words(const std::string& pin) const {
    return pin.empty() ? "the front face" : pin_words(design_, index_of(design_.pins, pin));
  }

  const Design& design_;
  const Handle& handle_;
  std::map<LinePlace, EndReadings> sorted_;
  Readings made_;
};

}  // namespace

bool beyond_chance(double chi_square, std::size_t freedom) {
  if (freedom == 0) return false;
  // The 99th percentile by Wilson and Hilferty's cube root (Proc. Natl. Acad. Sci. 17, 1931, 684-688): within
  // 3 % of the exact value for one degree of freedom, closer for more.
  constexpr double kNinetyNine = 2.3263478740;
  const double f = static_cast<double>(freedom), spread = 2 / (9 * f);
  const double root = 1 - spread + kNinetyNine * std::sqrt(spread);
  return chi_square > f * root * root * root;
}

std::string place_words(const LinePlace& place, bool strips) {
  return "joint " + number(place.joint + 1) +
         (strips ? std::string(", ") + (place.strip_edge == StripEdge::front ? "front" : "rear") + " line"
                 : "") +
         ", at the " + name_of(place.at);
}

Readings gather_readings(const Design& design, const Handle& handle) {
  return Gathering(design, handle).take();
}

}  // namespace haftwright::alignment
