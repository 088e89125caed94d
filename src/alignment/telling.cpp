#include "haftwright/alignment/telling.hpp"

#include <algorithm>

namespace haftwright {

std::string measure_words(const LineUp& line_up, std::size_t measure) {
  const MeasureInfo& info = line_up.measures[measure];
  const std::string& words = line_up.places[info.place].words;
  if (info.kind == Measure::Kind::step_mm) return words;
  return words.substr(0, words.rfind(',')) + ", angle";
}

std::vector<std::size_t> telling_measures(const WayReport& way) {
  std::vector<std::size_t> telling;
  const auto same_end = [&](std::size_t a, std::size_t b) {
    const MeasureInfo& first = way.line_up.measures[a];
    const MeasureInfo& second = way.line_up.measures[b];
    const MeetingPlace& place = way.line_up.places[first.place];
    const MeetingPlace& other = way.line_up.places[second.place];
    return first.kind == second.kind && place.joint == other.joint && place.edge == other.edge &&
           place.surface == other.surface;
  };
  for (std::size_t m = 0; m < way.line_up.measures.size(); ++m) {
    const auto found = std::ranges::find_if(telling, [&](std::size_t t) { return same_end(t, m); });
    if (found == telling.end())
      telling.push_back(m);
    else if (way.draws.measures[m].size_95 > way.draws.measures[*found].size_95)
      *found = m;
  }
  return telling;
}

}  // namespace haftwright
