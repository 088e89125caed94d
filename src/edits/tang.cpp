#include "haftwright/edits/tang.hpp"

#include <algorithm>
#include <cmath>

#include "haftwright/design/ids.hpp"
#include "haftwright/design/limits.hpp"
#include "haftwright/edits/pins.hpp"
#include "haftwright/words/words.hpp"
#include "parts.hpp"

namespace haftwright {
namespace {

using edits::no_such;

/// The chain meant, or null.
template <class AnyDesign>
auto* chain_of(AnyDesign& design, OutlineOf of) {
  auto* tang = &design.tang.outline;
  if (!of.cutout) return tang;
  return *of.cutout < design.tang.cutouts.size() ? &design.tang.cutouts[*of.cutout] : nullptr;
}

/// 1 for a chain that runs counter-clockwise, whose bulges stand outward when positive; else -1.
double outward_sign(const std::vector<Node>& chain) {
  double twice_area = 0;
  for (std::size_t i = 0; i < chain.size(); ++i) {
    const Edge edge(chain[i].at, chain[(i + 1) % chain.size()].at, chain[i].bulge);
    twice_area += cross(edge.from, edge.to);
    if (edge.is_arc()) twice_area += edge.radius * edge.radius * (edge.sweep - std::sin(edge.sweep));
  }
  return twice_area < 0 ? -1 : 1;
}

/// Copies the Design and hands `change(chain)` the outline meant, once `node` is known to be on it;
/// `change` tells what is wrong, or nothing.
template <class Change>
Edited change_outline(const Design& design, OutlineOf of, std::size_t node, Change&& change) {
  Design edited = design;
  std::vector<Node>* chain = chain_of(edited, of);
  if (!chain) return no_such("cutout", *of.cutout, " in the tang");
  if (node >= chain->size()) return no_such("node", node, " on that outline");
  const std::string refusal = change(*chain);
  return refusal.empty() ? Edited(std::move(edited)) : Edited::refused(refusal);
}

}  // namespace

Edited move_node(const Design& design, OutlineOf of, std::size_t node, Vec2 to_mm) {
  return change_outline(design, of, node, [&](std::vector<Node>& chain) {
    chain[node].at = to_mm;
    return "";
  });
}

Edited bend_edge(const Design& design, OutlineOf of, std::size_t node, double bulge) {
  return change_outline(design, of, node, [&](std::vector<Node>& chain) {
    chain[node].bulge = bulge;
    return "";
  });
}

Edited bend_edge_through(const Design& design, OutlineOf of, std::size_t node, Vec2 point,
                         double straight_within_mm) {
  return change_outline(design, of, node, [&](std::vector<Node>& chain) -> std::string {
    const Vec2 from = chain[node].at;
    const Vec2 to = chain[(node + 1) % chain.size()].at;
    const double chord = glm::distance(from, to);
    const Vec2 first = point - from;
    const Vec2 second = to - point;
    const double off_line = std::abs(cross(first, second));
    if (chord > 0 && off_line <= straight_within_mm * chord && glm::dot(first, second) > 0) {
      chain[node].bulge = 0;
      return "";
    }
    if (!(off_line > 0)) return "an edge can't be bent through a point in line with its ends";
    // The two chords of an arc turn by half its angle, and the bulge is the tangent of a quarter of it.
    chain[node].bulge = std::tan(std::atan2(cross(first, second), glm::dot(first, second)) / 2);
    return "";
  });
}

Edited set_edge_rise(const Design& design, OutlineOf of, std::size_t node, double rise_mm) {
  return change_outline(design, of, node, [&](std::vector<Node>& chain) -> std::string {
    const double chord = glm::distance(chain[node].at, chain[(node + 1) % chain.size()].at);
    if (!(chord > 0)) return "an edge of no length can't be bent";
    chain[node].bulge = 2 * rise_mm / chord * outward_sign(chain);
    return "";
  });
}

std::optional<double> edge_rise_mm(const Design& design, OutlineOf of, std::size_t node) {
  const std::vector<Node>* chain = chain_of(design, of);
  if (!chain || node >= chain->size()) return std::nullopt;
  const double chord = glm::distance((*chain)[node].at, (*chain)[(node + 1) % chain->size()].at);
  return (*chain)[node].bulge * chord / 2 * outward_sign(*chain);
}

Edited split_edge(const Design& design, OutlineOf of, std::size_t node, double t) {
  return change_outline(design, of, node, [&](std::vector<Node>& chain) {
    if (chain.size() >= limits::kOutlineNodes)
      return "an outline has at most " + std::to_string(limits::kOutlineNodes) + " nodes";
    if (!(t > 0 && t < 1)) return std::string("a new node must lie between the two ends of its edge");
    Node& from = chain[node];
    const Edge edge(from.at, chain[(node + 1) % chain.size()].at, from.bulge);
    const double quarter = std::atan(from.bulge);  // a quarter of the arc's angle, shared out by t
    const Node made{edge.point(t), std::tan((1 - t) * quarter)};
    from.bulge = std::tan(t * quarter);
    chain.insert(edits::at(chain, node + 1), made);
    return std::string();
  });
}

Edited remove_node(const Design& design, OutlineOf of, std::size_t node) {
  return change_outline(design, of, node, [&](std::vector<Node>& chain) {
    if (chain.size() <= 2) return "an outline keeps at least two nodes";
    chain[(node + chain.size() - 1) % chain.size()].bulge = 0;
    chain.erase(edits::at(chain, node));
    return "";
  });
}

Edited remove_cutout(const Design& design, std::size_t cutout) {
  if (cutout >= design.tang.cutouts.size()) return no_such("cutout", cutout, " in the tang");
  Design edited = design;
  edited.tang.cutouts.erase(edits::at(edited.tang.cutouts, cutout));
  return edited;
}

Edited move_cutout(const Design& design, std::size_t cutout, Vec2 by_mm) {
  if (cutout >= design.tang.cutouts.size()) return no_such("cutout", cutout, " in the tang");
  Design edited = design;
  for (Node& node : edited.tang.cutouts[cutout]) node.at += by_mm;
  return edited;
}

Edited add_tang_hole(const Design& design, Vec2 at_mm, double diameter_mm) {
  if (design.tang.holes.size() >= limits::kTangHoles)
    return edits::too_many("holes of the tang", limits::kTangHoles);
  Design edited = design;
  edited.tang.holes.push_back({new_tang_hole_id(design), at_mm, diameter_mm,
                               edits::free_name("hole", design.tang.holes, design.tang.holes.size() + 1)});
  return edited;
}

Edited add_tang_hole(const Design& design, const Handle& handle, double diameter_mm) {
  if (const auto place = roomiest_place_mm(design, handle, diameter_mm))
    return add_tang_hole(design, *place, diameter_mm);
  return Edited::refused(
      "there is no room for another hole on the axis; add it in the fold view, with the tang's corners "
      "shown");
}

Edited size_tang_hole(const Design& design, std::size_t hole, double diameter_mm) {
  if (hole >= design.tang.holes.size()) return no_such("hole", hole, " in the tang");
  if (!(diameter_mm > 0)) return Edited::refused("a hole needs a diameter of more than nothing");
  Design edited = design;
  edited.tang.holes[hole].diameter_mm = diameter_mm;
  return edited;
}

Edited move_tang_hole(const Design& design, std::size_t hole, Vec2 to_mm) {
  if (hole >= design.tang.holes.size()) return no_such("hole", hole, " in the tang");
  Design edited = design;
  edited.tang.holes[hole].at_mm = to_mm;
  for (Pin& pin : edited.pins)
    if (index_of(design.tang.holes, pin.existing_tang_hole) == hole) pin.at_mm = to_mm;
  return edited;
}

Edited remove_tang_hole(const Design& design, std::size_t hole) {
  if (hole >= design.tang.holes.size()) return no_such("hole", hole, " in the tang");
  for (std::size_t pin = 0; pin < design.pins.size(); ++pin)
    if (index_of(design.tang.holes, design.pins[pin].existing_tang_hole) == hole)
      return Edited::refused(pin_name(design, pin) + " goes through " + tang_hole_words(design, hole) +
                             ". Give the pin a hole of its own first.");
  Design edited = design;
  edited.tang.holes.erase(edits::at(edited.tang.holes, hole));
  return edited;
}

}  // namespace haftwright
