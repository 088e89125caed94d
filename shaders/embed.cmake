# Writes the shaders into a source file: cmake -DOUT=FILE -DSHADERS=a.glsl;b.glsl -P embed.cmake
set(TEXT "#include \"shader_text.hpp\"\n\nnamespace haftwright::render {\n\nconst ShaderText kShaderTexts[] = {\n")
foreach(SHADER ${SHADERS})
  file(READ "${SHADER}" SOURCE)
  get_filename_component(NAME "${SHADER}" NAME)
  string(APPEND TEXT "    {\"${NAME}\",\n     R\"glsl(${SOURCE})glsl\"},\n")
endforeach()
string(APPEND TEXT "};\nconst std::size_t kShaderTextCount = sizeof(kShaderTexts) / sizeof(kShaderTexts[0]);\n\n}  // namespace haftwright::render\n")
file(WRITE "${OUT}" "${TEXT}")
