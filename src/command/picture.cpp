#include "picture.hpp"

#include <charconv>
#include <utility>

#include "haftwright/design/units.hpp"
#include "haftwright/design/validate.hpp"
#include "haftwright/files/safe_write.hpp"
#include "haftwright/render/offscreen.hpp"
#include "planned_over.hpp"
#include "project.hpp"

namespace haftwright::command {
namespace {

constexpr int kLeastSide = 16;
constexpr int kMostSide = 8000;
constexpr int kMostPixels = 32'000'000;  // about 400 MB, most of it for the PNG

/// "1600x1000".
PictureSize parse_size(const std::string& text) {
  const auto refuse = [&] {
    return InputError(
        "--size", "\"" + text + "\" is no size: write width x height in pixels, such as 1600x1000, " +
                      std::to_string(kLeastSide) + " to " + std::to_string(kMostSide) + " each and at most " +
                      std::to_string(kMostPixels / 1'000'000) + " million together");
  };
  PictureSize size;
  const char* end = text.data() + text.size();
  const auto [cross, first_error] = std::from_chars(text.data(), end, size.width);
  if (first_error != std::errc() || cross == end || *cross != 'x') throw refuse();
  const auto [rest, second_error] = std::from_chars(cross + 1, end, size.height);
  if (second_error != std::errc() || rest != end) throw refuse();
  const auto fits = [](int side) { return side >= kLeastSide && side <= kMostSide; };
  if (!fits(size.width) || !fits(size.height) || size.width * size.height > kMostPixels) throw refuse();
  return size;
}

/// "y=0", "x=2 in": the half toward the eye is cut away.
SectionPlane parse_section(const std::string& text, LengthUnit unit, const Camera& camera) {
  const std::size_t axis = text.empty() ? std::string::npos : std::string("xyz").find(text[0]);
  if (axis == std::string::npos || text.size() < 3 || text[1] != '=')
    throw InputError("--section",
                     "\"" + text + "\" is no plane: write an axis and a place on it, such as \"y=0\"");
  double place_mm = 0;
  try {
    place_mm = parse_length_mm(text.substr(2), unit);
  } catch (const std::invalid_argument& error) {
    throw InputError("--section", error.what());
  }
  SectionPlane plane{{0, 0, 0}, place_mm};
  const int along = static_cast<int>(axis);
  const double sign = camera.back[along] < 0 ? -1 : 1;
  plane.normal[along] = sign;
  plane.offset_mm *= sign;
  return plane;
}

SceneOptions scene_options(const PictureOptions& options, LengthUnit unit, const Camera& camera,
                           double step_mm) {
  SceneOptions scene;
  if (options.show == "colours") scene.mode = SceneMode::albedo;
  if (options.show == "ghost") scene.mode = SceneMode::ghost_wood;
  if (options.show == "mismatch") scene.mode = SceneMode::mismatch;
  scene.backdrop = options.transparent          ? Backdrop::clear
                   : options.backdrop == "dark" ? Backdrop::dark
                                                : Backdrop::light;
  scene.exploded = scene.mode == SceneMode::mismatch ? 0 : options.exploded;
  scene.shadow = !options.no_shadow;
  scene.step_limit_mm = step_mm;
  if (!options.section.empty()) scene.section = parse_section(options.section, unit, camera);
  return scene;
}

/// Which plan is meant tells nothing without the bin that it is made over.
void require_bin(const PlanOptions& woods) {
  const PlanOptions usual;
  if (!woods.bin.empty() ||
      (woods.plans == usual.plans && woods.take == usual.take && !woods.outside && !woods.blanks_too))
    return;
  throw InputError("--bin",
                   "name the bin to plan over; --plans, --take, --outside and --all-pieces go with it");
}

Picture drawn(const Preview& preview, const Handle& handle, const Camera& camera, const SceneOptions& scene,
              PictureSize size, std::vector<WoodPicture> woods) {
  try {
    return draw_picture(preview, pair_joint_lines(handle), camera, scene, size, std::move(woods));
  } catch (const RenderError& error) {
    throw OutputError(std::string("no picture: ") + error.what());
  }
}

}  // namespace

int picture(const PictureOptions& options) {
  const PictureSize size = parse_size(options.size);
  // A range lets "nan" pass, which is neither below nor above anything.
  if (!(options.exploded >= 0 && options.exploded <= 1))
    throw InputError("--exploded", "must be from 0 to 1");
  require_bin(options.woods);
  Project project = open(options.common.project);
  const std::filesystem::path path = output_path(options.common, ("-" + options.view + ".png").c_str());
  Camera camera = standard_camera(find_view(options.view).value(), !options.parallel);
  const SceneOptions scene =
      scene_options(options, project.design.shown_unit, camera, project.design.rules.joint_step_mm);
  std::vector<WoodPicture> woods;
  if (!options.woods.bin.empty()) {
    PlanOptions planning = options.woods;
    planning.common.project = options.common.project;
    const std::optional<PlannedOver> planned = plan_over_bin(planning, project);
    if (!planned) return bad_input;
    woods = woods_of(*planned, planning, project);
  }
  const Preview preview = build_preview(project.design, project.handle, MeshSettings::fine());
  fit(camera, preview, scene.exploded, size);
  write_file_safely(path, png_bytes(drawn(preview, project.handle, camera, scene, size, std::move(woods))));
  print("Written: " + path.string() + "\n");
  return verdict(project.findings, path.string() + " was written all the same. See 'haftwright check'.");
}

}  // namespace haftwright::command
