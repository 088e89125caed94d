#include "gl_objects.hpp"

#include <algorithm>
#include <glm/gtc/type_ptr.hpp>

#include "haftwright/render/scene_view.hpp"
#include "shader_text.hpp"

namespace haftwright::render {
namespace {

constexpr GLenum kSwitches[] = {GL_BLEND,           GL_DEPTH_TEST,  GL_CULL_FACE,           GL_SCISSOR_TEST,
                                GL_STENCIL_TEST,    GL_MULTISAMPLE, GL_POLYGON_OFFSET_FILL, GL_CLIP_DISTANCE0,
                                GL_FRAMEBUFFER_SRGB};

constexpr GLenum kBlend[] = {GL_BLEND_SRC_RGB,   GL_BLEND_DST_RGB,      GL_BLEND_SRC_ALPHA,
                             GL_BLEND_DST_ALPHA, GL_BLEND_EQUATION_RGB, GL_BLEND_EQUATION_ALPHA};
constexpr GLenum kFrontStencil[] = {GL_STENCIL_FUNC,
                                    GL_STENCIL_REF,
                                    GL_STENCIL_VALUE_MASK,
                                    GL_STENCIL_FAIL,
                                    GL_STENCIL_PASS_DEPTH_FAIL,
                                    GL_STENCIL_PASS_DEPTH_PASS};
constexpr GLenum kBackStencil[] = {GL_STENCIL_BACK_FUNC,
                                   GL_STENCIL_BACK_REF,
                                   GL_STENCIL_BACK_VALUE_MASK,
                                   GL_STENCIL_BACK_FAIL,
                                   GL_STENCIL_BACK_PASS_DEPTH_FAIL,
                                   GL_STENCIL_BACK_PASS_DEPTH_PASS};

/// How pixels lie in memory that are uploaded; all drawing here uploads them packed.
constexpr struct {
  GLenum name;
  GLint packed;
} kUnpack[] = {{GL_UNPACK_ALIGNMENT, 4},
               {GL_UNPACK_ROW_LENGTH, 0},
               {GL_UNPACK_SKIP_ROWS, 0},
               {GL_UNPACK_SKIP_PIXELS, 0}};

template <class Stencil>
Stencil stencil_of(const GLenum (&names)[6]) {
  GLint value[6] = {};
  for (std::size_t i = 0; i < 6; ++i) glGetIntegerv(names[i], &value[i]);
  return {value[0], value[1], value[2], value[3], value[4], value[5]};
}

std::string_view shader_text(std::string_view name) {
  for (std::size_t i = 0; i < kShaderTextCount; ++i)
    if (kShaderTexts[i].name == name) return kShaderTexts[i].text;
  throw RenderError("the shader " + std::string(name) + " is missing from this program");
}

class Shader {
 public:
  Shader(GLenum stage, std::initializer_list<std::string_view> files) : name_(glCreateShader(stage)) {
    std::string text = "#version 330 core\n";
    std::string names;
    for (const std::string_view file : files) {
      text += shader_text(file);
      names += std::string(names.empty() ? "" : " + ") + std::string(file);
    }
    const char* start = text.c_str();
    glShaderSource(name_, 1, &start, nullptr);
    glCompileShader(name_);
    GLint good = GL_FALSE;
    glGetShaderiv(name_, GL_COMPILE_STATUS, &good);
    if (good == GL_TRUE) return;
    char log[1024] = "";
    glGetShaderInfoLog(name_, sizeof log, nullptr, log);
    glDeleteShader(name_);
    throw RenderError("the graphics driver does not take the shader " + names + ": " + log);
  }
  ~Shader() { glDeleteShader(name_); }
  Shader(const Shader&) = delete;
  Shader& operator=(const Shader&) = delete;
  GLuint name() const { return name_; }

