#include "disc.hpp"

#include <numbers>

#include "numeric.hpp"
#include "plane_section.hpp"

namespace haftwright::layout {
namespace {

constexpr double kPi = std::numbers::pi;
constexpr double kTouch_mm = 1e-9;

bool covers(const Disc& disc, const Disc& other) {
  return glm::distance(disc.centre, other.centre) + other.radius_mm <= disc.radius_mm + kTouch_mm;
}

/// Largest first, none inside another.
void drop_covered(std::vector<Disc>& discs) {
  std::ranges::stable_sort(discs, std::ranges::greater{}, &Disc::radius_mm);
  std::vector<Disc> kept;
  for (const Disc& disc : discs)
    if (std::ranges::none_of(kept, [&](const Disc& larger) { return covers(larger, disc); }))
      kept.push_back(disc);
  discs = std::move(kept);
}

bool near_box(const Disc& disc, const Bounds& box) {
  return disc.centre.x > box.low.x - disc.radius_mm && disc.centre.x < box.high.x + disc.radius_mm &&
         disc.centre.y > box.low.y - disc.radius_mm && disc.centre.y < box.high.y + disc.radius_mm;
}

enum class Standing { outside, crossing, inside };
Standing standing(const Disc& disc, const Outline& outline) {
  if (!near_box(disc, outline.bounds())) return Standing::outside;
  const double depth = outline.depth_mm(disc.centre);
  if (depth >= disc.radius_mm - kTouch_mm) return Standing::inside;
  return depth <= -disc.radius_mm ? Standing::outside : Standing::crossing;
}
Standing standing(const Disc& disc, const std::vector<Outline>& outlines) {
  Standing most = Standing::outside;
  for (const Outline& outline : outlines) most = std::max(most, standing(disc, outline));
  return most;
}

bool touch(const Disc& a, const Disc& b) {
  return glm::distance(a.centre, b.centre) < a.radius_mm + b.radius_mm - kTouch_mm;
}

bool touches_another(const std::vector<Disc>& discs, std::size_t one) {
  for (std::size_t i = 0; i < discs.size(); ++i)
    if (i != one && touch(discs[i], discs[one])) return true;
  return false;
}

Taken sum_of(const std::vector<Band>& bands) {
  Taken taken;
  for (const Band& band : bands)
    for (const RowSpan& span : band.spans) {
      taken.area_mm2 += span.to.area_mm2(band.low, band.high) - span.from.area_mm2(band.low, band.high);
      taken.x_moment_mm3 +=
          span.to.moment_mm3(band.low, band.high) - span.from.moment_mm3(band.low, band.high);
    }
  return taken;
}

}  // namespace

Taken taken_by(std::vector<Disc> discs, const std::vector<Outline>& face,
               const std::vector<Outline>& openings) {
  drop_covered(discs);
  Taken sum;
  for (std::size_t i = 0; i < discs.size(); ++i) {
    const Disc& disc = discs[i];
    const Standing in_face = standing(disc, face);
    if (in_face == Standing::outside) continue;
    const Standing in_opening = standing(disc, openings);
    if (in_opening == Standing::inside) continue;
    const bool whole =
        in_face == Standing::inside && in_opening == Standing::outside && !touches_another(discs, i);
    const Taken here = whole ? Taken{disc.area_mm2(), disc.area_mm2() * disc.centre.x}
                             : sum_of(bands_of(disc, std::span(discs).first(i), face, openings));
    sum.area_mm2 += here.area_mm2;
    sum.x_moment_mm3 += here.x_moment_mm3;
  }
  return sum;
}

double Slice::column_mm(Vec2 p, double top) const {
  double low = 0;
  double high = std::max(0.0, top);
  // The part of the column where behind - s tan(rake) has the wanted sign.
  const auto keep = [&](double behind, double tan_rake) {
    if (tan_rake > 0)
      high = std::min(high, behind / tan_rake);
    else if (tan_rake < 0)
      low = std::max(low, behind / tan_rake);
    else if (behind < 0)
      high = low;
  };
  keep(front.behind_mm(p.x, p.y, 0), front.tan_rake);
  if (!to_butt) keep(-rear.behind_mm(p.x, p.y, 0), -rear.tan_rake);
  return std::max(0.0, high - low);
}

namespace {

/// Whether a hole lies wholly behind, wholly ahead of or across a plane, from s = 0 to the top.
int side_of(const ScaleBody& body, const CutPlane& plane, const Disc& hole) {
  const double reach = hole.radius_mm * std::hypot(1, plane.tan_slant);
  const double inner = plane.behind_mm(hole.centre.x, hole.centre.y, 0);
  const double outer = plane.behind_mm(hole.centre.x, hole.centre.y, body.top_mm);
  if (std::min(inner, outer) >= reach) return 1;
  return std::max(inner, outer) <= -reach ? -1 : 0;
}

template <class Visit>
void visit_twelve_columns(const Disc& hole, Visit&& visit) {
  // Two rings at the Gauss nodes in the square of the radius.
  for (const QuadratureNode& ring : kGauss2)
    for (int spoke = 0; spoke < 6; ++spoke) {
      const double angle = kPi * (spoke + 0.5) / 3;
      const double r = hole.radius_mm * std::sqrt(ring.at);
      visit(hole.centre + r * Vec2{std::cos(angle), std::sin(angle)}, hole.area_mm2() * ring.weight / 6);
    }
}

/// Calls visit(place, weight) at places from `low` to `high` that crowd toward both ends, where what is
/// integrated may start like a square root.
template <class Visit>
void visit_crowded(double low, double high, Visit&& visit) {
  for (const double panel : {0.0, 0.5})
    for (const QuadratureNode& node : kGauss5) {
      const double angle = kPi * (panel + node.at / 2);
      visit(low + (high - low) * (1 - std::cos(angle)) / 2,
            node.weight * std::sin(angle) * (high - low) * kPi / 4);
    }
}

/// Heights that part the rows of a face where holes enter or leave it at either end of its height, or meet
/// each other on it.
std::vector<double> face_heights(const CutPlane& plane, double top_mm, const std::vector<Disc>& holes) {
  std::vector<double> ys;
  for (const Disc& hole : holes) {
    ys.push_back(hole.centre.y - hole.radius_mm);
    ys.push_back(hole.centre.y + hole.radius_mm);
    const double length = std::hypot(1, plane.tan_slant);
    for (const double s : {0.0, top_mm}) {
      const double off = plane.behind_mm(hole.centre.x, hole.centre.y, s) / length;
      const double half_chord = std::sqrt(std::max(0.0, hole.radius_mm * hole.radius_mm - off * off));
      for (const double sign : {-1.0, 1.0})
        ys.push_back(hole.centre.y + (off * plane.tan_slant + sign * half_chord) / length);
    }
  }
  for (std::size_t i = 0; i < holes.size(); ++i)
    for (std::size_t j = 0; j < i; ++j) add_meetings(holes[i], holes[j], ys);
  std::ranges::sort(ys);
  return ys;
}

/// Places that part a hole's width evenly.
std::vector<double> evenly(double centre, double radius_mm) {
  constexpr int kParts = 6;
  std::vector<double> places;
  for (int i = 1; i < kParts; ++i) places.push_back(centre + radius_mm * (2.0 * i / kParts - 1));
  return places;
}

/// Whether the round-over and the edge leave the whole of a hole alone, looked at round its rim.
bool under_crown(const ScaleBody& body, const Disc& hole) {
  constexpr int kPlaces = 16;
  if (body.edge().depth_mm(hole.centre) < hole.radius_mm) return false;
  for (int i = 0; i < kPlaces; ++i) {
    const double angle = 2 * kPi * i / kPlaces;
    const Vec2 p = hole.centre + hole.radius_mm * Vec2{std::cos(angle), std::sin(angle)};
    if (body.surface.height_mm(p) < body.surface.crown_mm(p) - kTouch_mm) return false;
  }
  return true;
}

/// The same bands, parted at further heights.
std::vector<Band> parted(const std::vector<Band>& bands, const std::vector<double>& sorted_ys) {
  std::vector<Band> parts;
  for (Band band : bands) {
    for (const double y : sorted_ys) {
      if (y <= band.low || y >= band.high) continue;
      parts.push_back({band.low, y, band.spans});
      band.low = y;
    }
    parts.push_back(std::move(band));
  }
  return parts;
}

/// Columns on rows along x over the part of a hole that is not drilled yet, parted where a plane enters or
/// leaves the scale: a thin strip that only clips the hole is measured as exactly as a whole piece.
template <class Visit>
void visit_rows(const ScaleBody& body, const std::vector<Band>& bands, std::span<const CutPlane> planes,
                const std::vector<double>& xs, Visit&& visit) {
  for (const Band& band : bands)
    visit_crowded(band.low, band.high, [&](double y, double height) {
      for (const RowSpan& span : band.spans) {
        std::vector<double> breaks{span.from.x_at(y), span.to.x_at(y)};
        for (const CutPlane& plane : planes) {
          const double inner = plane.x_at(y, 0);
          breaks.push_back(inner);
          breaks.push_back(plane.x_at(y, body.s_at({plane.x_at(y, body.s_at({inner, y})), y})));
        }
        breaks.insert(breaks.end(), xs.begin(), xs.end());
        const double first = breaks[0];
        const double last = breaks[1];
        for (double& x : breaks) x = std::clamp(x, first, std::max(first, last));
        std::ranges::sort(breaks);
        for (std::size_t k = 0; k + 1 < breaks.size(); ++k)
          if (breaks[k] < breaks[k + 1])
            visit_crowded(breaks[k], breaks[k + 1], [&](double x, double width) {
              visit(Vec2{x, y}, width * height);
            });
      }
    });
}

/// The slices that a hole meets, and the planes that cross it.
struct MetSlices {
  std::vector<std::size_t> slices;
  std::vector<CutPlane> crossing;
};
MetSlices met_by(const ScaleBody& body, const Disc& hole, std::span<const Slice> slices) {
  MetSlices met;
  for (std::size_t i = 0; i < slices.size(); ++i) {
    const int front = side_of(body, slices[i].front, hole);
    const int rear = slices[i].to_butt ? -1 : side_of(body, slices[i].rear, hole);
    if (front < 0 || rear > 0) continue;
    met.slices.push_back(i);
    if (front == 0) met.crossing.push_back(slices[i].front);
    if (rear == 0) met.crossing.push_back(slices[i].rear);
  }
  return met;
}

/// Length of a row of the face, from s = 0 to `top`, that lies in a hole.
double drilled_row_mm(const CutPlane& plane, double y, double top, const std::vector<Disc>& holes) {
  std::vector<std::pair<double, double>> drilled;
  for (const Disc& hole : holes) {
    const double off = y - hole.centre.y;
    const double square = hole.radius_mm * hole.radius_mm - off * off;
    if (square <= 0) continue;
    const double ahead = hole.centre.x - plane.x_at(y, 0);
    const double half_chord = std::sqrt(square);
    if (plane.tan_rake == 0) {
      if (std::abs(ahead) < half_chord) return top;
      continue;
    }
    const auto [low, high] =
        std::minmax({(ahead - half_chord) / plane.tan_rake, (ahead + half_chord) / plane.tan_rake});
    if (low < top && high > 0) drilled.emplace_back(std::max(0.0, low), std::min(top, high));
  }
  std::ranges::sort(drilled);
  double length = 0;
  double reached = 0;
  for (const auto& [low, high] : drilled) {
    length += std::max(0.0, high - std::max(low, reached));
    reached = std::max(reached, high);
  }
  return length;
}

}  // namespace

std::vector<double> drilled_mm3(const ScaleBody& body, std::vector<Disc> holes,
                                std::span<const Slice> slices) {
  drop_covered(holes);
  std::vector<double> volumes(slices.size(), 0);
  for (std::size_t h = 0; h < holes.size(); ++h) {
    const Disc& hole = holes[h];
    const MetSlices met = met_by(body, hole, slices);
    if (met.slices.empty()) continue;
    const auto add = [&](Vec2 p, double weight) {
      const double top = body.s_at(p);
      for (const std::size_t i : met.slices) volumes[i] += weight * slices[i].column_mm(p, top);
    };
    const bool clear = under_crown(body, hole);
    if (clear && met.crossing.empty() && !touches_another(holes, h)) {
      visit_twelve_columns(hole, add);
      continue;
    }
    const std::span<const Disc> earlier = std::span(holes).first(h);
    std::vector<Band> bands = bands_of(hole, earlier, {body.edge()}, {});
    for (const CutPlane& plane : met.crossing)
      bands =
          parted(bands, face_heights(plane, body.s_at(hole.centre),
                                     {holes.begin(), holes.begin() + static_cast<std::ptrdiff_t>(h) + 1}));
    // Short stretches follow rims that start just beyond a band, and the bend where the round-over meets the
    // crown.
    bands = parted(bands, evenly(hole.centre.y, hole.radius_mm));
    const std::vector<double> xs = clear ? std::vector<double>{} : evenly(hole.centre.x, hole.radius_mm);
    visit_rows(body, bands, met.crossing, xs, add);
  }
  return volumes;
}

double drilled_face_mm2(const ScaleBody& body, const CutPlane& plane, std::vector<Disc> holes) {
  std::erase_if(holes, [&](const Disc& hole) { return side_of(body, plane, hole) != 0; });
  if (holes.empty()) return 0;
  drop_covered(holes);
  double top = surface_s_mm(body, plane, holes.front().centre.y, body.top_mm / 2);
  const std::vector<double> ys = face_heights(plane, top, holes);
  double area = 0;
  for (std::size_t i = 0; i + 1 < ys.size(); ++i) {
    if (drilled_row_mm(plane, (ys[i] + ys[i + 1]) / 2, body.top_mm, holes) == 0) continue;
    visit_crowded(ys[i], ys[i + 1], [&](double y, double width) {
      top = surface_s_mm(body, plane, y, top);
      area += width * drilled_row_mm(plane, y, top, holes);
    });
  }
  return area;
}

}  // namespace haftwright::layout
