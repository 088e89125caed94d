#include "planned_over.hpp"

#include <exception>
#include <map>

#include "haftwright/cutting/take.hpp"
#include "haftwright/design/validate.hpp"
#include "haftwright/files/bin_file.hpp"
#include "plan_places.hpp"

namespace haftwright::command {
namespace {

/// What is wrong with the bin is told under its own name; then there is none.
std::optional<Bin> bin_in_force(const PlanOptions& options) {
  const std::filesystem::path path = bin_of(options);
  std::optional<Bin> bin;
  guarded(path, [&] {
    std::error_code error;
    if (!std::filesystem::exists(path, error))
      throw InputError("", "there is no bin here; 'haftwright bin add' begins one");
    bin = read_bin(path);
    return good;
  });
  return bin;
}

/// Each photo once, however many pieces come out of its offcut.
class Photos {
 public:
  Photos(const Bin& bin, const std::filesystem::path& folder) : bin_(bin), folder_(folder) {}

  /// Throws what wood_photo throws, each time again.
  std::shared_ptr<const WoodPhoto> of(const WoodPlace::Shown& shown) {
    const Offcut& offcut = bin_.offcuts[shown.offcut];
    const OffcutPhoto& photo = offcut.photos[shown.photo];
    auto& read = read_[{shown.offcut, shown.photo}];
    if (!read)
      read = std::make_shared<const WoodPhoto>(wood_photo(folder_ / photo.file, photo, offcut.outline));
    return read;
  }

 private:
  const Bin& bin_;
  std::filesystem::path folder_;
  std::map<std::pair<std::size_t, std::size_t>, std::shared_ptr<const WoodPhoto>> read_;
};

}  // namespace

std::filesystem::path bin_of(const PlanOptions& options) {
  return options.bin.empty() ? bin_file() : options.bin;
}

std::optional<PlannedOver> plan_over_bin(const PlanOptions& options, Project& project) {
  std::optional<Bin> bin = bin_in_force(options);
  if (!bin) return {};
  PlannedOver planned{std::move(*bin), {}, {}};
  planned.wishes.plans = options.plans;
  planned.wishes.project = name_in_bin(project.design, options.common.project);
  planned.wishes.book_shows_outside = options.outside;
  planned.wishes.blanks_too = options.blanks_too;
  if (!options.order.empty()) planned.wishes.order = typed_order(options.order);
  project.design = with_typed_places(options, project.design, planned.bin, planned.wishes);
  planned.plans = plan_cutting(project.design, project.handle, planned.bin, planned.wishes);
  if (options.take > planned.plans.plans.size())
    throw InputError("--take",
                     planned.plans.plans.size() == 1
                         ? "there is only 1 plan"
                         : "there are only " + std::to_string(planned.plans.plans.size()) + " plans");
  return planned;
}

std::vector<WoodPicture> woods_of(const PlannedOver& planned, const PlanOptions& options,
                                  const Project& project) {
  const Needs& needs = planned.plans.needs;
  const CuttingPlan& plan = planned.plans.plans[options.take - 1];
  Photos photos(planned.bin, picture_folder(bin_of(options)));
  std::vector<WoodPicture> woods;
  const auto none = [&](std::size_t need, const std::string& why) {
    complain(needs.pieces[need].name + ": " + why + "; it is drawn as its wood looks on the whole.");
  };
  for (std::size_t i = 0; i < needs.pieces.size(); ++i)
    if (needs.pieces[i].at_hand && !options.blanks_too) none(i, "its blank is at hand and in no plan");
  for (const std::size_t need : plan.pieces_without) none(need, "it has no place in the plan");
  for (const WoodPlace& place : wood_places(project.handle, needs, plan, planned.bin, project.design.rules)) {
    if (!place.shown) {
      none(place.need, no_photo_words(place, planned.bin));
      continue;
    }
    const std::string& file = planned.bin.offcuts[place.shown->offcut].photos[place.shown->photo].file;
    try {
      if (auto wood = wood_picture(place, photos.of(*place.shown), planned.bin.offcuts[place.offcut]))
        woods.push_back(std::move(*wood));
      else
        none(place.need, "the photo " + file + " does not show its place");
    } catch (const std::exception& error) {
      none(place.need, "the photo " + file + " can't be used: " + error.what());
    }
  }
  return woods;
}

}  // namespace haftwright::command
