#include "cut_sheet.hpp"

#include <algorithm>
#include <cmath>
#include <limits>
#include <utility>

#include "haftwright/preview/ear_clipping.hpp"

namespace haftwright::preview {
namespace {

/// A corner this near a plane lies on it.
constexpr double kOnPlane = 1e-7;
constexpr std::uint32_t kNone = std::numeric_limits<std::uint32_t>::max();
constexpr std::uint32_t kTaken = kNone - 1;

double behind(const CutPlane& plane, Vec3 p) {
  return plane.behind_mm(p.x, p.y, p.z);
}

/// A directed edge of the front part's boundary on a plane.
struct CutEdge {
  std::uint32_t from = 0;
  std::uint32_t to = 0;
};

/// The point where each edge crosses each plane, by a key that is never 0. Open addressing: a cut sheet has a
/// thousand of them, each asked for twice.
class CrossingTable {
 public:
  CrossingTable() : entries_(kAtFirst) {}
  /// The place for a key's point; kNone as long as none has been put there.
  std::uint32_t& operator[](std::uint64_t key) {
    if (2 * used_ >= entries_.size()) grow();
    Entry& entry = find(key);
    if (entry.key == 0) {
      entry.key = key;
      ++used_;
    }
    return entry.point;
  }

 private:
  static constexpr std::size_t kAtFirst = 1024;  // a power of two, as ever after
  struct Entry {
    std::uint64_t key = 0;
    std::uint32_t point = kNone;
  };
  Entry& find(std::uint64_t key) {
    const std::size_t last = entries_.size() - 1;
    std::size_t i = (key * 0x9E3779B97F4A7C15u >> 32) & last;
    while (entries_[i].key != 0 && entries_[i].key != key) i = (i + 1) & last;
    return entries_[i];
  }
  void grow() {
    const std::vector<Entry> old = std::exchange(entries_, std::vector<Entry>(2 * entries_.size()));
    for (const Entry& entry : old)
      if (entry.key != 0) find(entry.key) = entry;
  }
  std::vector<Entry> entries_;
  std::size_t used_ = 0;
};

class Cutter {
 public:
  Cutter(SheetMesh& mesh, std::span<const CutPlane> planes, const CrownedSheet* crowned)
      : mesh_(mesh), planes_(planes), crowned_(crowned), cuts_(planes.size()), slabs_(planes.size()) {}

  std::vector<Slab> run() {
    find_slabs();
    const std::vector<SheetFace> faces = std::move(mesh_.faces);
    mesh_.faces.clear();
    for (const SheetFace& face : faces) place(face);
    for (std::size_t plane = 0; plane < planes_.size(); ++plane) close(plane);
    return std::move(slabs_);
  }

 private:
  /// In how many planes' rear each point lies; the planes are in order everywhere in the sheet.
  void find_slabs() {
    rank_.resize(mesh_.points.size());
    for (std::size_t i = 0; i < rank_.size(); ++i) {
      const Vec3 p = mesh_.points[i];
      const auto ahead = std::partition_point(planes_.begin(), planes_.end(),
                                              [&](const CutPlane& plane) { return behind(plane, p) >= 0; });
      rank_[i] = static_cast<std::uint32_t>(ahead - planes_.begin());
    }
  }

  void place(const SheetFace& face) {
    const auto& [a, b, c] = face.corner;
    const auto [low, high] = std::minmax({rank_[a], rank_[b], rank_[c]});
    if (low == high) {
      keep(low, face);
      return;
    }
    polygon_ = {a, b, c};
    for (std::uint32_t plane = low; plane < high && polygon_.size() > 2; ++plane) split(plane, face);
    keep_polygon(high, polygon_, face);
  }
  void keep(std::uint32_t rank, const SheetFace& face) {
    if (rank > 0) slabs_[rank - 1].faces.push_back(face);
  }
  void keep_polygon(std::uint32_t rank, const std::vector<std::uint32_t>& polygon, const SheetFace& face) {
    for (std::size_t i = 2; i < polygon.size(); ++i)
      keep(rank, {{polygon[0], polygon[i - 1], polygon[i]}, face.kind, face.source});
  }

