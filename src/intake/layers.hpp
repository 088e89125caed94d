// Layers by name, and which of them are wanted.
#pragma once

#include <algorithm>
#include <unordered_map>

#include "haftwright/intake/sketch.hpp"
#include "numbers.hpp"

namespace haftwright::intake {

class LayerIndex {
 public:
  explicit LayerIndex(std::vector<Layer>& layers, const std::vector<std::string>& wanted) : layers_(layers) {
    for (const std::string& name : wanted) wanted_.push_back(lower_case(name));
  }

  /// The layer of that name; a new one where there is none yet.
  std::size_t of(std::string_view name) {
    const auto [found, is_new] = by_name_.try_emplace(lower_case(name), layers_.size());
    if (is_new) layers_.push_back({std::string(name), true, 0});
    return found->second;
  }

  bool wanted(std::size_t layer) const {
    if (wanted_.empty()) return true;
    const std::string name = lower_case(layers_[layer].name);
    return std::find(wanted_.begin(), wanted_.end(), name) != wanted_.end();
  }

  /// Throws where a layer is asked for that the drawing does not have.
  void require_all() const {
    for (const std::string& name : wanted_) {
      if (by_name_.contains(name)) continue;
      std::string there;
      for (std::size_t i = 0; i < layers_.size() && i < kMostNamed; ++i)
        there += (i > 0 ? ", \"" : "\"") + layers_[i].name + "\"";
      throw IntakeError("", "the drawing has no layer called \"" + name + "\"; it has " +
                                (there.empty() ? "none with a name" : there));
    }
  }

 private:
  static constexpr std::size_t kMostNamed = 20;
  std::vector<Layer>& layers_;
  std::vector<std::string> wanted_;
  std::unordered_map<std::string, std::size_t> by_name_;
};

}  // namespace haftwright::intake
