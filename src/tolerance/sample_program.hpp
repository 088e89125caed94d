// A stack made ready to be sampled: checked, in single precision, each clearance in axes of its own.
#pragma once

#include <deque>
#include <span>
#include <vector>

#include "haftwright/tolerance/stack.hpp"
#include "sample_kernel.hpp"

namespace haftwright::tolerance {

class SampleProgram {
 public:
  /// Throws std::invalid_argument when a sensitivity names a variable that is not there, a clearance has not
  /// one effect a measure, or a number is not finite.
  SampleProgram(const ToleranceStack& stack, std::uint64_t seed);
  SampleProgram(const SampleProgram&) = delete;
  SampleProgram& operator=(const SampleProgram&) = delete;

  const SampledStack& stack() const { return stack_; }
  /// |nominal| of the step (mm) measure that is greatest; 0 when there is none.
  double greatest_nominal() const { return greatest_nominal_; }
  std::size_t most_pins() const { return most_pins_; }

 private:
  SampledSensitivity one(const Sensitivity& sensitivity);
  List<SampledSensitivity> gathered(const Sensitivities& x, double of_x, const Sensitivities& y, double of_y);
  List<SampledSensitivity> sensitivities(const Sensitivities& from) { return gathered(from, 1, {}, 0); }
  SampledPin pin(const PinBound& from, Vec2 axis);
  void settle_axes(const PatternClearance& from, SampledClearance& to, std::vector<SampledPin>& pins);
  SampledClearance clearance(const PatternClearance& from, std::uint32_t stream);
  void measures(const ToleranceStack& stack);
  void clearances(const ToleranceStack& stack);
  void fours(const ToleranceStack& stack);

  template <class T>
  List<T> keep(std::deque<std::vector<T>>& store, std::vector<T> list) {
    const std::vector<T>& kept = store.emplace_back(std::move(list));
    return {kept.data(), static_cast<std::uint32_t>(kept.size())};
  }

  SampledStack stack_;
  double greatest_nominal_ = 0;
  std::size_t most_pins_ = 0;
  std::vector<bool> used_;
  std::deque<std::vector<SampledSensitivity>> sensitivity_lists_;
  std::deque<std::vector<SampledRoom>> room_lists_;
  std::deque<std::vector<SampledPin>> pin_lists_;
  std::deque<std::vector<float>> number_lists_;
  std::vector<SampledMeasure> measures_;
  std::vector<SampledClearance> clearances_;
  std::vector<SampledFour> fours_;
};

}  // namespace haftwright::tolerance