  /// Takes what lies ahead of the plane off polygon_.
  void split(std::uint32_t plane, const SheetFace& face) {
    front_.clear();
    rear_.clear();
    CutEdge cut;
    bool has_from = false;
    bool has_to = false;
    for (std::size_t i = 0; i < polygon_.size(); ++i) {
      const std::uint32_t here = polygon_[i];
      const std::uint32_t after = polygon_[(i + 1) % polygon_.size()];
      const bool here_ahead = rank_[here] <= plane;
      append(here_ahead ? front_ : rear_, here);
      if (here_ahead == (rank_[after] <= plane)) continue;
      const std::uint32_t crossing = cross(here, after, plane, face.kind == FaceKind::outer);
      append(front_, crossing);
      append(rear_, crossing);
      // The front part leaves its own side at `from` and runs along the plane to `to`.
      (here_ahead ? cut.from : cut.to) = crossing;
      (here_ahead ? has_from : has_to) = true;
    }
    trim(front_);
    trim(rear_);
    if (has_from && has_to && cut.from != cut.to) cuts_[plane].push_back(cut);
    keep_polygon(plane, front_, face);
    polygon_.swap(rear_);
  }
  static void append(std::vector<std::uint32_t>& polygon, std::uint32_t corner) {
    if (polygon.empty() || polygon.back() != corner) polygon.push_back(corner);
  }
  static void trim(std::vector<std::uint32_t>& polygon) {
    while (polygon.size() > 1 && polygon.front() == polygon.back()) polygon.pop_back();
    if (polygon.size() < 3) polygon.clear();
  }

  /// The point where the edge between two corners goes through the plane: one for both faces at the edge.
  std::uint32_t cross(std::uint32_t a, std::uint32_t b, std::uint32_t plane, bool on_outer_face) {
    if (a > b) std::swap(a, b);
    const std::uint64_t key = (static_cast<std::uint64_t>(a) << 32 | b) * planes_.size() + plane;
    std::uint32_t& point = crossings_[key];
    if (point == kNone) point = new_crossing(a, b, plane, on_outer_face);
    return point;
  }
  std::uint32_t new_crossing(std::uint32_t a, std::uint32_t b, std::uint32_t plane, bool on_outer_face) {
    const Vec3 from = mesh_.points[a];
    const Vec3 to = mesh_.points[b];
    const double from_behind = behind(planes_[plane], from);
    const double to_behind = behind(planes_[plane], to);
    if (std::abs(from_behind) < kOnPlane) return a;
    if (std::abs(to_behind) < kOnPlane) return b;
    const double share = from_behind / (from_behind - to_behind);
    Vec3 point = from + (to - from) * share;
    Vec3 normal = mesh_.normals[a] + (mesh_.normals[b] - mesh_.normals[a]) * share;
    const bool rim = mesh_.on_rim[a] && mesh_.on_rim[b];
    if (on_outer_face && crowned_ && !rim) settle(planes_[plane], from, to, share, point, normal);
    const std::uint32_t crossing = mesh_.add(point, normal, rim);
    rank_.push_back(plane + 1);
    return crossing;
  }
  /// Moves a point over the edge until it lies on the surface and on the plane (secant steps, held inside).
  void settle(const CutPlane& plane, Vec3 from, Vec3 to, double share, Vec3& point, Vec3& normal) const {
    HeightField::Sample sample;
    const auto at = [&](double t) {
      const Vec2 p{from.x + (to.x - from.x) * t, from.y + (to.y - from.y) * t};
      sample = crowned_->surface.sample(p);
      return Vec3{p.x, p.y, sample.height_mm - crowned_->below_mm};
    };
    double low = 0;
    double high = 1;
    double low_behind = behind(plane, from);
    double high_behind = behind(plane, to);
    double t = share;
    for (int step = 0; step < 24; ++step) {
      point = at(t);
      const double here = behind(plane, point);
      if (std::abs(here) < 1e-9) break;
      if ((here < 0) == (low_behind < 0)) {
        low = t;
        low_behind = here;
      } else {
        high = t;
        high_behind = here;
      }
      const double secant = low + (high - low) * low_behind / (low_behind - high_behind);
      // Every third step halves, so that one bent end cannot hold the bracket open.
      t = step % 3 == 2 ? (low + high) / 2 : secant;
    }
    normal = glm::normalize(Vec3{-sample.gradient.x, -sample.gradient.y, 1});
  }

