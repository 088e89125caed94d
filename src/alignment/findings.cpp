// Findings of the line-up against the shop's rules.
#include "haftwright/alignment/findings.hpp"

#include "haftwright/alignment/telling.hpp"

namespace haftwright {
namespace {

constexpr LineUpKind kKinds[] = {
    {"line_up.way", "your way of drilling can be used"},
    {"line_up.pins", "pins hold both sides in line"},
    {"line_up.bind", "pins go into all their holes"},
    {"line_up.step", "no step shows between left and right"},
};

/// Finds for one design and its way.
class LineUpFindings {
 public:
  LineUpFindings(const Design& design, const WayReport& way) : design_(design), way_(way) {}

  std::vector<Finding> all() {
    usable();
    pins();
    if (!way_.problem.empty()) return std::move(findings_);
    if (!design_.pins.empty()) interference();
    step();
    return std::move(findings_);
  }

 private:
  void add(Finding finding) {
    const double near_share = finding.unit == FigureUnit::count ? 0 : design_.rules.near_share;
    finding.status = judge(finding.value, finding.limit, finding.sense, near_share);
    findings_.push_back(std::move(finding));
  }

  Where way() const { return {{.thing = Thing::drilling, .index = static_cast<std::size_t>(way_.way)}}; }
  std::string sampled_words() const {
    return "sampled over " + std::to_string(way_.sampled) + " handles made as \"drilling\" says";
  }

  void usable() {
    if (way_.problem.empty()) return;
    add({.id = "line_up.way",
         .where = way(),
         .value = 0,
         .limit = 1,
         .unit = FigureUnit::count,
         .why = "Your way of drilling can't be used: " + way_.problem + ".",
         .basis = "the way under \"drilling\" in the project"});
  }

  void pins() {
    const bool glue_alone = design_.rules.pins_per_piece == 0;
    add({.id = "line_up.pins",
         .where = {{.thing = Thing::side, .sides = Sides::both}},
         .value = static_cast<double>(design_.pins.size()),
         .limit = glue_alone ? 0.0 : 1.0,
         .unit = FigureUnit::count,
         .why = design_.pins.empty()
                    ? "No pin holds the scales where they were lined up: they slide on wet glue until it has "
                      "cured. Add pins; where glue alone is meant, set the shop rule pins_per_piece to 0."
                    : "Pins keep the scales where they were drilled while the glue cures; two or more also "
                      "keep them from turning.",
         .basis = basis_words(&ShopRules::pins_per_piece)});
  }

  void interference() {
    add({.id = "line_up.bind",
         .where = way(),
         .value = way_.samples.no_fit.share,
         .limit = design_.rules.pins_bind_share,
         .sense = Sense::at_most,
         .unit = FigureUnit::share,
         .why = pins_words(design_, way_) + " This was " + sampled_words() + ".",
         .basis = basis_words(&ShopRules::pins_bind_share)});
  }

  void step() {
    const std::size_t worst = worst_measure(way_);
    const Chance& chance = way_.samples.any_shows;
    std::string why = "In " + percent_words(chance.share) +
                      " of handles a step or an angle shows somewhere, " + sampled_words() +
                      "; most often at " + where_words(design_, measure_place(way_.line_up, worst)) +
                      ", in " + percent_words(way_.samples.measures[worst].shows.share) + ".";
    if (chance.share > design_.rules.step_shows_share)
      why += " 'haftwright align' and the panel Line-up say what makes it up and what one change would do.";
    const MeetingPlace& place = way_.line_up.places[way_.line_up.measures[worst].place];
    add({.id = "line_up.step",
         .where = way(),
         .place = place.left.at,
         .value = chance.share,
         .limit = design_.rules.step_shows_share,
         .sense = Sense::at_most,
         .unit = FigureUnit::share,
         .why = std::move(why),
         .basis = basis_words(&ShopRules::step_shows_share)});
  }

  const Design& design_;
  const WayReport& way_;
  std::vector<Finding> findings_;
};

}  // namespace

std::span<const LineUpKind> line_up_kinds() {
  return kKinds;
}

std::vector<Finding> line_up_findings(const Design& design, const WayReport& way) {
  return LineUpFindings(design, way).all();
}

std::vector<Finding> line_up_findings(const Design& design, const Handle& handle) {
  return line_up_findings(design, assess_own_way(design, handle, kFindingSamples));
}

std::vector<Finding> all_findings(const Design& design, const Handle& handle) {
  std::vector<Finding> findings = run_checks(design, handle);
  for (Finding& finding : line_up_findings(design, handle)) findings.push_back(std::move(finding));
  return findings;
}

}  // namespace haftwright
