#include "step_colours.hpp"

#include <cmath>
#include <map>

#include <StepRepr_HArray1OfRepresentationItem.hxx>
#include <StepShape_ShapeRepresentation.hxx>
#include <StepVisual_ColourRgb.hxx>
#include <StepVisual_FillAreaStyle.hxx>
#include <StepVisual_FillAreaStyleColour.hxx>
#include <StepVisual_FillStyleSelect.hxx>
#include <StepVisual_HArray1OfFillStyleSelect.hxx>
#include <StepVisual_HArray1OfPresentationStyleAssignment.hxx>
#include <StepVisual_HArray1OfPresentationStyleSelect.hxx>
#include <StepVisual_HArray1OfSurfaceStyleElementSelect.hxx>
#include <StepVisual_MechanicalDesignGeometricPresentationRepresentation.hxx>
#include <StepVisual_PresentationStyleAssignment.hxx>
#include <StepVisual_PresentationStyleSelect.hxx>
#include <StepVisual_StyledItem.hxx>
#include <StepVisual_SurfaceSideStyle.hxx>
#include <StepVisual_SurfaceStyleElementSelect.hxx>
#include <StepVisual_SurfaceStyleFillArea.hxx>
#include <StepVisual_SurfaceStyleUsage.hxx>
#include <TCollection_HAsciiString.hxx>

#include "haftwright/solids/solids.hpp"

namespace haftwright::kernel {

namespace {

using StepText = opencascade::handle<TCollection_HAsciiString>;

double to_four_decimals(float share) {
  return std::round(static_cast<double>(share) * 1e4) / 1e4;
}

opencascade::handle<StepVisual_FillAreaStyle> fill_style(const Colour& colour, const StepText& no_name) {
  opencascade::handle<StepVisual_ColourRgb> rgb = new StepVisual_ColourRgb;
  rgb->Init(no_name, to_four_decimals(colour.red), to_four_decimals(colour.green),
            to_four_decimals(colour.blue));
  opencascade::handle<StepVisual_FillAreaStyleColour> fill_colour = new StepVisual_FillAreaStyleColour;
  fill_colour->Init(no_name, rgb);
  StepVisual_FillStyleSelect select;
  select.SetValue(fill_colour);
  opencascade::handle<StepVisual_HArray1OfFillStyleSelect> fills =
      new StepVisual_HArray1OfFillStyleSelect(1, 1);
  fills->SetValue(1, select);
  opencascade::handle<StepVisual_FillAreaStyle> style = new StepVisual_FillAreaStyle;
  style->Init(no_name, fills);
  return style;
}

opencascade::handle<StepVisual_SurfaceStyleUsage> surface_usage(const Colour& colour,
                                                                const StepText& no_name) {
  opencascade::handle<StepVisual_SurfaceStyleFillArea> area = new StepVisual_SurfaceStyleFillArea;
  area->Init(fill_style(colour, no_name));
  StepVisual_SurfaceStyleElementSelect select;
  select.SetValue(area);
  opencascade::handle<StepVisual_HArray1OfSurfaceStyleElementSelect> elements =
      new StepVisual_HArray1OfSurfaceStyleElementSelect(1, 1);
  elements->SetValue(1, select);
  opencascade::handle<StepVisual_SurfaceSideStyle> side = new StepVisual_SurfaceSideStyle;
  side->Init(no_name, elements);
  opencascade::handle<StepVisual_SurfaceStyleUsage> usage = new StepVisual_SurfaceStyleUsage;
  usage->Init(StepVisual_ssBoth, side);
  return usage;
}

opencascade::handle<StepVisual_StyledItem> styled(
    const opencascade::handle<StepRepr_RepresentationItem>& solid, const Colour& colour,
    const StepText& no_name) {
  StepVisual_PresentationStyleSelect select;
  select.SetValue(surface_usage(colour, no_name));
  opencascade::handle<StepVisual_HArray1OfPresentationStyleSelect> selects =
      new StepVisual_HArray1OfPresentationStyleSelect(1, 1);
  selects->SetValue(1, select);
  opencascade::handle<StepVisual_PresentationStyleAssignment> assignment =
      new StepVisual_PresentationStyleAssignment;
  assignment->Init(selects);
  opencascade::handle<StepVisual_HArray1OfPresentationStyleAssignment> assignments =
      new StepVisual_HArray1OfPresentationStyleAssignment(1, 1);
  assignments->SetValue(1, assignment);
  opencascade::handle<StepVisual_StyledItem> item = new StepVisual_StyledItem;
  item->Init(no_name, assignments, solid);
  return item;
}

using Presentation = StepVisual_MechanicalDesignGeometricPresentationRepresentation;

opencascade::handle<Presentation> presentation(
    const ColouredSolid& part, const opencascade::handle<StepRepr_RepresentationContext>& context,
    const StepText& no_name) {
  opencascade::handle<StepRepr_HArray1OfRepresentationItem> items =
      new StepRepr_HArray1OfRepresentationItem(1, 1);
  items->SetValue(1, styled(part.solid, part.colour, no_name));
  opencascade::handle<Presentation> result = new Presentation;
  result->Init(no_name, items, context);
  return result;
}

}  // namespace

void add_colours(const opencascade::handle<StepData_StepModel>& model,
                 const std::vector<ColouredSolid>& parts) {
  using Context = opencascade::handle<StepRepr_RepresentationContext>;
  std::map<const StepRepr_RepresentationItem*, Context> contexts;
  for (int i = 1; i <= model->NbEntities(); ++i) {
    const auto shape = opencascade::handle<StepShape_ShapeRepresentation>::DownCast(model->Value(i));
    if (shape.IsNull()) continue;
    for (int j = 1; j <= shape->NbItems(); ++j)
      contexts[shape->ItemsValue(j).get()] = shape->ContextOfItems();
  }
  const StepText no_name = new TCollection_HAsciiString("");
  for (const ColouredSolid& part : parts) {
    const auto context = contexts.find(part.solid.get());
    if (context == contexts.end()) throw SolidError("STEP: a part has no shape to colour");
    model->AddWithRefs(presentation(part, context->second, no_name));
  }
}

}  // namespace haftwright::kernel
