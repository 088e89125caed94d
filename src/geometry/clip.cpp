#include <algorithm>
#include <cmath>
#include <stdexcept>

#include "chain_parts.hpp"
#include "haftwright/geometry/outline_ops.hpp"
#include "line_walk.hpp"
#include "tolerances.hpp"

namespace haftwright {

using namespace geometry;

namespace {

constexpr double kSliver_mm2 = 1e-9;

struct Line {
  Vec2 normal;
  double limit;
};

Line unit_line(Vec2 normal, double limit) {
  const double length = std::hypot(normal.x, normal.y);
  if (!(length > 0) || !std::isfinite(length) || !std::isfinite(limit)) {
    throw std::invalid_argument("a cutting line needs a direction and finite numbers");
  }
  return {normal / length, limit / length};
}

Vec2 point_at(const Outline& outline, Place place) {
  return outline.edges()[place.edge].point(place.t);
}

// A part of the boundary on the kept side. The clipped outline goes on from its end, straight along the cut,
// to the start of the stretch `next`.
struct Stretch {
  Place from;
  Place to;
  std::size_t next = 0;
  bool used = false;
};

// Stretches between contacts, in the order of the chain: also those that only touch the cut end there, since
// the cut may part the outline at such a place.
std::vector<Stretch> kept_stretches(std::vector<LineContact> contacts) {
  std::erase_if(contacts, [](const LineContact& c) { return c.before > 0 && c.after > 0; });
  std::vector<Stretch> stretches;
  for (std::size_t i = 0; i < contacts.size(); ++i) {
    if (contacts[i].after > 0) continue;
    stretches.push_back({contacts[i].last, contacts[(i + 1) % contacts.size()].first});
  }
  return stretches;
}

// Along the cut, with the kept side on the left, ends and starts of stretches take turns: inside the outline
// from an end to the next start, outside from a start to the next end.
void link(std::vector<Stretch>& stretches, const Outline& outline, Vec2 along) {
  struct Stop {
    double s;
    bool is_end;
    std::size_t stretch;
  };
  std::vector<Stop> stops;
  for (std::size_t i = 0; i < stretches.size(); ++i) {
    stops.push_back({glm::dot(along, point_at(outline, stretches[i].to)), true, i});
    stops.push_back({glm::dot(along, point_at(outline, stretches[i].from)), false, i});
  }
  std::ranges::stable_sort(stops, {}, &Stop::s);
  for (std::size_t k = 0; k < stops.size(); ++k) {
    // Two stops that rounding has put in the wrong order lie at one place: take the next of the wanted kind.
    const bool want_end = k % 2 == 0;
    const auto here = stops.begin() + static_cast<std::ptrdiff_t>(k);
    const auto wanted = std::find_if(here, stops.end(), [&](const Stop& s) { return s.is_end == want_end; });
    std::rotate(here, wanted, wanted + 1);
    if (!want_end) stretches[stops[k - 1].stretch].next = stops[k].stretch;
  }
}

}  // namespace

std::vector<Outline> clip(const Outline& outline, const HalfPlane& keep) {
  const Line line = unit_line(keep.normal, keep.limit);
  const LineWalk walk = walk_past_line(outline, line.normal, line.limit);
  const bool all_on_one_side = std::ranges::none_of(walk.contacts, &LineContact::passes);
  if (all_on_one_side) return walk.side > 0 ? std::vector<Outline>{} : std::vector<Outline>{outline};
  std::vector<Stretch> stretches = kept_stretches(walk.contacts);
  link(stretches, outline, turned_left(line.normal));
  std::vector<Outline> result;
  for (std::size_t first = 0; first < stretches.size(); ++first) {
    std::vector<Node> chain;
    for (std::size_t i = first; !stretches[i].used; i = stretches[i].next) {
      stretches[i].used = true;
      append_stretch(chain, outline, stretches[i].from, stretches[i].to);
    }
    drop_short_edges(chain, kSamePlace_mm);
    if (chain.size() < 2) continue;
    Outline part = Outline::trusted(std::move(chain));
    if (part.area_mm2() >= kSliver_mm2) result.push_back(std::move(part));
  }
  return result;
}

std::vector<Outline> clip(const std::vector<Outline>& outlines, const HalfPlane& keep) {
  std::vector<Outline> result;
  for (const Outline& outline : outlines) {
    for (Outline& part : clip(outline, keep)) result.push_back(std::move(part));
  }
  return result;
}

std::vector<Crossing> crossings(const Outline& outline, Vec2 origin, Vec2 direction) {
  const Vec2 normal = turned_left(direction);
  const Line line = unit_line(normal, glm::dot(normal, origin));
  const Vec2 along = turned_left(line.normal) * -1.0;
  std::vector<Crossing> result;
  for (const LineContact& contact : walk_past_line(outline, line.normal, line.limit).contacts) {
    if (!contact.passes()) continue;
    const Vec2 point = point_at(outline, contact.first);
    result.push_back({glm::dot(along, point - origin), point, contact.first.edge});
  }
  std::ranges::stable_sort(result, {}, &Crossing::along_mm);
  return result;
}

}  // namespace haftwright
