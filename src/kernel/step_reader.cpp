#include <sstream>

#include <STEPControl_Controller.hxx>
#include <STEPControl_Reader.hxx>
#include <Standard_Failure.hxx>
#include <StepRepr_RepresentationItem.hxx>
#include <TCollection_HAsciiString.hxx>
#include <XSControl_TransferReader.hxx>
#include <XSControl_WorkSession.hxx>

#include "haftwright/solids/solids.hpp"
#include "shapes.hpp"
#include "step.hpp"
#include "step_settings.hpp"
#include "step_string.hpp"

namespace haftwright::kernel {

namespace {

std::string name_of(const TopoDS_Shape& solid,
                    const opencascade::handle<XSControl_TransferReader>& transfer) {
  const auto item = opencascade::handle<StepRepr_RepresentationItem>::DownCast(
      transfer->EntityFromShapeResult(solid.Located({}), -1));
  if (item.IsNull() || item->Name().IsNull()) return {};
  return text_of_step_string(item->Name()->ToCString());
}

}  // namespace

std::vector<NamedShape> read_step(const std::string& text) {
  keep_quiet();
  STEPControl_Controller::Init();
  const StepSetting unit("xstep.cascade.unit", "MM");
  try {
    STEPControl_Reader reader;
    std::istringstream stream(text);
    if (reader.ReadStream("text", stream) != IFSelect_RetDone || reader.TransferRoots() < 1) {
      throw SolidError("STEP: this text can't be read back");
    }
    std::vector<NamedShape> solids;
    for (const TopoDS_Shape& solid : solids_of(reader.OneShape())) {
      solids.push_back({solid, name_of(solid, reader.WS()->TransferReader()), {}});
    }
    return solids;
  } catch (const Standard_Failure& failure) {
    throw SolidError(std::string("STEP: the solid kernel failed while reading: ") +
                     failure.GetMessageString());
  }
}

}  // namespace haftwright::kernel
