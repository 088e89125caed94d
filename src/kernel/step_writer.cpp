#include <sstream>

#include <APIHeaderSection_MakeHeader.hxx>
#include <BRep_Builder.hxx>
#include <Interface_HArray1OfHAsciiString.hxx>
#include <Interface_Static.hxx>
#include <STEPConstruct.hxx>
#include <STEPControl_Controller.hxx>
#include <STEPControl_Writer.hxx>
#include <Standard_Failure.hxx>
#include <StepBasic_Product.hxx>
#include <StepData_Protocol.hxx>
#include <StepData_StepModel.hxx>
#include <StepData_StepWriter.hxx>
#include <StepRepr_NextAssemblyUsageOccurrence.hxx>
#include <StepRepr_RepresentationItem.hxx>
#include <TopoDS_Compound.hxx>
#include <Transfer_FinderProcess.hxx>
#include <XSControl_TransferWriter.hxx>
#include <XSControl_WorkSession.hxx>

#include "haftwright/solids/solids.hpp"
#include "shapes.hpp"
#include "step.hpp"
#include "step_colours.hpp"
#include "step_settings.hpp"
#include "step_string.hpp"

namespace haftwright::kernel {

namespace {

using StepText = opencascade::handle<TCollection_HAsciiString>;

StepText step_text(const std::string& text) {
  return new TCollection_HAsciiString(text.c_str());
}

/// Names go through the kernel's writer as short plain stand-ins: it neither encodes what is not ASCII nor
/// keeps long strings on one line.
class StandIns {
 public:
  StepText stand_in(const std::string& text) {
    texts_.push_back(step_string(text));
    return step_text(kMark + std::to_string(texts_.size() - 1) + kMark);
  }
  std::string resolved(const std::string& written) const {
    std::string result;
    std::size_t done = 0;
    for (std::size_t at; (at = written.find(kMark, done)) != std::string::npos;) {
      const std::size_t number = at + kMark.size();
      const std::size_t end = written.find(kMark, number);
      result.append(written, done, at - done);
      result += texts_.at(std::stoul(written.substr(number, end - number)));
      done = end + kMark.size();
    }
    return result.append(written, done);
  }

 private:
  static inline const std::string kMark = "~~";
  std::vector<std::string> texts_;
};

/// A body of several solids is written as several parts.
std::vector<NamedShape> one_solid_each(const std::vector<NamedShape>& bodies) {
  std::vector<NamedShape> parts;
  for (const NamedShape& body : bodies) {
    const auto solids = solids_of(body.shape);
    for (std::size_t i = 0; i < solids.size(); ++i) {
      const std::string suffix = solids.size() == 1 ? "" : " (" + std::to_string(i + 1) + ")";
      parts.push_back({solids[i], body.name + suffix, body.colour});
    }
  }
  return parts;
}

TopoDS_Shape as_product(const std::vector<NamedShape>& parts) {
  std::vector<TopoDS_Shape> solids;
  for (const NamedShape& part : parts) solids.push_back(part.shape);
  return gathered(solids);
}

/// Products come in the order of transfer, the assembly first; so do the uses of parts in the assembly.
void name_products(const opencascade::handle<StepData_StepModel>& model, const std::vector<NamedShape>& parts,
                   const std::string& product_name, StandIns& names) {
  std::vector<std::string> wanted{product_name};
  if (parts.size() > 1) {
    for (const NamedShape& part : parts) wanted.push_back(part.name);
  }
  std::size_t products = 0;
  std::size_t uses = 0;
  for (int i = 1; i <= model->NbEntities(); ++i) {
    const auto entity = model->Value(i);
    if (const auto product = opencascade::handle<StepBasic_Product>::DownCast(entity); !product.IsNull()) {
      const auto name = names.stand_in(wanted.at(products++));
      product->SetId(name);
      product->SetName(name);
    }
    const auto use = opencascade::handle<StepRepr_NextAssemblyUsageOccurrence>::DownCast(entity);
    if (use.IsNull()) continue;
    use->SetId(step_text(std::to_string(++uses)));
    use->SetName(names.stand_in(wanted.at(uses)));
  }
  if (products != wanted.size()) throw SolidError("STEP: the parts of the assembly got mixed up");
}

void write_header(const opencascade::handle<StepData_StepModel>& model, const StepText& product_name) {
  APIHeaderSection_MakeHeader header(model);
  header.SetName(product_name);
  header.SetTimeStamp(step_text("2000-01-01T00:00:00"));  // fixed: equal input gives equal bytes
  header.SetAuthorValue(1, step_text(""));
  header.SetOrganizationValue(1, step_text(""));
  header.SetPreprocessorVersion(step_text("Haftwright"));
  header.SetOriginatingSystem(step_text("Haftwright"));
  header.SetAuthorisation(step_text(""));
  header.SetDescriptionValue(1, step_text("Handle parts and drill guides, millimetres"));
}

std::string text_of(const opencascade::handle<StepData_StepModel>& model) {
  StepData_StepWriter writer(model);
  writer.SendModel(opencascade::handle<StepData_Protocol>::DownCast(model->Protocol()));
  std::ostringstream text;
  text.imbue(std::locale::classic());
  if (!writer.Print(text)) throw SolidError("STEP: the text could not be put together");
  return text.str();
}

std::string write_parts(const std::vector<NamedShape>& parts, const std::string& product_name) {
  STEPControl_Writer writer;
  if (writer.Transfer(as_product(parts), STEPControl_AsIs) != IFSelect_RetDone) {
    throw SolidError("STEP: the solid kernel could not write these bodies");
  }
  const auto model = writer.Model();
  const auto transfer = writer.WS()->TransferWriter()->FinderProcess();
  StandIns names;
  name_products(model, parts, product_name, names);
  std::vector<ColouredSolid> coloured;
  for (const NamedShape& part : parts) {
    const auto item = STEPConstruct::FindEntity(transfer, part.shape);
    if (item.IsNull()) throw SolidError(part.name + ": missing from the STEP text");
    item->SetName(names.stand_in(part.name));
    coloured.push_back({item, part.colour});
  }
  add_colours(model, coloured);
  write_header(model, names.stand_in(product_name));
  return names.resolved(text_of(model));
}

}  // namespace

std::string write_step(const std::vector<NamedShape>& bodies, const std::string& product_name) {
  keep_quiet();
  STEPControl_Controller::Init();
  const StepSetting schema("write.step.schema", "AP214IS");
  const StepSetting unit("write.step.unit", "MM");
  const StepSetting assembly("write.step.assembly", 1);
  const StepSetting curves("write.surfacecurve.mode", 0);
  try {
    return write_parts(one_solid_each(bodies), product_name);
  } catch (const Standard_Failure& failure) {
    throw SolidError(std::string("STEP: the solid kernel failed while writing: ") +
                     failure.GetMessageString());
  }
}

}  // namespace haftwright::kernel
