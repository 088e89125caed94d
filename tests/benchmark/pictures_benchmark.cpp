// Speed of reading and squaring up a picture of 12 megapixels, each beside a yardstick of the same run:
// squaring up beside a plain loop that takes the nearest pixel, reading beside copying its bytes.
#include <benchmark/benchmark.h>

#include <cmath>

#include "haftwright/pictures/find_sheet.hpp"
#include "haftwright/pictures/frame.hpp"
#include "haftwright/pictures/read_picture.hpp"
#include "haftwright/pictures/trace.hpp"
#include "haftwright/pictures/warp.hpp"

namespace {

using namespace haftwright;

/// 4000 x 3000 pixels: a brown piece on a light ground, with some figure.
const Photo& photo() {
  static const Photo made = [] {
    Photo out{4000, 3000, {}};
    out.rgb.reserve(std::size_t{36} * 1'000'000);
    for (int y = 0; y < out.height_px; ++y)
      for (int x = 0; x < out.width_px; ++x) {
        const bool wood = std::abs(x - 2000) < 1300 && std::abs(y - 1500 + x / 20) < 700;
        const double figure = 20 * std::sin(y * 0.05 + std::sin(x * 0.003));
        for (const double value : {150.0, 105.0, 60.0})
          out.rgb.push_back(static_cast<std::uint8_t>(wood ? value + figure : 215 - x / 200));
      }
    return out;
  }();
  return made;
}

Squaring squaring() {
  return square_up({.marks = {{{400, 2700}, {0, 0}},
                              {{3500, 2800}, {300, 0}},
                              {{3400, 300}, {300, 220}},
                              {{600, 250}, {0, 220}}}},
                   4000, 3000);
}

/// 4000 x 3000 pixels out.
constexpr Bounds kBox{{10, 5}, {290, 215}};
constexpr double kScale = 4000 / 280.0;

void warp_12_megapixels(benchmark::State& state) {
  const Squaring squared = squaring();
  for (auto _ : state) benchmark::DoNotOptimize(warp(photo(), squared, kBox, kScale));
}
BENCHMARK(warp_12_megapixels)->Unit(benchmark::kMillisecond)->MeasureProcessCPUTime()->UseRealTime();

void warp_12_to_3_megapixels(benchmark::State& state) {
  const Squaring squared = squaring();
  for (auto _ : state) benchmark::DoNotOptimize(warp(photo(), squared, kBox, kScale / 2));
}
BENCHMARK(warp_12_to_3_megapixels)->Unit(benchmark::kMillisecond)->MeasureProcessCPUTime()->UseRealTime();

void nearest_pixel_12_megapixels(benchmark::State& state) {
  const Squaring squared = squaring();
  Photo out{4000, 3000, std::vector<std::uint8_t>(photo().rgb.size())};
  for (auto _ : state) {
    std::size_t to = 0;
    for (int y = 0; y < 3000; ++y)
      for (int x = 0; x < 4000; ++x, to += 3) {
        const Vec2 px = squared.to_px(warped_mm_of({x + 0.5, y + 0.5}, kBox, kScale));
        const auto column = static_cast<std::size_t>(std::clamp(px.x, 0.0, 3999.0));
        const auto row = static_cast<std::size_t>(std::clamp(px.y, 0.0, 2999.0));
        std::copy_n(&photo().rgb[(row * 4000 + column) * 3], 3, &out.rgb[to]);
      }
    benchmark::DoNotOptimize(out.rgb.data());
  }
}
BENCHMARK(nearest_pixel_12_megapixels)->Unit(benchmark::kMillisecond)->MeasureProcessCPUTime()->UseRealTime();

void read_png_12_megapixels(benchmark::State& state) {
  const std::string bytes = png_bytes(photo());
  const auto* data = reinterpret_cast<const std::uint8_t*>(bytes.data());
  for (auto _ : state) benchmark::DoNotOptimize(read_picture(data, bytes.size()));
}
BENCHMARK(read_png_12_megapixels)->Unit(benchmark::kMillisecond)->MeasureProcessCPUTime()->UseRealTime();

void find_sheet_12_megapixels(benchmark::State& state) {
  for (auto _ : state) benchmark::DoNotOptimize(find_sheet(photo()));
}
BENCHMARK(find_sheet_12_megapixels)->Unit(benchmark::kMillisecond)->MeasureProcessCPUTime()->UseRealTime();

void find_frame_on_a_page(benchmark::State& state) {
  const Photo page = frame_photo(FrameSize::a4, 300);
  for (auto _ : state) benchmark::DoNotOptimize(find_frame(page));
}
BENCHMARK(find_frame_on_a_page)->Unit(benchmark::kMillisecond)->MeasureProcessCPUTime()->UseRealTime();

void trace_12_megapixels(benchmark::State& state) {
  for (auto _ : state) benchmark::DoNotOptimize(trace(photo(), {.px_per_mm = 14}));
}
BENCHMARK(trace_12_megapixels)->Unit(benchmark::kMillisecond)->MeasureProcessCPUTime()->UseRealTime();

}  // namespace

BENCHMARK_MAIN();
