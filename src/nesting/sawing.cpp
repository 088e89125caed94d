#include "sawing.hpp"

#include <algorithm>
#include <array>
#include <cmath>

namespace haftwright::nesting::inner {

namespace {

/// What is thinner than this, in micrometres, is rounding and no wood.
constexpr double kNoWood = 6;

double length_of(const Point& d) {
  return std::hypot(static_cast<double>(d.X), static_cast<double>(d.Y));
}

/// On which side of a cut along the edge from a to b each outline lies; none where the cut would touch one.
std::optional<std::vector<bool>> sides_of(const Point& a, const Point& b,
                                          const std::vector<const Path*>& outlines, Int kerf) {
  std::vector<bool> beyond_it;
  for (const Path* outline : outlines) {
    if (within(a, b, *outline))
      beyond_it.push_back(false);
    else if (beyond(a, b, *outline, kerf))
      beyond_it.push_back(true);
    else
      return std::nullopt;
  }
  return beyond_it;
}

bool partable(const std::vector<const Path*>& outlines, Int kerf) {
  if (outlines.size() < 2) return true;
  for (const Path* outline : outlines)
    for (std::size_t i = 0; i < outline->size(); ++i) {
      const auto sides = sides_of((*outline)[i], next(*outline, i), outlines, kerf);
      if (!sides || std::none_of(sides->begin(), sides->end(), [](bool s) { return s; })) continue;
      std::vector<const Path*> here, there;
      for (std::size_t k = 0; k < outlines.size(); ++k) ((*sides)[k] ? there : here).push_back(outlines[k]);
      return partable(here, kerf) && partable(there, kerf);
    }
  return false;
}

/// The line at the far side of the kerf.
std::pair<Point, Point> far_side(const Point& a, const Point& b, double kerf) {
  const Point d = b - a;
  const double length = length_of(d);
  const Point out{std::llround(static_cast<double>(d.Y) / length * kerf),
                  std::llround(-static_cast<double>(d.X) / length * kerf)};
  return {a + out, b + out};
}

/// How far an outline reaches beyond a cut's edge.
double wood_beyond(const Path& outline, const Point& a, const Point& b) {
  Int most = 0;
  for (const Point& p : outline) most = std::max(most, -side(a, b, p));
  return static_cast<double>(most) / length_of(b - a);
}

struct Line {
  Point a, b;
  std::size_t along = kNoOther;
  int frees = 0;  ///< edges of shapes that lie on its kerf
};

class Saw {
 public:
  Saw(const Path& stock, const std::vector<Path>& outlines, const std::optional<Box>& clear, Int kerf)
      : outlines_(outlines), kerf_(kerf) {
    if (clear) clear_ = corners_of(*clear);
    std::vector<std::size_t> all(outlines.size());
    for (std::size_t i = 0; i < all.size(); ++i) all[i] = i;
    result_.pieces.push_back({stock, all, false});
    for (std::size_t piece = 0; piece < result_.pieces.size(); ++piece) work_on(piece);
  }
  Sawing take() { return std::move(result_); }

 private:
  void work_on(std::size_t piece) {
    const std::vector<std::size_t> shapes = result_.pieces[piece].shapes;
    if (shapes.empty()) return;
    bool with_clear = !clear_.empty() && holds_clear(result_.pieces[piece].outline);
    std::optional<Line> line = parting_line(shapes, with_clear);
    if (!line && with_clear) line = parting_line(shapes, false);
    if (!line && shapes.size() == 1) line = freeing_line(piece);
    if (line)
      cut(piece, *line);
    else if (shapes.size() > 1)
      result_.complete = false;
  }

  bool holds_clear(const Path& outline) const {
    return !clear_.empty() && holds(outline, clear_[0] + clear_[1] + clear_[2]);
  }

