// Readings sorted by line, end and datum; each that can't be used with its reason.
#include <algorithm>
#include <array>
#include <cmath>
#include <map>

#include "dry_fit_parts.hpp"
#include "haftwright/geometry/outline_ops.hpp"
#include "haftwright/reference/materials.hpp"

namespace haftwright::alignment {
namespace {

/// Weighted mean of readings of one end from one datum.
struct Mean {
  double squares = 0;
  double weight = 0;
  double sum = 0;
  void add(double value, double variance) {
    weight += 1 / variance;
    sum += value / variance;
    squares += value * value / variance;
    ++count;
  }
  bool any() const { return weight > 0; }
  double value() const { return sum / weight; }
  double variance() const { return 1 / weight; }
  /// What the values are off from their mean, in deviations, squared and added.
  double chi_square() const { return std::max(0.0, squares - sum * sum / weight); }
  std::size_t count = 0;
};

struct OneReading {
  std::size_t reading = 0;
  double x_mm = 0;
  double deviation_mm = 0;
};

struct BothSides {
  std::array<Mean, 2> side;  ///< left, right: x of the end
  std::array<std::vector<OneReading>, 2> readings;
};

std::string number(std::size_t n) {
  return std::to_string(n);
}

std::string datum_words(const std::string& pin) {
  return pin.empty() ? "the front face" : "pin \"" + pin + "\"";
}

class Gathering {
 public:
  Gathering(const Design& design, const Handle& handle) : design_(design), handle_(handle) {}

  Readings take() {
    for (std::size_t i = 0; i < design_.dry_fit.size(); ++i)
      if (const std::string why = sort_in(i); !why.empty()) made_.unused.push_back({i, why});
    for (const auto& [place, by_datum] : sorted_) add_end(place, by_datum);
    std::ranges::sort(made_.unused, {}, &UnusedReading::reading);
    return std::move(made_);
  }

 private:
  /// Empty when the reading can be used, else why not.
  std::string sort_in(std::size_t i) {
    const CaliperReading& reading = design_.dry_fit[i];
    const std::size_t joints = std::min(handle_.left.joints.size(), handle_.right.joints.size());
    if (reading.joint != std::floor(reading.joint) || reading.joint < 1 ||
        reading.joint > static_cast<double>(joints))
      return "there is no joint " + shortest_number(reading.joint) + " on both sides: they have " +
             (joints == 0 ? "none" : number(joints)) + " in common";
    LinePlace place{static_cast<std::size_t>(reading.joint) - 1, reading.strip_edge, reading.at};
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
    double x = 0;
    if (const std::string why = find_x(reading, place, x); !why.empty()) return why;
    if (crossings(handle_.side(reading.side).edge, {x, 0}, {0, 1}).size() < 2)
      return "it puts the line " + format_length(x, design_.shown_unit) +
             " behind the origin, which is off the handle; read it again";
    BothSides& both = sorted_[place][reading.from_pin];
    const std::size_t side = reading.side == Which::left ? 0 : 1;
    constexpr double kTwoDeviations = 2;
    const double deviation = reading.accuracy_mm / kTwoDeviations;
    both.side[side].add(x, deviation * deviation);
    both.readings[side].push_back({i, x, deviation});
    return {};
  }

  /// From the datum to the line, the way the line lies.
  std::string find_x(const CaliperReading& reading, const LinePlace& place, double& x) const {
    const SideLayout& side = handle_.side(reading.side);
    if (reading.from_pin.empty()) {
      const LineEnd& front = reading.at == HandleEdge::spine ? side.front_spine : side.front_belly;
      x = front.inner.x + reading.reading_mm;
      return {};
    }
    const auto pin = std::ranges::find(design_.pins, reading.from_pin, &Pin::name);
    if (pin == design_.pins.end()) {
      std::vector<std::string> names;
      for (const Pin& known : design_.pins) names.push_back(known.name);
      const std::string near = nearest_word(reading.from_pin, names);
      return "there is no pin called \"" + reading.from_pin + "\"" +
             (near.empty() ? "" : "; did you mean \"" + near + "\"?");
    }
    const auto& lines = side.joints[place.joint].lines;
    const JointLine& line = place.strip_edge == StripEdge::front ? lines.front() : lines.back();
    const LineEnd& end = reading.at == HandleEdge::spine ? line.spine : line.belly;
    const double toward = end.inner.x < pin->at_mm.x ? -1 : 1;
    const double near_side = pin->at_mm.x + toward * pin->stock.diameter_mm() / 2;
    // A line that runs past over the pin itself lies on the other side of its near side.
    x = near_side + (end.inner.x < near_side ? -1 : 1) * reading.reading_mm;
    return {};
  }

