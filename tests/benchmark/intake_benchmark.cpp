// Speed of reading drawings: many entities, and what grows with their number.
#include <benchmark/benchmark.h>

#include <cmath>
#include <cstdio>
#include <numbers>
#include <string>

#include "haftwright/intake/loops.hpp"

namespace {

using namespace haftwright;
using namespace haftwright::intake;

std::string tag(int code, double value) {
  char text[48];
  std::snprintf(text, sizeof text, "%d\n%.6f\n", code, value);
  return text;
}

/// Loops of 50 entities each, in no order: lines and arcs that meet only within the file's decimals.
std::string loose_edges(std::size_t entities) {
  constexpr std::size_t kSides = 50;
  const std::size_t loops = entities / kSides;
  std::string edges;
  for (std::size_t side = 0; side < kSides; ++side)
    for (std::size_t loop = 0; loop < loops; ++loop) {
      const Vec2 middle{static_cast<double>(loop % 100) * 30, static_cast<double>(loop / 100) * 30};
      const auto corner = [&](std::size_t i) {
        const double angle = 2 * std::numbers::pi * static_cast<double>(i % kSides) / kSides;
        return middle + Vec2{10 * std::cos(angle), 10 * std::sin(angle)};
      };
      const Vec2 a = corner(side), b = corner(side + 1);
      if (side % 5 != 0) {
        edges += "0\nLINE\n8\n0\n" + tag(10, a.x) + tag(20, a.y) + tag(11, b.x) + tag(21, b.y);
        continue;
      }
      const double turn = 360.0 / kSides;
      edges += "0\nARC\n8\n0\n" + tag(10, middle.x) + tag(20, middle.y) + tag(40, 10) +
               tag(50, turn * static_cast<double>(side)) + tag(51, turn * static_cast<double>(side + 1));
    }
  return "0\nSECTION\n2\nHEADER\n9\n$INSUNITS\n70\n4\n0\nENDSEC\n0\nSECTION\n2\nENTITIES\n" + edges +
         "0\nENDSEC\n0\nEOF\n";
}

void read_loose_edges(benchmark::State& state) {
  const std::string text = loose_edges(static_cast<std::size_t>(state.range(0)));
  std::size_t loops = 0;
  for (auto _ : state) loops = find_loops(read_drawing(text), 0.05, 0.02).loops.size();
  state.counters["loops"] = static_cast<double>(loops);
  state.SetComplexityN(state.range(0));
}
BENCHMARK(read_loose_edges)
    ->ArgName("entities")
    ->Arg(12'500)
    ->Arg(25'000)
    ->Arg(50'000)
    ->Arg(100'000)
    ->Unit(benchmark::kMillisecond)
    ->Complexity();

/// One outline of cubics, as a drawing program writes a free form.
void read_cubics(benchmark::State& state) {
  std::string data = "M0 0";
  const auto number = [](double value) {
    char text[32];
    std::snprintf(text, sizeof text, " %.4f", value);
    return std::string(text);
  };
  const auto count = static_cast<int>(state.range(0));
  const double step = 2 * std::numbers::pi / count;
  const auto at = [&](int i) { return Vec2{60 * std::cos(step * i) - 60, 25 * std::sin(step * i)}; };
  const auto way = [&](int i) {
    return Vec2{-60 * std::sin(step * i), 25 * std::cos(step * i)} * (step / 3);
  };
  for (int i = 0; i < count; ++i) {
    const Vec2 a = at(i) + way(i), b = at(i + 1) - way(i + 1), c = at(i + 1);
    data += "C" + number(a.x) + number(a.y) + number(b.x) + number(b.y) + number(c.x) + number(c.y);
  }
  const std::string text = "<svg width=\"200mm\" viewBox=\"0 0 200 200\"><path d=\"" + data + "z\"/></svg>";
  std::size_t edges = 0;
  double deviation = 0;
  for (auto _ : state) {
    const Loops loops = find_loops(read_drawing(text), 0.05, 0.02);
    edges = loops.loops.at(0).outline.nodes().size();
    deviation = loops.largest_deviation_mm;
  }
  state.counters["edges"] = static_cast<double>(edges);
  state.counters["deviation_um"] = 1000 * deviation;
}
BENCHMARK(read_cubics)->ArgName("cubics")->Arg(12)->Arg(200)->Unit(benchmark::kMillisecond);

}  // namespace

BENCHMARK_MAIN();
