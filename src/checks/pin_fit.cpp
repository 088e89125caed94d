// Pin stock against the hole that the drill really makes.
#include "haftwright/reference/drills.hpp"
#include "kinds.hpp"

namespace haftwright::checks {
namespace {

/// One hole of a pin; equal ones on both sides are one.
struct FitLayer {
  Layer layer = Layer::scale;
  Sides sides = Sides::none;
  double hole_mm = 0;
  const HoleSize* size = nullptr;  ///< none: a hole the tang already has
};

std::vector<FitLayer> layers_of(const Design& design, const Handle& handle, const Pin& pin) {
  const auto lined = [&](Which which) { return handle.side(which).liner_total_mm > 0; };
  std::vector<FitLayer> layers{{Layer::scale, Sides::both, pin.scale_hole.actual_mm(), &pin.scale_hole}};
  if (lined(Which::left) || lined(Which::right)) {
    const Sides sides = lined(Which::left) && lined(Which::right) ? Sides::both
                        : lined(Which::left)                      ? Sides::left
                                                                  : Sides::right;
    layers.push_back({Layer::liner, sides, pin.liner_hole.actual_mm(), &pin.liner_hole});
  }
  const bool drilled = pin.existing_tang_hole.empty();
  layers.push_back(
      {Layer::tang, Sides::none, hole_in_tang(design, pin).diameter_mm, drilled ? &pin.tang_hole : nullptr});
  return layers;
}

/// A listed drill, else a reamer, of sizes that go with the shown unit, that leaves the wanted glue clearance
/// round the stock.
std::optional<ListedDrill> better_drill(double stock_mm, const ShopRules& rules, LengthUnit shown) {
  const double least = stock_mm + rules.glue_clearance_least_mm;
  const double most = stock_mm + rules.glue_clearance_most_mm;
  const bool metric = shown == LengthUnit::millimetre;
  const auto drill = smallest_drill_between(least, most, false, metric);
  return drill ? drill : smallest_drill_between(least, most, true, metric);
}

std::optional<ListedDrill> unmeasured_drill(const FitLayer& layer) {
  if (!layer.size || layer.size->diameter_mm) return std::nullopt;
  return find_drill(layer.size->drill);
}

class FitWords {
 public:
  FitWords(const Design& design, const Pin& pin, const FitLayer& layer)
      : layer_(layer), rules_(design.rules), shown_(design.shown_unit), stock_mm_(pin.stock.diameter_mm()) {}

  std::string all() const {
    const double clearance = layer_.hole_mm - stock_mm_;
    std::string text = measured();
    if (clearance < 0)
      text += length(-clearance) + " of interference. " + too_tight();
    else if (fails(clearance, rules_.glue_clearance_least_mm, Sense::at_least))
      text += length(clearance) + " of clearance, too little for glue to stay in. " + too_tight();
    else if (fails(clearance, rules_.glue_clearance_most_mm, Sense::at_most))
      text += length(clearance) +
              " of clearance, too loose to hold the parts in place while they are glued. " + too_loose();
    else
      text +=
          length(clearance) + " of clearance. Glue needs room round the pin, and the pin must still locate.";
    return text + unmeasured();
  }

 private:
  static bool fails(double value, double limit, Sense sense) {
    return judge(value, limit, sense, 0) == Status::fail;
  }
  std::string length(double mm) const { return length_in_both(mm, shown_); }

  std::string measured() const {
    std::string hole = "The hole is ";
    if (!layer_.size)
      hole = "The hole in the tang is ";
    else if (const auto drill = find_drill(layer_.size->drill))
      hole = "The " + drill_words(*drill) + " drill makes a hole of ";
    return hole + length(layer_.hole_mm) + ", the pin is " + length(stock_mm_) + ": ";
  }

  std::string too_tight() const {
    const double wanted = layer_.hole_mm - rules_.glue_clearance_least_mm;
    return "Take " + length(stock_mm_ - wanted) + " off the pin's diameter for " +
           length(rules_.glue_clearance_least_mm) + " of glue clearance" + or_drill("open the hole up with");
  }

  std::string too_loose() const {
    return "Use pin stock of " + length(layer_.hole_mm - rules_.glue_clearance_most_mm) + " to " +
           length(layer_.hole_mm - rules_.glue_clearance_least_mm) +
           (layer_.size ? or_drill("drill with") : ".");
  }

  std::string or_drill(const std::string& what_to_do) const {
    const auto drill = better_drill(stock_mm_, rules_, shown_);
    if (!drill) return "; no listed drill or reamer gives that clearance.";
    return ", or " + what_to_do + " " + drill_words(*drill) + ", " + length(drill->diameter_mm) + ".";
  }

  /// A drill rarely cuts its own size.
  std::string unmeasured() const {
    const auto drill = unmeasured_drill(layer_);
    if (!drill) return {};
    const auto range = drilled_hole_allowance(drill->diameter_mm);
    if (!range) return " This takes the drill at its nominal size: measure a hole it made.";
    return " This takes the drill at its nominal size; drilled holes come out from " +
           length(-range->lower_mm) + " under to " + length(range->upper_mm) +
           " over it: measure a hole it made.";
  }

  const FitLayer& layer_;
  const ShopRules& rules_;
  LengthUnit shown_;
  double stock_mm_;
};

}  // namespace

void check_pin_fit(const Report& report) {
  const Design& design = report.design;
  const ShopRules& rules = design.rules;
  for (std::size_t i = 0; i < design.pins.size(); ++i) {
    const Pin& pin = design.pins[i];
    for (const FitLayer& layer : layers_of(design, report.handle, pin)) {
      const double clearance = layer.hole_mm - pin.stock.diameter_mm();
      // The clearance has two limits; the finding shows the one it is nearer to, or past.
      const bool loose = rules.glue_clearance_most_mm - clearance < clearance - rules.glue_clearance_least_mm;
      std::string basis =
          basis_words(loose ? &ShopRules::glue_clearance_most_mm : &ShopRules::glue_clearance_least_mm);
      if (const auto drill = unmeasured_drill(layer))
        if (const auto range = drilled_hole_allowance(drill->diameter_mm))
          basis += "; hole sizes: " + std::string(range->source);
      report.add({.id = "pin.fit",
                  .where = {{.thing = Thing::pin, .index = i, .sides = layer.sides, .layer = layer.layer}},
                  .place = Vec3{pin.at_mm, 0},
                  .value = clearance,
                  .limit = loose ? rules.glue_clearance_most_mm : rules.glue_clearance_least_mm,
                  .sense = loose ? Sense::at_most : Sense::at_least,
                  .why = FitWords(design, pin, layer).all(),
                  .basis = std::move(basis)});
    }
  }
}

}  // namespace haftwright::checks
