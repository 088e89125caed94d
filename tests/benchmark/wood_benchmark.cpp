// What photos of the planned wood cost when the handle is drawn: beside the same picture without them, and
// for the first upload of one. Time of all threads, as the drawing here is done in software by several.
#include <benchmark/benchmark.h>
#include <time.h>

#include <memory>
#include <string>
#include <utility>
#include <vector>

#include "haftwright/cutting/wood_places.hpp"
#include "haftwright/files/project_file.hpp"
#include "haftwright/handle/lay_out.hpp"
#include "haftwright/render/offscreen.hpp"

namespace {

using namespace haftwright;

double process_ms() {
  timespec now{};
  clock_gettime(CLOCK_PROCESS_CPUTIME_ID, &now);
  return static_cast<double>(now.tv_sec) * 1e3 + static_cast<double>(now.tv_nsec) / 1e6;
}

/// 260 x 90 mm at the finest that a wood's picture has.
std::shared_ptr<const WoodPhoto> board_photo() {
  WoodPhoto photo;
  photo.px_per_mm = kWoodPxPerMm;
  photo.box_mm = {{-kWoodPastRimMm, -kWoodPastRimMm}, {260 + kWoodPastRimMm, 90 + kWoodPastRimMm}};
  photo.picture.photo.width_px = static_cast<int>(photo.box_mm.size().x * photo.px_per_mm);
  photo.picture.photo.height_px = static_cast<int>(photo.box_mm.size().y * photo.px_per_mm);
  const auto pixels = static_cast<std::size_t>(photo.picture.photo.width_px) *
                      static_cast<std::size_t>(photo.picture.photo.height_px);
  for (std::size_t i = 0; i < pixels; ++i)
    for (const unsigned base : {140u, 100u, 60u})
      photo.picture.photo.rgb.push_back(static_cast<std::uint8_t>(base + (i * 2654435761u >> 7) % 40));
  photo.picture.shown.assign(pixels, 255);
  return std::make_shared<const WoodPhoto>(std::move(photo));
}

struct Stage {
  Stage()
      : design(read_project(std::string(HAFTWRIGHT_PROJECTS) + "/shucking_knife.json")),
        handle(lay_out(design)) {
    Bin bin;
    for (const Piece& piece : design.left.pieces)
      bin.offcuts.push_back(
          {"o" + std::to_string(bin.offcuts.size()), "", piece.material, rectangle({260, 90}), 40});
    const CuttingPlans plans = plan_cutting(design, handle, bin, {.plans = 1, .blanks_too = true});
    for (const WoodPlace& place : wood_places(handle, plans.needs, plans.plans.front(), bin, design.rules))
      if (auto wood = wood_picture(place, photo, bin.offcuts[place.offcut])) woods.push_back(*wood);
    const Preview preview = build_preview(design, handle);
    view.set_preview(preview, {});
    fit(camera, preview, 0, kSize);
  }
  double draw_ms() {
    const double began = process_ms();
    view.draw(camera, {}, kSize);
    benchmark::DoNotOptimize(view.read().rgba.data());
    return process_ms() - began;
  }
  static constexpr PictureSize kSize{1200, 700};
  Design design;
  Handle handle;
  std::shared_ptr<const WoodPhoto> photo = board_photo();
  std::vector<WoodPicture> woods;
  OffscreenContext context;
  SceneView view;
  Camera camera = standard_camera(StandardView::three_quarter, true);
};

/// One after the other, so that both have the same machine.
void draw_with_and_without_photos(benchmark::State& state) {
  Stage stage;
  stage.draw_ms();
  double without = 0;
  double with = 0;
  double upload = 0;
  for (auto _ : state) {
    stage.view.set_woods({});
    without += stage.draw_ms();
    const double began = process_ms();
    stage.view.set_woods(stage.woods);
    upload += process_ms() - began;
    with += stage.draw_ms();
  }
  const auto count = static_cast<double>(state.iterations());
  state.counters["without_ms"] = without / count;
  state.counters["with_ms"] = with / count;
  state.counters["with_to_without"] = with / without;
  state.counters["upload_ms"] = upload / count;
}
BENCHMARK(draw_with_and_without_photos)->Unit(benchmark::kMillisecond)->MinTime(2);

/// What a blank that moves costs: the same photo under another map.
void move_a_blank(benchmark::State& state) {
  Stage stage;
  stage.view.set_woods(stage.woods);
  for (auto _ : state) {
    for (WoodPicture& wood : stage.woods) wood.across.z += 1e-4;
    stage.view.set_woods(stage.woods);
  }
}
BENCHMARK(move_a_blank)->Unit(benchmark::kMicrosecond);

}  // namespace
