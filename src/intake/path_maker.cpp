#include "path_maker.hpp"

#include <numbers>
#include <utility>

namespace haftwright::intake {
namespace {

constexpr double kPi = std::numbers::pi;

// Shares of the tolerance: what the places along a curve may leave it, and what the fit may then use up. The
// rest is room for rounding.
constexpr double kChordShare = 0.05;
constexpr double kFitShare = 0.9;

// How many fits are tried, each with half the tolerance of the one before.
constexpr int kFits = 6;

// Curves that meet more flatly than this go on smoothly (sine of 1 degree).
constexpr double kSmooth = 0.0175;

// Radii that differ by less than this make a circle.
constexpr double kRoundWithin_mm = 1e-6;

// The centre of a flat arc may lie so many times farther off than its ends.
constexpr double kFarCentre = 1e4;

// Nodes nearer than this are one.
constexpr double kOnePlace_mm = 1e-7;

bool smooth(Vec2 arriving, Vec2 leaving) {
  const double lengths = glm::length(arriving) * glm::length(leaving);
  return lengths > 0 && std::abs(cross(arriving, leaving)) <= kSmooth * lengths &&
         glm::dot(arriving, leaving) > 0;
}

}  // namespace

std::string at_line(std::size_t line) {
  return "line " + std::to_string(line);
}

void PathMaker::use(const Affine& map, std::size_t layer, std::size_t line) {
  map_by(map);
  layer_ = layer;
  line_ = line;
}

void PathMaker::map_by(const Affine& map) {
  map_ = map;
  keeps_circles_ = map.keeps_circles();
}

void PathMaker::count_entity() {
  if (++entities_ > options_.limits.entities)
    throw IntakeError(at_line(line_), "the drawing holds more than " +
                                          std::to_string(options_.limits.entities) +
                                          " entities, blocks and repeats counted in full; take out what is "
                                          "not the tang and save it again");
}

void PathMaker::need_points(std::size_t more, std::size_t curved) {
  points_ += more;
  curve_points_ += curved;
  if (points_ > options_.limits.points || curve_points_ > options_.limits.curve_points)
    throw IntakeError(at_line(line_),
                      "the drawing's curves are more detailed than a tang can be; take out what is not the "
                      "tang, or give a larger tolerance");
}

Vec2 PathMaker::checked(Vec2 p) const {
  const double most = options_.limits.coordinate_mm;
  // Written so that what is no number is refused too.
  if (!(std::abs(p.x) <= most && std::abs(p.y) <= most))
    throw IntakeError(at_line(line_), "a place lies more than " +
                                          std::to_string(static_cast<long>(most / 1000)) +
                                          " m off the origin; is the unit right?");
  return p;
}

void PathMaker::move_to(Vec2 p) {
  end();
  begun_ = true;
  at_ = start_ = p;
  need_points(1, 0);
  path_ = Path{{{checked(map_(p)), 0}}, false, layer_, line_, 0};
}

void PathMaker::add(Vec2 p_mm, double bulge) {
  need_points(1, 0);
  checked(p_mm);
  Node& last = path_.nodes.back();
  if (glm::distance(last.at, p_mm) < kOnePlace_mm) return;
  last.bulge = bulge;
  path_.nodes.push_back({p_mm, 0});
}

void PathMaker::line_to(Vec2 p) {
  fit_pending();
  add(map_(p), 0);
  at_ = p;
}

void PathMaker::bulge_to(Vec2 p, double bulge) {
  const Vec2 chord = p - at_;
  if (!std::isfinite(bulge) || std::abs(bulge) > 1e6)
    throw IntakeError(at_line(line_), "a bulge is too large for an arc");
  const double length = std::sqrt(glm::dot(chord, chord));
  if (bulge == 0 || !(length > 0)) return line_to(p);
  // The centre lies off the chord's middle by (1 - b^2) / (4 b) chords.
  const Vec2 centre = at_ + chord / 2.0 + turned_left(chord) * ((1 - bulge * bulge) / (4 * bulge));
  const Vec2 spoke = at_ - centre;
  if (keeps_circles_ && std::abs(bulge) <= 1) {
    fit_pending();
    add(map_(p), map_.mirrors() ? -bulge : bulge);
    at_ = p;
    return;
  }
  arc_to({centre, spoke, turned_left(spoke), 0, 4 * std::atan(bulge)}, p);
}

void PathMaker::arc_to(const EllipticArc& arc, Vec2 to) {
  add_arc(arc.under(map_), map_(to));
  at_ = to;
}

/// Arcs of more than half a turn are parted, so that their ends say enough of them.
void PathMaker::add_arc(const EllipticArc& arc, Vec2 to_mm) {
  const double u = glm::length(arc.u);
  const double v = glm::length(arc.v);
  checked((arc.centre + Vec2{u, v}) / kFarCentre);
  if (std::abs(u - v) <= kRoundWithin_mm &&
      std::abs(glm::dot(arc.u, arc.v)) <= kRoundWithin_mm * std::max(u, v)) {
    fit_pending();
    const int parts = std::abs(arc.sweep) > kPi * (1 + 1e-12) ? 2 : 1;
    const double turn = cross(arc.u, arc.v) < 0 ? -1 : 1;
    const double bulge = turn * std::tan(arc.sweep / parts / 4);
    if (parts == 2) add(arc.point(arc.start + arc.sweep / 2), bulge);
    add(to_mm, bulge);
    return;
  }
  std::vector<Vec2> places;
  const auto curve = [&](double t) { return arc.point(arc.start + arc.sweep * t); };
  const int parts = std::max(1, static_cast<int>(std::ceil(std::abs(arc.sweep) / (kPi / 4))));
  const double off = add_places(curve, 0, 1, parts, kChordShare * options_.tolerance_mm, places);
  places.back() = to_mm;
  add_curve(places, off, arc.direction(arc.start), arc.direction(arc.start + arc.sweep));
}

void PathMaker::curve_to(const std::function<Vec2(double)>& curve, Vec2 leaving, Vec2 arriving, int parts) {
  std::vector<Vec2> places;
  const auto mapped = [&](double t) { return checked(map_(curve(t))); };
  const double off = add_places(mapped, 0, 1, parts, kChordShare * options_.tolerance_mm, places);
  add_curve(places, off, map_.direction(leaving), map_.direction(arriving));
  at_ = curve(1);
}

void PathMaker::add_curve(const std::vector<Vec2>& places_mm, double off_mm, Vec2 leaving, Vec2 arriving) {
  need_points(places_mm.size(), places_mm.size());
  for (const Vec2 p : places_mm) checked(p);
  if (!pending_.empty() && !smooth(pending_arriving_, leaving)) fit_pending();
  if (pending_.empty()) pending_.push_back(path_.nodes.back().at);
  pending_.insert(pending_.end(), places_mm.begin(), places_mm.end());
  pending_arriving_ = arriving;
  pending_off_mm_ = std::max(pending_off_mm_, off_mm);
}

/// A fit keeps to the places; where the curve turns back on itself, between them lines and arcs may still
/// leave it farther, and a closer fit is tried.
ArcFit PathMaker::fit_within(const std::vector<Vec2>& places_mm, double off_mm) const {
  double tolerance_mm = kFitShare * options_.tolerance_mm;
  for (int i = 0; i < kFits; ++i, tolerance_mm /= 2) {
    ArcFit fit = fit_open_arcs(places_mm, tolerance_mm);
    if (fit.largest_deviation_mm + off_mm <= options_.tolerance_mm) return fit;
  }
  throw IntakeError(at_line(line_),
                    "a curve has more detail than lines and arcs within the tolerance can follow");
}

void PathMaker::fit_pending() {
  if (pending_.empty()) return;
  const std::vector<Vec2> places = std::exchange(pending_, {});
  const double off_mm = std::exchange(pending_off_mm_, 0);
  bool moves = false;
  for (const Vec2 p : places) moves = moves || glm::distance(p, places.front()) > 2 * kOnePlace_mm;
  if (!moves) return;
  const ArcFit fit = fit_within(places, off_mm);
  path_.deviation_mm = std::max(path_.deviation_mm, fit.largest_deviation_mm + off_mm);
  for (std::size_t i = 0; i + 1 < fit.chain.size(); ++i) {
    const Node& from = fit.chain[i];
    const Vec2 to = fit.chain[i + 1].at;
    if (std::abs(from.bulge) <= 1) {
      add(to, from.bulge);
      continue;
    }
    const double half = std::tan(std::atan(from.bulge) / 2);
    add(Edge(from.at, to, from.bulge).point(0.5), half);
    add(to, half);
  }
}

void PathMaker::close() {
  if (!begun_) return;
  if (at_ != start_) line_to(start_);
  path_.closed = true;
  end();
}

void PathMaker::end() {
  if (!begun_) return;
  fit_pending();
  begun_ = false;
  // A closed path's last node is its first again.
  if (path_.closed && path_.nodes.size() > 1 &&
      glm::distance(path_.nodes.back().at, path_.nodes.front().at) < kOnePlace_mm)
    path_.nodes.pop_back();
  if (path_.nodes.size() < 2) return;
  sketch_.paths.push_back(std::move(path_));
}

}  // namespace haftwright::intake
