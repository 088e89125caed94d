#include "haftwright/guide/order_of_work.hpp"

#include <algorithm>
#include <cmath>

#include "haftwright/design/units.hpp"
#include "plan.hpp"

namespace haftwright {
namespace guide {
namespace {

const char* edge_name(HandleEdge edge) {
  return edge == HandleEdge::spine ? "spine" : "belly";
}

/// "1", "1 and 2", "1, 2 and 3".
std::string listed(const std::vector<std::string>& words) {
  std::string out;
  for (std::size_t i = 0; i < words.size(); ++i) {
    if (i > 0) out += i + 1 == words.size() ? " and " : ", ";
    out += words[i];
  }
  return out;
}

class Order {
 public:
  Order(const Design& design, const Handle& handle, const DrillGuide& guide)
      : design_(design), handle_(handle), guide_(guide) {}

  std::vector<WorkStep> take() {
    cautions();
    blanks();
    scale(Which::left);
    scale(Which::right);
    tang();
    liners();
    step(
        "Push the pins through both scales and the tang dry, before any adhesive is mixed. Where one binds, "
        "find out why before you open a hole up.");
    return std::move(steps_);
  }

 private:
  std::string length(double mm) const { return format_length(mm, design_.shown_unit); }
  void step(std::string words) { steps_.push_back({std::move(words), false}); }
  void caution(std::string words) { steps_.push_back({std::move(words), true}); }

  void cautions() {
    caution(
        "Clamp guide and work to the table of the drilling machine; never hold them by hand. A drill that "
        "breaks through can seize the work and swing it round.");
    caution(
        "Wear eye protection, keep gloves, sleeves and hair away from the spindle, and draw the dust off "
        "or wear a mask. The machine's manual and your local rules come before anything written here.");
    if (drills_tang())
      caution(
          "Cover the edge and point of a finished blade, with tape over thick card, before the tang is "
          "clamped "
          "or turned over.");
    if (design_.tang.hardened && drills_tang())
      caution(
          "The tang is hardened: an ordinary drill glows, breaks or shatters in it. Have its holes made "
          "before it is hardened, or by someone equipped for hard steel.");
  }

  bool has_joints(Which which) const { return !handle_.side(which).joints.empty(); }
  Side side_of(Which which) const { return which == Which::left ? design_.left : design_.right_side(); }
  bool drills_tang() const {
    return std::ranges::any_of(design_.pins, [](const Pin& pin) { return pin.existing_tang_hole.empty(); });
  }

  std::vector<const GuideLocator*> fences() const {
    std::vector<const GuideLocator*> found;
    for (const GuideLocator& locator : guide_.locators)
      if (locator.role == LocatorRole::edge_fence) found.push_back(&locator);
    std::ranges::sort(found, {}, [](const GuideLocator* fence) { return fence->contact.x; });
    return found;
  }

  /// What of a blank has to be finished, and what may wait.
  void blanks() {
    const auto pair = fences();
    const HandleEdge edge = pair.front()->edge;
    const double allowance = design_.guide.blank_allowance_mm;
    const std::string line = std::string("the ") + edge_name(edge) + " edge of ";
    const bool whole = worked_whole(handle_, guide_);
    for (const Which which : {Which::left, Which::right}) {
      const SideLayout& side = handle_.side(which);
      const double front = (edge == HandleEdge::spine ? side.front_spine : side.front_belly).inner.x;
      const double from = pair.front()->contact.x - worked_beside_mm(*pair.front()) - front;
      const double to = pair.back()->contact.x + worked_beside_mm(*pair.back()) - front;
      std::string words = "Work " + line + "the " + name_of(which) + " blank ";
      words += allowance == 0 ? "to its line" : "parallel to its line, " + length(allowance) + " outside it";
      words += whole ? ", over its whole length, since it does not run along the handle."
                     : ", at least from " + length(from) + " to " + length(to) +
                           " behind the line of the front face, measured along the handle.";
      words += has_joints(which) ? " Front, butt and the other edge may stay oversize."
                                 : " Finish its front face too: the stop pin touches it. Butt and the other "
                                   "edge may stay oversize.";
      words += " At the ends leave no more than " +
               length(design_.guide.stop_pin_mm + design_.guide.least_wall_mm) +
               " of wood, so that the clamps have room.";
      step(std::move(words));
      if (!side_of(which).liners.empty())
        step(std::string("Leave the liners off the ") + name_of(which) + " scale" +
             (has_joints(which) ? ": they would hide its joint lines in the windows."
                                : ": it is drilled on its own, its inner face on the guide."));
    }
    if (guide_.thickness_slope != 0)
      step(
          "The plate is a wedge, as the tang is. The arrow on it points to the front; lay it no other way "
          "round.");
  }

