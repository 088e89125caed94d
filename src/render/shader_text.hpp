// The shaders as text, put into the program when it is built.
#pragma once

#include <cstddef>
#include <string_view>

namespace haftwright::render {

struct ShaderText {
  std::string_view name;  ///< "wood.frag.glsl"
  std::string_view text;
};
extern const ShaderText kShaderTexts[];
extern const std::size_t kShaderTextCount;

}  // namespace haftwright::render
