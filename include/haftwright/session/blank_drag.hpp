// A blank of a plan in the hand: taken on its board, carried over the boards, turned, put down as one step of
// the project. No window in it.
#pragma once

#include <memory>
#include <optional>
#include <string>
#include <vector>

#include "haftwright/cutting/by_hand.hpp"
#include "haftwright/session/cutting_watch.hpp"

namespace haftwright {

class BlankDrag {
 public:
  /// Takes the blank `blank` of the board `use` of that plan at a place of the board; all three must be
  /// there.
  BlankDrag(std::shared_ptr<const CuttingAnswer> answer, std::size_t plan, std::size_t use, std::size_t blank,
            Vec2 grip_mm);

  /// The pointer is at a place of a board of the plan.
  void move(std::size_t use, Vec2 pointer_mm, Beside beside = Beside::all);
  /// Turned on by so many degrees, as far as the grain lets it.
  void turn(double by_deg);
  /// The other face of the offcut looks to the outside.
  void turn_over();
  /// Laid near the middle of an offcut of the bin, whether the plan uses it or not.
  void lay_on(const std::string& offcut);
  /// To a place that was typed; its nearest legal one.
  void put_at(Vec2 at_mm, double turn_deg);

  const BlankInHand::Held& held() const { return held_; }
  /// The need that was taken, and those that come along with it.
  std::size_t need() const { return need_; }
  bool carries(std::size_t need) const;
  /// The boards that it was taken from and that it is over; over none of the plan's where it was laid on
  /// another offcut.
  std::size_t taken_from() const { return taken_from_; }
  std::optional<std::size_t> use() const { return use_; }
  std::size_t plan() const { return plan_; }
  const std::shared_ptr<const CuttingAnswer>& answer() const { return answer_; }
  /// Whether it is anywhere else than where it was taken.
  bool moved() const { return held_.place != start_; }
  /// The design that was planned, with the blank put where it is; refused, with why, where it can't lie.
  Edited put_down() const;
  /// "put the left front piece on thwart"
  std::string label() const;

 private:
  void take_over(HandPlace start);
  void hold(Vec2 at_mm, double turn_deg);

  std::shared_ptr<const CuttingAnswer> answer_;
  std::size_t plan_ = 0;
  std::size_t taken_from_ = 0;
  std::optional<std::size_t> use_;
  std::size_t need_ = 0;
  HandPlace start_;     ///< where it was taken
  Vec2 grip_mm_{0, 0};  ///< from the pointer to the blank's middle
  double turn_deg_ = 0;
  Beside beside_ = Beside::all;
  std::unique_ptr<BlankInHand> hand_;
  BlankInHand::Held held_;
};

/// Offcuts of the bin that such a blank could lie on somewhere, by their ids; at most `most`.
std::vector<std::string> offcuts_for(const CuttingAnswer& answer, std::size_t plan, const HandPlace& place,
                                     std::size_t most);

}  // namespace haftwright
