#include "rail.hpp"

#include <algorithm>
#include <cmath>

#include "tolerances.hpp"

namespace haftwright::geometry {
namespace {

/// Corners that turn less than this are smooth joins.
constexpr double kSmooth = 1e-7;
/// Under this turn (10 degrees) a mitre's wall follows its neighbour, see extension_curvature.
constexpr double kShallow = kPi / 18;

Rail edge_rail(const Edge& edge) {
  Rail rail;
  rail.shape = edge;
  rail.turn = edge.is_arc() ? (edge.bulge > 0 ? 1 : -1) : 0;
  rail.along_from = edge.direction(0);
  rail.along_to = edge.direction(1);
  return rail;
}

Rail corner_fan(Vec2 corner, Vec2 along_from, Vec2 along_to) {
  Rail rail;
  rail.shape.from = rail.shape.to = rail.shape.centre = corner;
  rail.turn = cross(along_from, along_to) > 0 ? 1 : -1;
  rail.along_from = along_from;
  rail.along_to = along_to;
  rail.rounds = rail.turn < 0;
  return rail;
}

/// Signed curvature of a rail, positive round the material.
double curvature(const Rail& rail) {
  return rail.straight() ? 0 : rail.turn / rail.shape.radius;
}

/// How the wall of `own` bends where it goes on past the corner into its neighbour's stretch. As it is, at a
/// plain corner. At a shallow one like the neighbour: the two walls then stay side by side, as they must so
/// that the mitre turns into a smooth join when the corner gets flatter and flatter.
double extension_curvature(const Rail& own, const Rail& neighbour, double turn) {
  if (own.blunt || neighbour.blunt) return 0;
  return turn < kShallow ? curvature(neighbour) : curvature(own);
}

double extension_length(double bend, const Rail& own, const Rail& neighbour, double turn, double radius_mm) {
  // Up to where the walls on both sides of a blunt corner would meet, and on.
  if (neighbour.blunt)
    return radius_mm +
           neighbour.shape.radius * std::tan(std::min(std::abs(neighbour.shape.sweep), kPi / 2) / 2);
  double length = std::min(radius_mm, neighbour.shape.length());
  // A wall that bends on its own comes back across its neighbour at a chord of twice radius times turn.
  if (bend != 0 && turn >= kShallow) length = std::min(length, own.shape.radius * turn);
  return bend == 0 ? length : std::min(length, kPi / 2 / std::abs(bend));
}

/// A rail of the given bend and length that leaves `start` (or, for length < 0, arrives there) along `along`.
Rail extension(Vec2 start, Vec2 along, double bend, double length) {
  const double sweep = bend * length;
  const Vec2 chord = turned(along, sweep / 2) * (bend == 0 ? length : 2 * std::sin(sweep / 2) / bend);
  const double bulge = std::tan(std::abs(sweep) / 4) * (bend < 0 ? -1 : 1);
  Rail rail = edge_rail(length > 0 ? Edge(start, start + chord, bulge) : Edge(start + chord, start, bulge));
  rail.measures = false;
  return rail;
}

}  // namespace

Rails::Rails(const Outline& outline, double radius_mm) : edges_(outline.edges().size()) {
  rails_.reserve(2 * edges_ + 8);
  beside_.reserve(edges_ + 1);
  for (const Edge& edge : outline.edges()) {
    add(edge_rail(edge));
    rails_.back().blunt = rails_.back().turn > 0 && edge.radius < radius_mm;
  }
  for (std::size_t i = 0; i < edges_; ++i) {
    beside_.push_back(last() + 1);
    go_on_past((i + edges_ - 1) % edges_, i, radius_mm);
    turn_corner(i, (i + 1) % edges_);
    come_before(i, (i + 1) % edges_, radius_mm);
  }
  beside_.push_back(last() + 1);
}

void Rails::link(std::size_t before, std::size_t after) {
  if (rails_[before].blunt || rails_[after].blunt) return;
  rails_[before].after = static_cast<std::uint32_t>(after);
  rails_[after].before = static_cast<std::uint32_t>(before);
}

/// How far the outline turns left from one edge to the next; 0 for a smooth join.
double Rails::turn_at(std::size_t edge, std::size_t next) const {
  const Vec2 in = rails_[edge].along_to;
  const Vec2 out = rails_[next].along_from;
  const double turn = std::atan2(cross(in, out), glm::dot(in, out));
  return std::abs(turn) <= kSmooth ? 0 : turn;
}

/// The wall of an edge beyond its end, beside the next edge.
void Rails::go_on_past(std::size_t edge, std::size_t next, double radius_mm) {
  const double turn = turn_at(edge, next);
  const bool before_blunt = turn == 0 && rails_[next].blunt && !rails_[edge].blunt;
  if (radius_mm == 0 || (turn <= 0 && !before_blunt)) return;
  const double bend = extension_curvature(rails_[edge], rails_[next], turn);
  const double length = extension_length(bend, rails_[edge], rails_[next], turn, radius_mm);
  add(extension(rails_[edge].shape.to, rails_[edge].along_to, bend, length));
  link(edge, last());
}

/// The wall of the next edge before its start, beside this one.
void Rails::come_before(std::size_t edge, std::size_t next, double radius_mm) {
  const double turn = turn_at(edge, next);
  const bool after_blunt = turn == 0 && rails_[edge].blunt && !rails_[next].blunt;
  if (radius_mm == 0 || (turn <= 0 && !after_blunt)) return;
  const double bend = extension_curvature(rails_[next], rails_[edge], turn);
  const double length = extension_length(bend, rails_[next], rails_[edge], turn, radius_mm);
  add(extension(rails_[next].shape.from, rails_[next].along_from, bend, -length));
  link(last(), next);
}

void Rails::turn_corner(std::size_t edge, std::size_t next) {
  const double turn = turn_at(edge, next);
  if (turn == 0) return link(edge, next);
  add(corner_fan(rails_[edge].shape.to, rails_[edge].along_to, rails_[next].along_from));
  if (turn > 0) return;
  link(edge, last());
  link(last(), next);
}

}  // namespace haftwright::geometry
