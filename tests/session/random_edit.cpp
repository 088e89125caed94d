#include "random_edit.hpp"

#include <iterator>

#include "haftwright/alignment/ways.hpp"

namespace haftwright::test {
namespace {

using Maker = Edited (*)(Random&, const Design&);

Which a_side(Random& random) {
  return random.chance(0.5) ? Which::left : Which::right;
}
SideField a_field(Random& random) {
  return kSideFields[random.index(std::size(kSideFields))];
}
Vec2 near(Random& random, Vec2 place, double reach) {
  return {place.x + random.between(-reach, reach), place.y + random.between(-reach, reach)};
}
Side side_of(const Design& design, Which side) {
  return side == Which::left ? design.left : design.right_side();
}
Sheet a_sheet(Random& random) {
  return {"vulcanized_fibre", random.between(0.2, 1.2)};
}
// One past the end now and then: the edit must refuse it.
std::size_t an_index(Random& random, std::size_t size) {
  return random.index(size + (random.chance(0.05) || size == 0 ? 1 : 0));
}

const Maker kMakers[] = {
    [](Random& r, const Design& d) { return unlink(d, a_field(r)); },
    [](Random& r, const Design& d) { return link(d, a_field(r)); },
    [](Random& r, const Design& d) { return copy_side(d, a_side(r)); },
    [](Random&, const Design& d) { return swap_sides(d); },
    [](Random& r, const Design& d) {
      const std::size_t pin = an_index(r, d.pins.size());
      const Vec2 from = pin < d.pins.size() ? d.pins[pin].at_mm : Vec2{0, 0};
      return move_pin(d, pin, near(r, from, 3), {r.chance(0.3), r.chance(0.3) ? 2.0 : 0.0});
    },
    [](Random& r, const Design& d) {
      if (d.pins.size() >= 8) return remove_pin(d, r.index(d.pins.size()));
      return add_pin(d, {r.between(5, 105), r.between(-6, 6)});
    },
    [](Random& r, const Design& d) { return remove_pin(d, an_index(r, d.pins.size())); },
    [](Random& r, const Design& d) {
      const Which side = a_side(r);
      const auto joints = side_of(d, side).joints;
      const std::size_t joint = an_index(r, joints.size());
      const double from = joint < joints.size() ? joints[joint].place_mm : 0;
      return move_joint(d, side, joint, from + r.between(-4, 4));
    },
    [](Random& r, const Design& d) {
      const Which side = a_side(r);
      return slant_joint(d, side, an_index(r, side_of(d, side).joints.size()), r.between(-20, 20));
    },
    [](Random& r, const Design& d) {
      const Which side = a_side(r);
      return rake_joint(d, side, an_index(r, side_of(d, side).joints.size()), r.between(-15, 15));
    },
    [](Random& r, const Design& d) {
      const Which side = a_side(r);
      if (side_of(d, side).pieces.size() >= 4) return remove_piece(d, side, 1);
      return add_joint(d, side, r.between(10, 100));
    },
    [](Random& r, const Design& d) {
      const Which side = a_side(r);
      return remove_piece(d, side, an_index(r, side_of(d, side).pieces.size()));
    },
    [](Random& r, const Design& d) {
      const Which side = a_side(r);
      const std::size_t joint = an_index(r, side_of(d, side).joints.size());
      if (r.chance(0.5)) return remove_spacer(d, side, joint, 0);
      return add_spacer(d, side, joint, r.index(3), a_sheet(r));
    },
    [](Random& r, const Design& d) {
      const Which side = a_side(r);
      if (r.chance(0.5)) return remove_liner(d, side, 0);
      return add_liner(d, side, r.index(3), a_sheet(r));
    },
    [](Random& r, const Design& d) {
      return set_front(d, a_side(r), {r.between(-2, 3), r.between(-10, 10), r.between(-10, 10)});
    },
    [](Random& r, const Design& d) { return set_butt_proud(d, a_side(r), r.between(0, 3)); },
    [](Random& r, const Design& d) {
      const Which side = a_side(r);
      const auto stations = side_of(d, side).finish.thickness_mm;
      const std::size_t station = an_index(r, stations.size());
      const double x = station < stations.size() ? stations[station].x : 0;
      return move_station(d, side, station, x + r.between(-3, 3), r.between(6, 10));
    },
    [](Random& r, const Design& d) {
      const Which side = a_side(r);
      if (side_of(d, side).finish.thickness_mm.size() >= 6) return remove_station(d, side, 1);
      return add_station(d, side, r.between(0, 110));
    },
    [](Random& r, const Design& d) {
      const std::size_t node = an_index(r, d.tang.outline.size());
      const Vec2 from = node < d.tang.outline.size() ? d.tang.outline[node].at : Vec2{0, 0};
      return move_node(d, {}, node, near(r, from, 1));
    },
    [](Random& r, const Design& d) {
      if (d.tang.outline.size() >= 14) return remove_node(d, {}, r.index(d.tang.outline.size()));
      return split_edge(d, {}, an_index(r, d.tang.outline.size()), r.between(-0.05, 1));
    },
    [](Random& r, const Design& d) {
      if (d.tang.holes.size() >= 3) return remove_tang_hole(d, r.index(3));
      return add_tang_hole(d, {r.between(5, 100), r.between(-8, 8)}, r.between(1, 3));
    },
    [](Random& r, const Design& d) {
      return move_tang_hole(d, an_index(r, d.tang.holes.size()), {r.between(5, 100), r.between(-8, 8)});
    },
    [](Random& r, const Design& d) {
      const std::size_t pin = an_index(r, d.pins.size());
      if (d.tang.holes.empty() || r.chance(0.5)) return drill_tang_hole(d, pin);
      return use_tang_hole(d, pin, d.tang.holes.front().id);
    },
    [](Random& r, const Design& d) {
      const Which side = a_side(r);
      const auto joints = side_of(d, side).joints;
      const std::size_t joint = an_index(r, joints.size());
      const double from = joint < joints.size() ? joints[joint].place_mm : 0;
      const Vec3 hand{from + r.between(-3, 3), r.between(-9, 9), r.between(-1, 8)};
      const double within_deg = r.chance(0.5) ? 1.0 : 0.0;
      switch (r.index(3)) {
        case 0:
          return move_joint(d, side, joint, hand.x, r.between(0, 2));
        case 1:
          return slant_joint_through(d, side, joint, hand, within_deg);
        default:
          return rake_joint_through(d, side, joint, hand, within_deg);
      }
    },
    [](Random& r, const Design& d) {
      const std::size_t node = an_index(r, d.tang.outline.size());
      if (r.chance(0.5)) return set_edge_rise(d, {}, node, r.between(-1, 1));
      const Vec2 from = node < d.tang.outline.size() ? d.tang.outline[node].at : Vec2{0, 0};
      return bend_edge_through(d, {}, node, near(r, from, 4), r.between(0, 0.5));
    },
    [](Random& r, const Design& d) {
      if (!d.tang.cutouts.empty() && r.chance(0.4)) return remove_cutout(d, r.index(d.tang.cutouts.size()));
      if (!d.tang.cutouts.empty())
        return move_cutout(d, an_index(r, d.tang.cutouts.size()), {r.between(-3, 3), r.between(-1, 1)});
      Design edited = d;
      const double x = r.between(65, 75);
      edited.tang.cutouts = {{{{x, -3}, 0}, {{x + 6, -3}, 0.2}, {{x + 6, 3}, 0}, {{x, 3}, 0}}};
      return Edited(edited);
    },
    [](Random& r, const Design& d) {
      return size_tang_hole(d, an_index(r, d.tang.holes.size()), r.between(-0.5, 4));
    },
    [](Random& r, const Design& d) { return set_rule(d, &ShopRules::joint_step_mm, r.between(-0.1, 1)); },
    [](Random& r, const Design& d) {
      Design edited = d;
      edited.adhesive.bond_line_mm = r.between(-0.02, 0.5);
      return Edited(edited);
    },
    [](Random& r, const Design& d) {
      Design edited = d;
      Drilling& drilling = edited.drilling;
      const auto errors = error_rows();
      switch (r.index(4)) {
        case 0:
          drilling.way = way_rows()[r.index(way_rows().size())].way;
          break;
        case 1:
          drilling.set_by = r.chance(0.5) ? SetBy::joint_line : SetBy::front_face;
          break;
        case 2:
          drilling.one_block = r.chance(0.5);
          drilling.fronts_together = r.chance(0.5);
          break;
        default:
          drilling.errors.*errors[r.index(errors.size())].member = r.between(-0.05, 1);
      }
      return Edited(edited);
    },
    [](Random& r, const Design& d) {
      Design edited = d;
      if (edited.dry_fit.size() >= 6) {
        edited.dry_fit.erase(edited.dry_fit.begin() + static_cast<std::ptrdiff_t>(r.index(6)));
        return Edited(edited);
      }
      const std::size_t joint = r.index(3);
      const std::vector<Joint>& joints = d.left.joints;
      edited.dry_fit.push_back({.joint = joint < joints.size() ? joints[joint].id : "gone",
                                .strip_edge = r.chance(0.5) ? StripEdge::front : StripEdge::rear,
                                .at = r.chance(0.5) ? HandleEdge::spine : HandleEdge::belly,
                                .kind = r.chance(0.3) ? ReadingKind::step : ReadingKind::length,
                                .side = a_side(r),
                                .from_pin = r.chance(0.3) && !d.pins.empty() ? d.pins[0].id : "",
                                .reading_mm = r.between(-2, 110),
                                .accuracy_mm = r.between(-0.005, 0.1)});
      return Edited(edited);
    },
};

}  // namespace

Edited random_edit(Random& random, const Design& design) {
  return kMakers[random.index(std::size(kMakers))](random, design);
}

}  // namespace haftwright::test