  void add_end(const LinePlace& place, const std::map<std::string, BothSides>& by_datum) {
    Mean left, step;
    for (const auto& [datum, both] : by_datum) {
      hold_together(place, both);
      if (!both.side[0].any() || !both.side[1].any()) {
        name_one_sided(place, datum, both);
        continue;
      }
      left.add(both.side[0].value(), both.side[0].variance());
      step.add(both.side[0].value() - both.side[1].value(),
               both.side[0].variance() + both.side[1].variance());
      (datum.empty() ? made_.from_front : made_.from_pin) = true;
    }
    if (step.count > 1 && beyond_chance(step.chi_square(), step.count - 1) && made_.contradiction.empty())
      made_.contradiction =
          "The readings of " + place_words(place, has_strips(place)) +
          " taken from different places give steps that contradict each other. Read both sides again "
          "from each of them before anything is done.";
    if (step.any())
      made_.ends.push_back({place, left.value(), left.variance(), step.value(), step.variance()});
  }

  bool has_strips(const LinePlace& place) const { return handle_.left.joints[place.joint].lines.size() > 1; }

  /// Readings of one end from one place must agree as well as they are accurate.
  void hold_together(const LinePlace& place, const BothSides& both) {
    for (const std::size_t side : {0u, 1u}) {
      const Mean& mean = both.side[side];
      if (mean.count < 2 || !beyond_chance(mean.chi_square(), mean.count - 1) || !made_.contradiction.empty())
        continue;
      const std::vector<OneReading>& all = both.readings[side];
      made_.contradiction = "Readings ";
      for (std::size_t i = 0; i < all.size(); ++i)
        made_.contradiction += (i == 0                ? ""
                                : i + 1 == all.size() ? " and "
                                                      : ", ") +
                               number(all[i].reading + 1);
      made_.contradiction += " (" + place_words(place, has_strips(place)) + ", " +
                             (side == 0 ? "left" : "right") +
                             " side) contradict each other by more than their accuracy allows. " +
                             suspect_words(all) + " before anything is done.";
    }
  }

  /// The reading farthest from the middle one; of two, either.
  std::string suspect_words(std::vector<OneReading> all) const {
    if (all.size() == 2) return "Read both again";
    std::ranges::sort(all, {}, &OneReading::x_mm);
    const double middle = all[all.size() / 2].x_mm;
    const auto suspect = std::ranges::max_element(
        all, {}, [&](const OneReading& one) { return std::abs(one.x_mm - middle) / one.deviation_mm; });
    return "Reading " + number(suspect->reading + 1) + " is the suspect: read it again";
  }

  void name_one_sided(const LinePlace& place, const std::string& datum, const BothSides& both) {
    const Which read = both.side[0].any() ? Which::left : Which::right;
    const Which other = read == Which::left ? Which::right : Which::left;
    for (const OneReading& one : both.readings[read == Which::left ? 0 : 1])
      made_.unused.push_back({one.reading, "only the " + std::string(name_of(read)) + " side was read from " +
                                               datum_words(datum) + " to " +
                                               place_words(place, has_strips(place)) + "; read the " +
                                               name_of(other) + " side from there too"});
  }

  const Design& design_;
  const Handle& handle_;
  std::map<LinePlace, std::map<std::string, BothSides>> sorted_;
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
