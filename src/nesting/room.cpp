#include "room.hpp"

#include <algorithm>
#include <cmath>

namespace haftwright::nesting::inner {

namespace {

/// Rounding moves a corner or a place by less than this many micrometres altogether.
constexpr double kRounding = 3;
constexpr Int kRings = 4;
constexpr double kFarthest = 3e8;

void add_borders(Room& room, const Path& path) {
  for (std::size_t i = 0; i < path.size(); ++i) {
    const Point& a = path[i];
    const Point& b = next(path, i);
    room.borders.push_back(
        {a, b, {std::min(a.X, b.X), std::min(a.Y, b.Y), std::max(a.X, b.X), std::max(a.Y, b.Y)}});
    const Point& c = path[(i + 2) % path.size()];
    if (side(a, b, c) < 0) room.corners.push_back({b, b - a, c - b});
  }
}

void add_contact(std::vector<Contact>& contacts, const Point& a, const Point& b) {
  if (a != b) contacts.push_back({a, b});
}

/// Two polygons' edges by direction, those of `b` turned by half a turn: the border of their Minkowski sum.
Path sum_with_mirrored(const Path& a, const Path& b) {
  Path sum;
  sum.reserve(a.size() * b.size());
  for (const Point& p : a)
    for (const Point& q : b) sum.push_back(p - q);
  return hull(std::move(sum));
}

/// Each edge's line moved outward by `gap`, met with the next.
Path moved_out(const Path& convex, Int gap) {
  if (gap == 0) return convex;
  struct Line {
    double nx, ny, c;
  };
  std::vector<Line> lines;
  for (std::size_t i = 0; i < convex.size(); ++i) {
    const Point d = next(convex, i) - convex[i];
    const double length = std::hypot(static_cast<double>(d.X), static_cast<double>(d.Y));
    const double nx = static_cast<double>(d.Y) / length, ny = -static_cast<double>(d.X) / length;
    lines.push_back({nx, ny,
                     nx * static_cast<double>(convex[i].X) + ny * static_cast<double>(convex[i].Y) +
                         static_cast<double>(gap)});
  }
  Path path;
  for (std::size_t i = 0; i < lines.size(); ++i) {
    const Line& u = lines[i == 0 ? lines.size() - 1 : i - 1];
    const Line& v = lines[i];
    const double det = u.nx * v.ny - u.ny * v.nx;
    // A needle's point could lie anywhere: what is asked here must stay within the grid.
    const auto on_grid = [](double x) { return std::llround(std::clamp(x, -kFarthest, kFarthest)); };
    path.push_back({on_grid((u.c * v.ny - u.ny * v.c) / det), on_grid((u.nx * v.c - u.c * v.nx) / det)});
  }
  return path;
}

Int rounded(Wide numerator, Int denominator) {
  const Wide half = denominator / 2;
  return static_cast<Int>(numerator >= 0 ? (numerator + half) / denominator
                                         : (numerator - half) / denominator);
}

bool has_edge_along(const Path& convex, const Point& direction) {
  for (std::size_t i = 0; i < convex.size(); ++i) {
    const Point d = next(convex, i) - convex[i];
    if (cross(d, direction) == 0 && d.X * direction.X + d.Y * direction.Y > 0) return true;
  }
  return false;
}

/// Right through the box, and exactly along the same line.
Contact lengthened(const Contact& contact, const Box& box) {
  const Point d = contact.b - contact.a;
  const Int longest = std::max(std::abs(d.X), std::abs(d.Y));
  if (longest == 0) return contact;
  const Int times = 2 * (box.right - box.left + box.top - box.bottom) / longest + 1;
  return {contact.a - Point{d.X * times, d.Y * times}, contact.b + Point{d.X * times, d.Y * times}};
}

struct Meeting {
  Point at;
  bool exact = true;
};
/// Where two contacts cross or touch; none where they are parallel.
std::optional<Meeting> meet(const Contact& u, const Contact& v) {
  const Point d = u.b - u.a;
  const Point e = v.b - v.a;
  Int den = cross(d, e);
  if (den == 0) return std::nullopt;
  const Point w = v.a - u.a;
  Int s = cross(w, e);
  Int t = cross(w, d);
  if (den < 0) {
    den = -den;
    s = -s;
    t = -t;
  }
  if (s < 0 || s > den || t < 0 || t > den) return std::nullopt;
  const Wide x = Wide{d.X} * s, y = Wide{d.Y} * s;
  return Meeting{{u.a.X + rounded(x, den), u.a.Y + rounded(y, den)}, x % den == 0 && y % den == 0};
}

/// The corners of the contacts' arrangement, each once.
std::vector<Meeting> corners_of(const std::vector<Contact>& contacts) {
  std::vector<Meeting> corners;
  for (const Contact& contact : contacts) {
    corners.push_back({contact.a, false});
    corners.push_back({contact.b, false});
  }
  for (std::size_t i = 0; i < contacts.size(); ++i) {
    const Contact& u = contacts[i];
    const Box box = box_of({u.a, u.b});
    for (std::size_t j = i + 1; j < contacts.size(); ++j) {
      const Contact& v = contacts[j];
      if (std::max(v.a.X, v.b.X) < box.left || std::min(v.a.X, v.b.X) > box.right ||
          std::max(v.a.Y, v.b.Y) < box.bottom || std::min(v.a.Y, v.b.Y) > box.top)
        continue;
      if (const std::optional<Meeting> meeting = meet(u, v)) corners.push_back(*meeting);
    }
  }
  // Of equal points the one that may be off comes first and is kept.
  std::sort(corners.begin(), corners.end(), [](const Meeting& a, const Meeting& b) {
    return a.at == b.at ? a.exact < b.exact : before(a.at, b.at);
  });
  const auto same = [](const Meeting& a, const Meeting& b) { return a.at == b.at; };
  corners.erase(std::unique(corners.begin(), corners.end(), same), corners.end());
  return corners;
}

/// The place, or where rounding made it illegal, a neighbour on the grid that is legal.
std::optional<Point> legal_near(const Room& room, const Turned& shape, const Others& others,
                                const Meeting& corner) {
  if (legal_at(room, shape.full, others, corner.at)) return corner.at;
  if (corner.exact || !legal_at(room, shape.loose, others, corner.at)) return std::nullopt;
  // Rings about it: in a narrow corner the first point of the grid that is free lies some way in.
  for (Int ring = 1; ring <= kRings; ++ring)
    for (Int dx = -ring; dx <= ring; ++dx)
      for (Int dy = -ring; dy <= ring; dy += std::abs(dx) == ring ? 1 : 2 * ring) {
        const Point beside{corner.at.X + dx, corner.at.Y + dy};
        if (legal_at(room, shape.full, others, beside)) return beside;
      }
  return std::nullopt;
}

}  // namespace

Room room_of(const Stock& stock, const Rules& rules) {
  Room room;
  room.usable = grown({to_grid(stock.outline)}, -to_grid(stock.trim_mm));
  for (const Polygon& polygon : stock.keep_outs)
    for (Path& path : grown({to_grid(polygon)}, to_grid(rules.defect_margin_mm)))
      room.keep_outs.push_back(std::move(path));
  finish(room);
  return room;
}

void finish(Room& room) {
  Path all;
  for (const Path& path : room.usable) {
    room.area_mm2 += area_mm2(path);
    add_borders(room, path);
    all.insert(all.end(), path.begin(), path.end());
  }
  if (!all.empty()) room.box = box_of(all);
  room.usable_hull = hull(std::move(all));
  for (const Path& path : room.keep_outs) add_borders(room, Path(path.rbegin(), path.rend()));
}

Shape shape_of(Path outline) {
  Shape shape;
  shape.box = box_of(outline);
  const std::size_t n = outline.size();
  shape.thirds = outline[0] + outline[n / 3] + outline[2 * n / 3];
  shape.outline = std::move(outline);
  return shape;
}

Turned turned_of(Path outline) {
  Turned shape;
  shape.loose = shape_of(shrunk(outline, kRounding).value_or(outline));
  shape.full = shape_of(std::move(outline));
  return shape;
}

bool legal_in(const Room& room, const Shape& shape, const Point& at) {
  const Box here = moved(shape.box, at);
  if (here.left < room.box.left || here.right > room.box.right || here.bottom < room.box.bottom ||
      here.top > room.box.top)
    return false;
  for (const Border& border : room.borders)
    if (!apart(here, border.box) && meets_inside(border.a - at, border.b - at, shape.outline)) return false;
  const Point inside = shape.thirds + Point{3 * at.X, 3 * at.Y};
  const auto holds_it = [&](const Path& path) { return holds(path, inside); };
  return std::any_of(room.usable.begin(), room.usable.end(), holds_it) &&
         std::none_of(room.keep_outs.begin(), room.keep_outs.end(), holds_it);
}

bool legal_at(const Room& room, const Shape& shape, const Others& others, const Point& at) {
  for (const Path& other : others.outlines)
    if (!parted(other, shape.outline, at, others.gap)) return false;
  return legal_in(room, shape, at);
}

std::vector<Contact> contacts(const Room& room, const Path& outline, const Others& others) {
  std::vector<Contact> result;
  for (const Border& border : room.borders) {
    const Point d = border.b - border.a;
    Int most = cross(outline[0], d);
    for (const Point& p : outline) most = std::max(most, cross(p, d));
    for (const Point& p : outline)
      if (cross(p, d) == most) add_contact(result, border.a - p, border.b - p);
  }
  for (const Corner& corner : room.corners)
    for (std::size_t i = 0; i < outline.size(); ++i) {
      const Point e = next(outline, i) - outline[i];
      if (cross(corner.before, e) <= 0 && cross(e, corner.after) <= 0)
        add_contact(result, corner.at - outline[i], corner.at - next(outline, i));
    }
  for (const Path& other : others.outlines) {
    const Path sum = sum_with_mirrored(other, outline);
    const Path out = moved_out(sum, others.gap);
    for (std::size_t i = 0; i < out.size(); ++i) {
      const Point& a = out[i];
      const Point& b = next(out, i);
      if (others.through && has_edge_along(other, next(sum, i) - sum[i]))
        result.push_back(lengthened({a, b}, room.box));
      else
        add_contact(result, a, b);
    }
  }
  return result;
}

bool stopped_by_cut(const Path& outline, const Others& others, const Point& at, const Point& step) {
  for (const Path& other : others.outlines)
    for (std::size_t i = 0; i < other.size(); ++i) {
      const Point& a = other[i];
      const Point& b = next(other, i);
      if (beyond(a - at, b - at, outline, others.gap) &&
          !beyond(a - at - step, b - at - step, outline, others.gap))
        return true;
    }
  return false;
}

std::vector<Point> free_corners(const Room& room, const Turned& shape, const Others& others) {
  std::vector<Point> places;
  if (room.usable.empty()) return places;
  for (const Meeting& corner : corners_of(contacts(room, shape.full.outline, others)))
    if (const std::optional<Point> place = legal_near(room, shape, others, corner)) places.push_back(*place);
  std::sort(places.begin(), places.end(), before);
  places.erase(std::unique(places.begin(), places.end()), places.end());
  return places;
}

std::optional<Point> any_place(const Room& room, const Turned& shape, const Others& others) {
  if (room.usable.empty()) return std::nullopt;
  for (const Meeting& corner : corners_of(contacts(room, shape.full.outline, others)))
    if (const std::optional<Point> place = legal_near(room, shape, others, corner)) return place;
  return std::nullopt;
}

bool shrunk_has_place(const Room& room, const Path& outline, double by, const Others& others) {
  if (room.usable.empty()) return false;
  const std::optional<Path> smaller = shrunk(outline, by + kRounding);
  const std::optional<Path> smallest = shrunk(outline, by + 2 * kRounding);
  if (!smaller || !smallest) return true;  // too small to prove anything with
  const Shape tried = shape_of(*smallest);
  const std::vector<Meeting> corners = corners_of(contacts(room, *smaller, others));
  return std::any_of(corners.begin(), corners.end(),
                     [&](const Meeting& corner) { return legal_at(room, tried, others, corner.at); });
}

}  // namespace haftwright::nesting::inner