 private:
  GLuint name_;
};

template <class Generate>
GLuint generated(Generate generate) {
  GLuint name = 0;
  generate(1, &name);
  return name;
}

}  // namespace

GlBuffer new_buffer() {
  return GlBuffer(generated(glGenBuffers));
}
GlVertexArray new_vertex_array() {
  return GlVertexArray(generated(glGenVertexArrays));
}
GlTexture new_texture() {
  return GlTexture(generated(glGenTextures));
}
GlRenderbuffer new_renderbuffer() {
  return GlRenderbuffer(generated(glGenRenderbuffers));
}
GlFramebuffer new_framebuffer() {
  return GlFramebuffer(generated(glGenFramebuffers));
}

Program::Program(std::initializer_list<std::string_view> vertex,
                 std::initializer_list<std::string_view> fragment)
    : name_(glCreateProgram()) {
  const Shader first(GL_VERTEX_SHADER, vertex);
  const Shader second(GL_FRAGMENT_SHADER, fragment);
  glAttachShader(name_.get(), first.name());
  glAttachShader(name_.get(), second.name());
  glLinkProgram(name_.get());
  GLint good = GL_FALSE;
  glGetProgramiv(name_.get(), GL_LINK_STATUS, &good);
  if (good == GL_TRUE) return;
  char log[1024] = "";
  glGetProgramInfoLog(name_.get(), sizeof log, nullptr, log);
  throw RenderError(std::string("the graphics driver can't link a program: ") + log);
}

void Program::set(const char* uniform, Vec2 v) const {
  glUniform2f(place(uniform), static_cast<float>(v.x), static_cast<float>(v.y));
}
void Program::set(const char* uniform, Vec3 v) const {
  glUniform3f(place(uniform), static_cast<float>(v.x), static_cast<float>(v.y), static_cast<float>(v.z));
}
void Program::set(const char* uniform, glm::dvec4 v) const {
  glUniform4f(place(uniform), static_cast<float>(v.x), static_cast<float>(v.y), static_cast<float>(v.z),
              static_cast<float>(v.w));
}
void Program::set(const char* uniform, const glm::dmat3& m) const {
  glUniformMatrix3fv(place(uniform), 1, GL_FALSE, glm::value_ptr(glm::mat3(m)));
}
void Program::set(const char* uniform, const glm::dmat4& m) const {
  glUniformMatrix4fv(place(uniform), 1, GL_FALSE, glm::value_ptr(glm::mat4(m)));
}

void Canvas::fit(int width, int height, const Format& format) {
  show_rows_of(height, 0);
  if (framebuffer_.get() != 0 && width == width_ && height == height_) return;
  width_ = width;
  height_ = height;
  framebuffer_ = new_framebuffer();
  glBindFramebuffer(GL_FRAMEBUFFER, framebuffer_.get());
  if (format.samples == 0)
    make_textures(format);
  else
    make_renderbuffers(format);
  if (glCheckFramebufferStatus(GL_FRAMEBUFFER) != GL_FRAMEBUFFER_COMPLETE)
    throw RenderError("the graphics driver has no room for a picture of " + std::to_string(width) + " by " +
                      std::to_string(height));
}

void Canvas::make_textures(const Format& format) {
  texture_ = new_texture();
  glBindTexture(GL_TEXTURE_2D, texture_.get());
  const bool depth_only = format.colour == GL_NONE;
  if (depth_only)
    glTexImage2D(GL_TEXTURE_2D, 0, GL_DEPTH_COMPONENT24, width_, height_, 0, GL_DEPTH_COMPONENT,
                 GL_UNSIGNED_INT, nullptr);
  else
    glTexImage2D(GL_TEXTURE_2D, 0, static_cast<GLint>(format.colour), width_, height_, 0, GL_RGBA,
                 GL_UNSIGNED_BYTE, nullptr);
  const auto filter = static_cast<GLint>(format.filter);
  glTexParameteri(GL_TEXTURE_2D, GL_TEXTURE_MIN_FILTER, filter);
  glTexParameteri(GL_TEXTURE_2D, GL_TEXTURE_MAG_FILTER, filter);
  glTexParameteri(GL_TEXTURE_2D, GL_TEXTURE_WRAP_S, GL_CLAMP_TO_EDGE);
  glTexParameteri(GL_TEXTURE_2D, GL_TEXTURE_WRAP_T, GL_CLAMP_TO_EDGE);
  if (depth_only) {
    glTexParameteri(GL_TEXTURE_2D, GL_TEXTURE_COMPARE_MODE, GL_COMPARE_REF_TO_TEXTURE);
    glTexParameteri(GL_TEXTURE_2D, GL_TEXTURE_COMPARE_FUNC, GL_LEQUAL);
    glFramebufferTexture2D(GL_FRAMEBUFFER, GL_DEPTH_ATTACHMENT, GL_TEXTURE_2D, texture_.get(), 0);
    glDrawBuffer(GL_NONE);
    glReadBuffer(GL_NONE);
    return;
  }
  glFramebufferTexture2D(GL_FRAMEBUFFER, GL_COLOR_ATTACHMENT0, GL_TEXTURE_2D, texture_.get(), 0);
  if (!format.depth) return;
  depth_ = new_renderbuffer();
  glBindRenderbuffer(GL_RENDERBUFFER, depth_.get());
  glRenderbufferStorage(GL_RENDERBUFFER, GL_DEPTH24_STENCIL8, width_, height_);
  glFramebufferRenderbuffer(GL_FRAMEBUFFER, GL_DEPTH_STENCIL_ATTACHMENT, GL_RENDERBUFFER, depth_.get());
}

void Canvas::make_renderbuffers(const Format& format) {
  GLint most = 0;
  glGetIntegerv(GL_MAX_SAMPLES, &most);
  const GLsizei samples = std::min(format.samples, static_cast<int>(most));
  colour_ = new_renderbuffer();
  glBindRenderbuffer(GL_RENDERBUFFER, colour_.get());
  glRenderbufferStorageMultisample(GL_RENDERBUFFER, samples, format.colour, width_, height_);
  glFramebufferRenderbuffer(GL_FRAMEBUFFER, GL_COLOR_ATTACHMENT0, GL_RENDERBUFFER, colour_.get());
  depth_ = new_renderbuffer();
  glBindRenderbuffer(GL_RENDERBUFFER, depth_.get());
  glRenderbufferStorageMultisample(GL_RENDERBUFFER, samples, GL_DEPTH24_STENCIL8, width_, height_);
  glFramebufferRenderbuffer(GL_FRAMEBUFFER, GL_DEPTH_STENCIL_ATTACHMENT, GL_RENDERBUFFER, depth_.get());
}

void Canvas::show_rows_of(int whole_height, int bottom) {
  whole_height_ = whole_height;
  bottom_ = bottom;
}

void Canvas::bind() const {
  glBindFramebuffer(GL_FRAMEBUFFER, framebuffer_.get());
  glViewport(0, -bottom_, width_, whole_height_);
}

StateKeeper::StateKeeper() {
  glGetIntegerv(GL_DRAW_FRAMEBUFFER_BINDING, &draw_framebuffer_);
  glGetIntegerv(GL_READ_FRAMEBUFFER_BINDING, &read_framebuffer_);
  glGetIntegerv(GL_VIEWPORT, viewport_);
  glGetIntegerv(GL_CURRENT_PROGRAM, &program_);
  glGetIntegerv(GL_VERTEX_ARRAY_BINDING, &vertex_array_);
  glGetIntegerv(GL_ACTIVE_TEXTURE, &active_texture_);
  glActiveTexture(GL_TEXTURE0 + kPhotoUnit);
  glGetIntegerv(GL_TEXTURE_BINDING_2D, &photo_);
  glActiveTexture(GL_TEXTURE0);
  glGetIntegerv(GL_TEXTURE_BINDING_2D, &texture_);
  glGetIntegerv(GL_ARRAY_BUFFER_BINDING, &array_buffer_);
  glGetIntegerv(GL_RENDERBUFFER_BINDING, &renderbuffer_);
  for (std::size_t i = 0; i < std::size(kBlend); ++i) glGetIntegerv(kBlend[i], &blend_[i]);
  glGetIntegerv(GL_CULL_FACE_MODE, &cull_face_);
  glGetFloatv(GL_POLYGON_OFFSET_FACTOR, &polygon_offset_[0]);
  glGetFloatv(GL_POLYGON_OFFSET_UNITS, &polygon_offset_[1]);
  glGetFloatv(GL_COLOR_CLEAR_VALUE, clear_colour_);
  glGetBooleanv(GL_DEPTH_WRITEMASK, &depth_mask_);
  glGetBooleanv(GL_COLOR_WRITEMASK, colour_mask_);
  stencil_[0] = stencil_of<Stencil>(kFrontStencil);
  stencil_[1] = stencil_of<Stencil>(kBackStencil);
  glGetIntegerv(GL_PACK_ALIGNMENT, &pack_alignment_);
  for (std::size_t i = 0; i < std::size(kUnpack); ++i) {
    glGetIntegerv(kUnpack[i].name, &unpack_[i]);
    glPixelStorei(kUnpack[i].name, kUnpack[i].packed);
  }
  glGetIntegerv(GL_PIXEL_UNPACK_BUFFER_BINDING, &unpack_[4]);
  glBindBuffer(GL_PIXEL_UNPACK_BUFFER, 0);
  for (const GLenum name : kSwitches) {
    switches_.emplace_back(name, glIsEnabled(name));
    glDisable(name);
  }
  // What all drawing here takes for granted, whatever the caller had.
  glDepthMask(GL_TRUE);
  glColorMask(GL_TRUE, GL_TRUE, GL_TRUE, GL_TRUE);
  glBlendEquation(GL_FUNC_ADD);
}

StateKeeper::~StateKeeper() {
  for (const auto& [feature, on] : switches_) (on == GL_TRUE ? glEnable : glDisable)(feature);
  glBindTexture(GL_TEXTURE_2D, static_cast<GLuint>(texture_));
  glActiveTexture(GL_TEXTURE0 + kPhotoUnit);
  glBindTexture(GL_TEXTURE_2D, static_cast<GLuint>(photo_));
  glActiveTexture(static_cast<GLenum>(active_texture_));
  glBindVertexArray(static_cast<GLuint>(vertex_array_));
  glUseProgram(static_cast<GLuint>(program_));
  glViewport(viewport_[0], viewport_[1], viewport_[2], viewport_[3]);
  glBindFramebuffer(GL_DRAW_FRAMEBUFFER, static_cast<GLuint>(draw_framebuffer_));
  glBindFramebuffer(GL_READ_FRAMEBUFFER, static_cast<GLuint>(read_framebuffer_));
  glBindBuffer(GL_ARRAY_BUFFER, static_cast<GLuint>(array_buffer_));
  glBindRenderbuffer(GL_RENDERBUFFER, static_cast<GLuint>(renderbuffer_));
  const auto name = [](GLint value) { return static_cast<GLenum>(value); };
  glBlendFuncSeparate(name(blend_[0]), name(blend_[1]), name(blend_[2]), name(blend_[3]));
  glBlendEquationSeparate(name(blend_[4]), name(blend_[5]));
  glCullFace(name(cull_face_));
  glPolygonOffset(polygon_offset_[0], polygon_offset_[1]);
  glClearColor(clear_colour_[0], clear_colour_[1], clear_colour_[2], clear_colour_[3]);
  glDepthMask(depth_mask_);
  glColorMask(colour_mask_[0], colour_mask_[1], colour_mask_[2], colour_mask_[3]);
  for (const GLenum face : {GLenum{GL_FRONT}, GLenum{GL_BACK}}) {
    const Stencil& was = stencil_[face == GL_FRONT ? 0 : 1];
    glStencilFuncSeparate(face, name(was.function), was.reference, static_cast<GLuint>(was.mask));
    glStencilOpSeparate(face, name(was.fail), name(was.depth_fail), name(was.pass));
  }
  glPixelStorei(GL_PACK_ALIGNMENT, pack_alignment_);
  for (std::size_t i = 0; i < std::size(kUnpack); ++i) glPixelStorei(kUnpack[i].name, unpack_[i]);
  glBindBuffer(GL_PIXEL_UNPACK_BUFFER, static_cast<GLuint>(unpack_[4]));
}

}  // namespace haftwright::render
