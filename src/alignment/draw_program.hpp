// A chain made ready to be drawn: checked, in single precision, each play in axes of its own.
#pragma once

#include <deque>
#include <span>
#include <vector>

#include "draw_kernel.hpp"
#include "haftwright/alignment/chain.hpp"

namespace haftwright::alignment {

class DrawProgram {
 public:
  /// Throws std::invalid_argument when a term names a variable that is not there, a play has not one effect
  /// a measure, or a number is not finite.
  DrawProgram(const Chain& chain, std::uint64_t seed);
  DrawProgram(const DrawProgram&) = delete;
  DrawProgram& operator=(const DrawProgram&) = delete;

  const DrawnChain& chain() const { return chain_; }
  /// |nominal| of the step (mm) measure that is greatest; 0 when there is none.
  double greatest_nominal() const { return greatest_nominal_; }
  std::size_t most_pins() const { return most_pins_; }

 private:
  DrawnTerm one(const Term& term);
  List<DrawnTerm> gathered(const Terms& x, double of_x, const Terms& y, double of_y);
  List<DrawnTerm> terms(const Terms& from) { return gathered(from, 1, {}, 0); }
  DrawnPin pin(const ChainPin& from, Vec2 axis);
  void settle_axes(const Play& from, DrawnPlay& to, std::vector<DrawnPin>& pins);
  DrawnPlay play(const Play& from, std::uint32_t stream);
  void measures(const Chain& chain);
  void plays(const Chain& chain);
  void fours(const Chain& chain);

  template <class T>
  List<T> keep(std::deque<std::vector<T>>& store, std::vector<T> list) {
    const std::vector<T>& kept = store.emplace_back(std::move(list));
    return {kept.data(), static_cast<std::uint32_t>(kept.size())};
  }

  DrawnChain chain_;
  double greatest_nominal_ = 0;
  std::size_t most_pins_ = 0;
  std::vector<bool> used_;
  std::deque<std::vector<DrawnTerm>> term_lists_;
  std::deque<std::vector<DrawnRoom>> room_lists_;
  std::deque<std::vector<DrawnPin>> pin_lists_;
  std::deque<std::vector<float>> number_lists_;
  std::vector<DrawnMeasure> measures_;
  std::vector<DrawnPlay> plays_;
  std::vector<DrawnFour> fours_;
};

}  // namespace haftwright::alignment
