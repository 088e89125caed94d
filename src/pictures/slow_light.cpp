#include "slow_light.hpp"

#include <algorithm>
#include <cmath>

#include "edge_search.hpp"
#include "light.hpp"
#include "median.hpp"

namespace haftwright::pictures {
namespace {

constexpr std::size_t kTerms = 6;
// About this many pixels are enough, spread over the picture.
constexpr std::size_t kSamples = 40'000;
constexpr std::size_t kFewest = 100;
constexpr int kRounds = 8;
// Straying is counted in full up to so many typical strays (Tukey's biweight).
constexpr double kBiweight = 4.7;
// Black has no logarithm.
constexpr double kDarkest = 2e-3;

using Terms = std::array<double, kTerms>;

struct Sample {
  Terms terms{};
  double log_light = 0;
  Vec3 colour{0, 0, 0};
};

Terms terms_at(double x, double y, double width, double height) {
  const double u = 2 * x / width - 1;
  const double v = 2 * y / height - 1;
  return {1, u, v, u * u, u * v, v * v};
}

double dot(const Terms& a, const Terms& b) {
  double sum = 0;
  for (std::size_t i = 0; i < kTerms; ++i) sum += a[i] * b[i];
  return sum;
}

/// Weighted least squares, by elimination; a little damped, for samples that leave a direction open.
Terms solved(const std::vector<Sample>& samples, const std::vector<double>& weights) {
  std::array<std::array<double, kTerms + 1>, kTerms> rows{};
  double all = 0;
  for (std::size_t s = 0; s < samples.size(); ++s) {
    all += weights[s];
    for (std::size_t i = 0; i < kTerms; ++i) {
      for (std::size_t k = 0; k < kTerms; ++k)
        rows[i][k] += weights[s] * samples[s].terms[i] * samples[s].terms[k];
      rows[i][kTerms] += weights[s] * samples[s].terms[i] * samples[s].log_light;
    }
  }
  for (std::size_t i = 1; i < kTerms; ++i) rows[i][i] += 1e-4 * all;
  for (std::size_t c = 0; c < kTerms; ++c)
    for (std::size_t r = 0; r < kTerms; ++r) {
      if (r == c) continue;
      const double times = rows[r][c] / rows[c][c];
      for (std::size_t k = c; k <= kTerms; ++k) rows[r][k] -= times * rows[c][k];
    }
  Terms out{};
  for (std::size_t i = 0; i < kTerms; ++i) out[i] = rows[i][kTerms] / rows[i][i];
  return out;
}

std::vector<Sample> samples_of(const Photo& photo, const Mask* mask) {
  const auto& light = light_table();
  const std::size_t pixels = photo.rgb.size() / 3;
  std::size_t usable = pixels;
  if (mask)
    usable = pixels - static_cast<std::size_t>(std::count(mask->values.begin(), mask->values.end(), 0));
  const std::size_t every = std::max<std::size_t>(1, usable / kSamples);
  std::vector<Sample> samples;
  std::size_t seen = 0;
  const auto width = static_cast<std::size_t>(photo.width_px);
  for (std::size_t i = 0; i < pixels; ++i) {
    if (mask && !mask->values[i]) continue;
    // Odd steps, so that no column of a picture is left out.
    if (seen++ % every != 0) continue;
    const std::uint8_t* rgb = photo.rgb.data() + 3 * i;
    const Vec3 colour{light[rgb[0]], light[rgb[1]], light[rgb[2]]};
    samples.push_back({terms_at(static_cast<double>(i % width) + 0.5, static_cast<double>(i / width) + 0.5,
                                photo.width_px, photo.height_px),
                       std::log(std::max(kDarkest, glm::dot(colour, kBrightnessWeights))), colour});
  }
  return samples;
}

}  // namespace

double SlowLight::at(double x, double y) const {
  return std::exp(dot(factors, terms_at(x, y, width, height)));
}

std::optional<SlowLight> slow_light(const Photo& photo, const Mask* mask) {
  const auto samples = samples_of(photo, mask);
  if (samples.size() < kFewest) return {};
  std::vector<double> weights(samples.size(), 1);
  Terms factors{};
  for (int round = 0; round < kRounds; ++round) {
    factors = solved(samples, weights);
    std::vector<double> stray;
    for (const Sample& sample : samples)
      stray.push_back(std::abs(sample.log_light - dot(factors, sample.terms)));
    // 1.4826: from the median of what strays to the deviation of a normal spread.
    const double limit = kBiweight * std::max(1e-3, 1.4826 * median(stray));
    for (std::size_t i = 0; i < stray.size(); ++i) {
      const double part = stray[i] / limit;
      weights[i] = part < 1 ? (1 - part * part) * (1 - part * part) : 0;
    }
  }
  SlowLight slow{factors, static_cast<double>(photo.width_px), static_cast<double>(photo.height_px), {}};
  // Around 1: the typical light is said by the colour.
  double mean = 0;
  for (const Sample& sample : samples)
    mean += dot(factors, sample.terms) / static_cast<double>(samples.size());
  slow.factors[0] -= mean;
  for (int c = 0; c < 3; ++c) {
    std::vector<double> evened;
    for (const Sample& sample : samples)
      evened.push_back(sample.colour[c] / std::exp(dot(slow.factors, sample.terms)));
    slow.colour[c] = median(std::move(evened));
  }
  return slow;
}

}  // namespace haftwright::pictures