  int edges_on_kerf(const Line& line, const std::vector<std::size_t>& shapes) const {
    const double length = length_of(line.b - line.a);
    int count = 0;
    for (const std::size_t s : shapes)
      for (std::size_t i = 0; i < outlines_[s].size(); ++i) {
        const double u = static_cast<double>(side(line.a, line.b, outlines_[s][i])) / length;
        const double v = static_cast<double>(side(line.a, line.b, next(outlines_[s], i))) / length;
        const double kerf = static_cast<double>(kerf_);
        const bool near_side = std::abs(u) < 2 && std::abs(v) < 2;
        const bool other_side = std::abs(u + kerf) < 2 && std::abs(v + kerf) < 2;
        count += near_side || other_side ? 1 : 0;
      }
    return count;
  }

  std::optional<Line> parting_line(const std::vector<std::size_t>& shapes, bool with_clear) const {
    std::vector<const Path*> all;
    for (const std::size_t s : shapes) all.push_back(&outlines_[s]);
    if (with_clear) all.push_back(&clear_);
    if (all.size() < 2) return std::nullopt;
    std::optional<Line> best;
    for (std::size_t k = 0; k < all.size(); ++k)
      for (std::size_t i = 0; i < all[k]->size(); ++i) {
        Line line{(*all[k])[i], next(*all[k], i), k < shapes.size() ? shapes[k] : kNoOther, 0};
        const auto sides = sides_of(line.a, line.b, all, kerf_);
        if (!sides || std::none_of(sides->begin(), sides->end(), [](bool s) { return s; })) continue;
        line.frees = edges_on_kerf(line, shapes);
        if (!best || line.frees > best->frees) best = line;
      }
    return best;
  }

  /// Of the lone shape's edges with wood beyond, the one whose cut is longest: it leaves the straightest
  /// fence.
  std::optional<Line> freeing_line(std::size_t piece) const {
    const std::size_t s = result_.pieces[piece].shapes[0];
    const Path& shape = outlines_[s];
    std::optional<Line> best;
    double longest = 0;
    for (std::size_t i = 0; i < shape.size(); ++i) {
      const double length = length_of(next(shape, i) - shape[i]);
      if (length <= longest ||
          wood_beyond(result_.pieces[piece].outline, shape[i], next(shape, i)) <= kNoWood)
        continue;
      longest = length;
      best = Line{shape[i], next(shape, i), s, 0};
    }
    return best;
  }

  void cut(std::size_t piece, const Line& line) {
    const Path outline = result_.pieces[piece].outline;
    const std::vector<std::size_t> shapes = result_.pieces[piece].shapes;
    SawCut cut{line.a, line.b, line.along, piece, {}};
    Paths parts = left_part(outline, line.a, line.b);
    const auto [a, b] = far_side(line.a, line.b, static_cast<double>(kerf_));
    for (Path& part : left_part(outline, b, a)) parts.push_back(std::move(part));
    for (Path& part : parts) {
      if (std::abs(ClipperLib::Area(part)) <= kNoWood * length_of(line.b - line.a)) continue;
      SawnPiece made{std::move(part), {}, false};
      for (const std::size_t s : shapes) {
        const Path& shape = outlines_[s];
        const Point inside = shape[0] + shape[shape.size() / 3] + shape[2 * shape.size() / 3];
        if (holds(made.outline, inside)) made.shapes.push_back(s);
      }
      cut.made.push_back(result_.pieces.size());
      result_.pieces.push_back(std::move(made));
    }
    result_.pieces[piece].sawn = true;
    result_.cuts.push_back(std::move(cut));
  }

