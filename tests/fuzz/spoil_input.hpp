// How the fuzzers of JSON files make new inputs out of old ones.
#pragma once

#include <cstddef>
#include <cstdint>
#include <cstring>
#include <nlohmann/json.hpp>
#include <string>

#include "support/spoilt_project.hpp"

extern "C" std::size_t LLVMFuzzerMutate(std::uint8_t* data, std::size_t size, std::size_t most);

namespace haftwright::test {

/// Four in five new inputs are files with values spoilt, the others have bytes changed: few of these get past
/// a reader. For LLVMFuzzerCustomMutator.
inline std::size_t spoil_input(std::uint8_t* data, std::size_t size, std::size_t most, unsigned seed) {
  Random random(seed);
  if (random.chance(0.2)) return LLVMFuzzerMutate(data, size, most);
  const auto file = nlohmann::ordered_json::parse(data, data + size, nullptr, false);
  if (!file.is_object() || file.empty()) return LLVMFuzzerMutate(data, size, most);
  const std::string text = spoilt_project(file, random).dump();
  if (text.size() > most) return size;
  std::memcpy(data, text.data(), text.size());
  return text.size();
}

}  // namespace haftwright::test
