#include "haftwright/preview/guide_plan.hpp"

#include "haftwright/guide/spots.hpp"

namespace haftwright {
namespace {

class PlanMaker {
 public:
  GuidePlan make(const DrillGuide& guide, const Handle& handle) {
    Drawing& drawing = plan_.drawing;
    drawing.add(Role::plate, outline_fill(guide.plate));
    for (const GuideMark& mark : guide.marks)
      if (mark.on_left_face)
        for (const Outline& stroke : mark.strokes) drawing.add(Role::marking, outline_fill(stroke));
    drawing.add(Role::context_edge, outline_stroke(handle.left.finished));
    drawing.add(Role::visible_edge, outline_stroke(guide.plate));
    for (const SightWindow& window : guide.windows) {
      drawing.add(Role::opening, outline_fill(window.outline), part(spot_of(window)));
      drawing.add(Role::set_line, straight(window.joint_from, window.joint_to));
    }
    for (const GuideLocator& locator : guide.locators)
      round(locator.loose ? Role::opening : Role::fence, locator.at, locator.diameter_mm, spot_of(locator));
    for (const GuideBore& bore : guide.bores) round(Role::opening, bore.at, bore.diameter_mm, spot_of(bore));
    return std::move(plan_);
  }

 private:
  std::size_t part(const Spot& spot, double diameter_mm = 0) {
    plan_.parts.push_back({spot, diameter_mm});
    return plan_.parts.size() - 1;
  }

  void round(Role role, Vec2 at, double diameter_mm, const Spot& spot) {
    plan_.drawing.add(role, Circle{at, {.mm = diameter_mm / 2}}, part(spot, diameter_mm));
  }

  GuidePlan plan_;
};

}  // namespace

GuidePlan draw_guide_plan(const DrillGuide& guide, const Handle& handle) {
  return PlanMaker().make(guide, handle);
}

}  // namespace haftwright
