#include "new_project.hpp"

#include "haftwright/design/validate.hpp"
#include "haftwright/edits/shop_values.hpp"
#include "haftwright/files/project_file.hpp"
#include "haftwright/files/safe_write.hpp"
#include "haftwright/handle/lay_out.hpp"

namespace haftwright::command {

LengthUnit length_unit_named(const std::string& name) {
  if (name == "inch") return LengthUnit::inch;
  return name == "inch_fraction" ? LengthUnit::inch_fraction : LengthUnit::millimetre;
}

void write_new_project(Design design, const Shop& shop, const std::filesystem::path& project, bool replace) {
  design = with_shop(design, shop);
  design.name = project.stem().string();
  if (auto problems = validate(design); !problems.empty()) throw InputError(std::move(problems));
  lay_out(design);
  write_project(design, project, replace ? OldFile::replace : OldFile::refuse);
}

}  // namespace haftwright::command