  /// Closes both parts at a plane.
  void close(std::size_t plane) {
    const std::vector<std::array<std::uint32_t, 3>> triangles = clip_ears(loops(plane));
    const int source = static_cast<int>(plane);
    for (const auto& [a, b, c] : triangles) {
      // The loops run against the front part's cut edges, as a face that closes it has to.
      if (plane > 0) slabs_[plane - 1].faces.push_back({{a, b, c}, FaceKind::rear_cut, source});
      slabs_[plane].faces.push_back({{a, c, b}, FaceKind::front_cut, source});
    }
  }
  /// Takes the next edge that leaves a corner, turned round; none is left where it answers kNone.
  std::uint32_t take_leaving(const std::vector<CutEdge>& edges, std::uint32_t corner) {
    const std::uint32_t edge = leaving_[corner];
    if (edge != kNone) leaving_[corner] = std::exchange(leaves_too_[edge], kTaken);
    return edge == kNone ? kNone : edges[edge].from;
  }
  /// The cut edges of a plane, turned round and joined, with their places (y, s) in it.
  std::vector<FlatLoop> loops(std::size_t plane) {
    const std::vector<CutEdge>& edges = cuts_[plane];
    leaving_.resize(mesh_.points.size(), kNone);
    leaves_too_.resize(edges.size());
    for (std::uint32_t i = 0; i < edges.size(); ++i) leaves_too_[i] = std::exchange(leaving_[edges[i].to], i);
    std::vector<FlatLoop> loops;
    for (std::uint32_t first = 0; first < edges.size();) {
      if (leaves_too_[first] == kTaken) {
        ++first;
        continue;
      }
      FlatLoop loop;
      loop.corner.push_back(edges[first].to);
      for (std::uint32_t next; (next = take_leaving(edges, loop.corner.back())) != kNone;) {
        if (next == loop.corner.front()) break;
        loop.corner.push_back(next);
      }
      if (loop.corner.size() < 3) continue;  // there and back
      for (const std::uint32_t corner : loop.corner)
        loop.at.push_back({mesh_.points[corner].y, mesh_.points[corner].z});
      loops.push_back(std::move(loop));
    }
    return loops;
  }

  SheetMesh& mesh_;
  std::span<const CutPlane> planes_;
  const CrownedSheet* crowned_;
  std::vector<std::vector<CutEdge>> cuts_;
  std::vector<Slab> slabs_;
  std::vector<std::uint32_t> rank_;
  std::vector<std::uint32_t> leaving_;     // by corner: a cut edge that leaves it, kNone between two planes
  std::vector<std::uint32_t> leaves_too_;  // by cut edge: another that leaves the same corner; kTaken
  CrossingTable crossings_;
  std::vector<std::uint32_t> polygon_;
  std::vector<std::uint32_t> front_;
  std::vector<std::uint32_t> rear_;
};

}  // namespace

std::vector<Slab> cut_sheet(SheetMesh& mesh, std::span<const CutPlane> planes, const CrownedSheet* crowned) {
  return Cutter(mesh, planes, crowned).run();
}

}  // namespace haftwright::preview