  const std::vector<Path>& outlines_;
  Path clear_;
  Int kerf_;
  Sawing result_;
};

/// Where the line through a and b, moved aside, enters and leaves an outline: its ends, farthest apart.
std::optional<std::pair<Vec2, Vec2>> chord(const Path& outline, const Point& a, const Point& b,
                                           double aside) {
  const double length = length_of(b - a);
  const Vec2 e{static_cast<double>((b - a).X) / length, static_cast<double>((b - a).Y) / length};
  const Vec2 from = Vec2{static_cast<double>(a.X), static_cast<double>(a.Y)} - aside * turned_left(e);
  double low = 1e300, high = -1e300;
  for (std::size_t i = 0; i < outline.size(); ++i) {
    const Vec2 p = Vec2{static_cast<double>(outline[i].X), static_cast<double>(outline[i].Y)} - from;
    const Vec2 q =
        Vec2{static_cast<double>(next(outline, i).X), static_cast<double>(next(outline, i).Y)} - from;
    const double u = haftwright::cross(e, p), v = haftwright::cross(e, q);
    if ((u < 0) == (v < 0)) continue;
    const Vec2 at = p + (q - p) * (u / (u - v));
    low = std::min(low, glm::dot(at, e));
    high = std::max(high, glm::dot(at, e));
  }
  if (low > high) return std::nullopt;
  return std::pair{(from + low * e) / kPerMm, (from + high * e) / kPerMm};
}

/// An edge parallel to the cut and at least a third as long as the shape's edge: on the shape's side if there
/// is one, as its distance is then the shape's size; the longest there.
std::optional<Fence> fence_for(const Path& outline, const Point& a, const Point& b, double kerf) {
  const double length = length_of(b - a);
  std::array<double, 2> longest{length / 3, length / 3};
  std::array<std::optional<Fence>, 2> fence;
  for (std::size_t i = 0; i < outline.size(); ++i) {
    const Point& p = outline[i];
    const Point& q = next(outline, i);
    const double size = length_of(q - p);
    const double u = static_cast<double>(side(a, b, p)) / length,
                 v = static_cast<double>(side(a, b, q)) / length;
    const double offset = (u + v) / 2;
    const double distance = offset > 0 ? offset : -offset - kerf;
    const std::size_t which = offset > 0 ? 0 : 1;
    // Parallel: its ends differ by no more than 0.02 mm, which no fence can be set to.
    if (size <= longest[which] || std::abs(u - v) > 20 || distance < kNoWood) continue;
    longest[which] = size;
    fence[which] = Fence{to_mm(p), to_mm(q), distance / kPerMm};
  }
  return fence[0] ? fence[0] : fence[1];
}

}  // namespace

bool partable(const std::vector<Path>& outlines, Int kerf) {
  std::vector<const Path*> all;
  for (const Path& outline : outlines) all.push_back(&outline);
  return partable(all, kerf);
}

Sawing saw(const Path& stock, const std::vector<Path>& outlines, const std::optional<Box>& clear, Int kerf) {
  return Saw(stock, outlines, clear, kerf).take();
}

StockCuts in_mm(const Sawing& sawing, Int kerf) {
  StockCuts result;
  result.complete = sawing.complete;
  for (const SawCut& cut : sawing.cuts) {
    const Path& outline = sawing.pieces[cut.piece].outline;
    Cut made{.piece = cut.piece, .made = cut.made, .along = cut.along};
    made.edge_from_mm = to_mm(cut.edge_a);
    made.edge_to_mm = to_mm(cut.edge_b);
    auto ends = chord(outline, cut.edge_a, cut.edge_b, static_cast<double>(kerf) / 2);
    if (!ends) ends = chord(outline, cut.edge_a, cut.edge_b, 0);
    if (!ends) ends = std::pair{made.edge_from_mm, made.edge_to_mm};
    made.from_mm = ends->first;
    made.to_mm = ends->second;
    const Point d = cut.edge_b - cut.edge_a;
    const double angle = std::atan2(static_cast<double>(d.Y), static_cast<double>(d.X)) * 57.29577951308232;
    made.angle_deg = angle < 0 ? angle + 180 : (angle >= 180 ? angle - 180 : angle);
    made.fence = fence_for(outline, cut.edge_a, cut.edge_b, static_cast<double>(kerf));
    result.cuts.push_back(std::move(made));
  }
  std::size_t shapes = sawing.pieces.empty() ? 0 : sawing.pieces[0].shapes.size();
  result.freed.assign(shapes, 0);
  for (std::size_t i = 0; i < sawing.pieces.size(); ++i) {
    result.pieces.push_back(to_mm(sawing.pieces[i].outline));
    for (const std::size_t s : sawing.pieces[i].shapes) result.freed[s] = i;
  }
  return result;
}

}  // namespace haftwright::nesting::inner