  std::string bushing_words(const GuideBore& bore) const {
    return bore.for_bushing ? ", its bushing in" : "";
  }

  /// How the work is packed up so that the bores stand upright in the machine.
  void level(const std::string& what, double face_slope) {
    if (face_slope == 0) return;
    const double run = handle_.left.finished.bounds().size().x;
    step("The bores stand square to the middle of the guide, not to its faces. Pack " + what + " up by " +
         length(std::abs(face_slope) * run) + " at its " + (face_slope < 0 ? "butt" : "front") +
         " end, over a length of " + length(run) + ", so that they stand upright under the spindle.");
  }

  void pins_in(Which which, const std::string& face) {
    for (const GuideLocator& locator : guide_.locators) {
      if (!locator.loose || !serves(locator, which)) continue;
      std::string words = "Push a pin of " + length(locator.diameter_mm) + " into the hole of the " +
                          spot_words(design_, spot_of(locator)) + " until it stands exactly " +
                          length(guide_.fence_height_mm) + " above the " + face + " face.";
      const double lean = handle_.side(which).front.tan_rake;
      if (locator.role == LocatorRole::front_stop && lean < 0)
        words += " The front face leans forward and meets the pin's end: each " + length(1) +
                 " of height moves the scale by " + length(-lean) + ".";
      step(std::move(words));
    }
  }

  void seat(Which which) {
    const std::string edge = edge_name(fences().front()->edge);
    std::string words = "Push the " + edge + " of the " + name_of(which) + " blank against both " +
                        (fences().front()->loose ? "pins" : "fences");
    std::vector<std::string> joints;
    for (const SightWindow& window : guide_.windows)
      if (which == Which::left ? window.for_left : window.for_right)
        if (const std::string joint = std::to_string(window.joint + 1);
            joints.empty() || joints.back() != joint)
          joints.push_back(joint);
    if (joints.empty())
      words += " and its front face against the stop pin.";
    else
      words += " and slide it along until the foremost line of " +
               (joints.size() == 1
                    ? "joint " + joints.front() + " lies on the window edges made for it"
                    : "each of the joints " + listed(joints) + " lies on the window edges made for it") +
               ", at the spine and at the belly. Where they can't all be met, share the rest out evenly.";
    step(std::move(words) +
         " Clamp it there at the lands marked with rounds, a scrap as thick as the blank under each, and "
         "look at it again.");
  }

  void drill(bool for_tang) {
    std::vector<std::string> pins;
    double out = 0;
    bool over_fence = false;
    for (const GuideBore& bore : guide_.bores) {
      const Pin& pin = design_.pins[bore.pin];
      if (for_tang && !pin.existing_tang_hole.empty()) continue;
      const double drill = for_tang && bore.for_bushing ? pin.tang_hole.actual_mm() : bore.drill_mm;
      pins.push_back("pin " + std::to_string(bore.pin + 1) + " with " + length(drill) + bushing_words(bore));
      out = std::max(out, drill_out_mm(design_, guide_, bore));
      over_fence = over_fence || chuck_over_fence(guide_, bore);
    }
    if (for_tang) {
      step("Drill through the bores: " + listed(pins) +
           ". Clear the swarf often, and ease off as the drill "
           "comes through.");
      return;
    }
    step("Drill through the bores: " + listed(pins) + ". The drill stands at least " + length(out) +
         " out of the chuck" +
         (over_fence ? ", so that the chuck stays clear of the fences" : std::string()) +
         ". Clear the swarf often, and ease off as the drill comes through into the board.");
  }

  void scale(Which which) {
    const std::string face = which == Which::left ? "L" : "R";
    step("Lay the " + std::string(name_of(which)) +
         " blank on a flat piece of waste board, inner face up, and the "
         "guide on it, the face marked " +
         face + " down.");
    level("the board", guide_.thickness_slope / 2);
    pins_in(which, face);
    seat(which);
    drill(false);
    for (const GuideLocator& locator : guide_.locators)
      if (locator.role == LocatorRole::front_stop && serves(locator, which)) {
        step("Pull the front stop pin out again.");
        break;
      }
  }

