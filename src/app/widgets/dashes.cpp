#include "dashes.hpp"

#include <algorithm>
#include <cmath>
#include <utility>

#include "widgets.hpp"

namespace haftwright::app {
namespace {

ImVec2 between(ImVec2 a, ImVec2 b, float share) {
  return {a.x + (b.x - a.x) * share, a.y + (b.y - a.y) * share};
}

/// Outside of what is clipped away nothing needs dashes, and zoomed far in a line has very many of them.
bool in_sight(const ImDrawList& draw, ImVec2 a, ImVec2 b) {
  const ImVec2 low = draw.GetClipRectMin();
  const ImVec2 high = draw.GetClipRectMax();
  return std::max(a.x, b.x) >= low.x && std::min(a.x, b.x) <= high.x && std::max(a.y, b.y) >= low.y &&
         std::min(a.y, b.y) <= high.y;
}

/// The part of a stroke a-b, as shares of it, that can be seen along its longer direction.
std::pair<float, float> seen_part(const ImDrawList& draw, ImVec2 a, ImVec2 b) {
  const bool flat = std::abs(b.x - a.x) >= std::abs(b.y - a.y);
  const float from = flat ? a.x : a.y;
  const float run = flat ? b.x - a.x : b.y - a.y;
  if (run == 0) return {0, 1};
  const ImVec2 low = draw.GetClipRectMin();
  const ImVec2 high = draw.GetClipRectMax();
  const float first = ((flat ? low.x : low.y) - from) / run;
  const float last = ((flat ? high.x : high.y) - from) / run;
  return {std::clamp(std::min(first, last), 0.0F, 1.0F), std::clamp(std::max(first, last), 0.0F, 1.0F)};
}

}  // namespace

void dash(ImDrawList& draw, const std::vector<ImVec2>& points, ImU32 colour, float width) {
  const float length = scaled(5);
  float along = 0;
  for (std::size_t i = 0; i + 1 < points.size(); ++i) {
    const ImVec2 a = points[i];
    const ImVec2 b = points[i + 1];
    const float whole = std::hypot(b.x - a.x, b.y - a.y);
    if (whole > 0 && in_sight(draw, a, b)) {
      const auto [first, last] = seen_part(draw, a, b);
      for (float t = first * whole; t < last * whole;) {
        const float phase = std::fmod(along + t, 2 * length);
        const float run = std::min(last * whole - t, phase < length ? length - phase : 2 * length - phase);
        if (phase < length)
          draw.AddLine(between(a, b, t / whole), between(a, b, (t + run) / whole), colour, width);
        t += std::max(run, 0.1F);
      }
    }
    along += whole;
  }
}

}  // namespace haftwright::app