  void tang() {
    if (!drills_tang()) {
      step("The tang has its holes already and is not drilled.");
      return;
    }
    std::string words = "Lay the tang on the face marked L, its butt against a pin in the hole behind it";
    const bool own_pins = std::ranges::any_of(
        guide_.locators, [](const GuideLocator& locator) { return locator.role == LocatorRole::tang_stop; });
    const GuideLocator* side_stop = nullptr;
    for (const GuideLocator& locator : guide_.locators)
      if (serves_tang(locator) && locator.role != LocatorRole::butt_stop) side_stop = &locator;
    if (side_stop)
      words += std::string(" and its ") + edge_name(side_stop->edge) + " against " +
               (own_pins           ? "two pins in the holes beside it"
                : side_stop->loose ? "the two pins"
                                   : "the two fences");
    step(std::move(words) + ". No loose pin may stand higher than the tang is thick.");
    if (const TangStrip strip = tang_strip(handle_, guide_); strip.thickness_mm > 0)
      step("The tang is tapered: put a strip " + length(strip.thickness_mm) +
           " thick between guide and tang, across them, its middle " +
           length(strip.at_x_mm - handle_.left.front_spine.inner.x) +
           " behind the front face, and nothing at the other end, so that the tang stands square to the "
           "bores.");
    const double packing = tang_packing_mm(handle_, guide_);
    step("Clamp guide and tang together and turn both over, the tang below, onto " +
         (packing > 0 ? "packing at least " + length(packing) +
                            " thick that lies under the tang alone: the fences stand higher than the tang is "
                            "thick, and must not carry the guide."
                      : "waste board."));
    level("the tang", handle_.tang_slope / 2);
    drill(true);
  }

  void liners() {
    if (design_.left.liners.empty() && design_.right_side().liners.empty()) return;
    step(
        "Clamp each liner to the inner face of its drilled scale, with waste board behind it, and drill it "
        "through the scale's holes; open the holes up afterwards where they are to be larger.");
  }

  const Design& design_;
  const Handle& handle_;
  const DrillGuide& guide_;
  std::vector<WorkStep> steps_;
};

}  // namespace
}  // namespace guide

std::vector<WorkStep> order_of_work(const Design& design, const Handle& handle, const DrillGuide& guide) {
  return guide::Order(design, handle, guide).take();
}

std::string order_of_work_text(const std::vector<WorkStep>& steps) {
  std::string text;
  std::size_t number = 0;
  for (const WorkStep& step : steps)
    text += (step.caution ? "Caution: " : std::to_string(++number) + ". ") + step.words + "\n";
  return text;
}

std::string plate_words(const DrillGuide& guide, LengthUnit unit) {
  const Bounds& bounds = guide.plate.bounds();
  const std::string plan =
      format_length(bounds.size().x, unit) + " x " + format_length(bounds.size().y, unit) + " x ";
  if (guide.thickness_slope == 0) return plan + format_length(guide.thickness_mm, unit);
  return plan + format_length(guide.thickness_at_mm(bounds.low.x), unit) + " at the front and " +
         format_length(guide.thickness_at_mm(bounds.high.x), unit) + " at the butt";
}

double tang_packing_mm(const Handle& handle, const DrillGuide& guide) {
  const bool stands = std::ranges::any_of(guide.locators, [](const GuideLocator& l) { return !l.loose; });
  if (!stands) return 0;
  // A fence's end is level with the plate's face at its own place; the tang is thinnest at one of its ends.
  const Bounds& tang = handle.tang.bounds();
  const Bounds& plate = guide.plate.bounds();
  const double front = std::max(tang.low.x, plate.low.x);
  const double rear = std::min(tang.high.x, plate.high.x);
  const double thinnest = std::min(handle.tang_thickness_mm(front), handle.tang_thickness_mm(rear));
  return std::max(0.0, guide.fence_height_mm + guide::kFenceBelowBlankMm - thinnest);
}

TangStrip tang_strip(const Handle& handle, const DrillGuide& guide) {
  // The tang's face toward the plate runs against the plate's own: between them the gap opens by the halves
  // of both tapers.
  const double slope = (handle.tang_slope + guide.thickness_slope) / 2;
  const double front = std::max(handle.tang.bounds().low.x, guide.plate.bounds().low.x);
  const double butt = handle.tang.bounds().high.x;
  constexpr double kInFromEndMm = 5;  // so that the strip lies under the tang with its whole width
  if (slope == 0) return {};
  if (slope < 0) return {-slope * (butt - kInFromEndMm - front), butt - kInFromEndMm};
  return {slope * (butt - front - kInFromEndMm), front + kInFromEndMm};
}

}  // namespace haftwright
