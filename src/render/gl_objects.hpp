// GL objects that clean up after themselves. Each must go while its context is current.
#pragma once

#include <epoxy/gl.h>

#include <initializer_list>
#include <span>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

#include <glm/mat3x3.hpp>
#include <glm/mat4x4.hpp>
#include <glm/vec4.hpp>
#include "haftwright/geometry/vec.hpp"

namespace haftwright::render {

/// A GL name with the function that frees it.
template <void (*Free)(GLuint)>
class GlName {
 public:
  GlName() = default;
  explicit GlName(GLuint name) : name_(name) {}
  GlName(GlName&& other) noexcept : name_(std::exchange(other.name_, 0)) {}
  GlName& operator=(GlName&& other) noexcept {
    std::swap(name_, other.name_);
    return *this;
  }
  ~GlName() {
    if (name_ != 0) Free(name_);
  }
  GLuint get() const { return name_; }

 private:
  GLuint name_ = 0;
};

inline void free_buffer(GLuint name) {
  glDeleteBuffers(1, &name);
}
inline void free_vertex_array(GLuint name) {
  glDeleteVertexArrays(1, &name);
}
inline void free_texture(GLuint name) {
  glDeleteTextures(1, &name);
}
inline void free_renderbuffer(GLuint name) {
  glDeleteRenderbuffers(1, &name);
}
inline void free_framebuffer(GLuint name) {
  glDeleteFramebuffers(1, &name);
}
inline void free_program(GLuint name) {
  glDeleteProgram(name);
}

using GlBuffer = GlName<free_buffer>;
using GlVertexArray = GlName<free_vertex_array>;
using GlTexture = GlName<free_texture>;
using GlRenderbuffer = GlName<free_renderbuffer>;
using GlFramebuffer = GlName<free_framebuffer>;

GlBuffer new_buffer();
GlVertexArray new_vertex_array();
GlTexture new_texture();
GlRenderbuffer new_renderbuffer();
GlFramebuffer new_framebuffer();

/// A linked program. Uniforms that it does not use are passed over.
class Program {
 public:
  Program() = default;
  /// Names of shader files; each stage is its files one after the other. Throws RenderError with the
  /// compiler's own words.
  Program(std::initializer_list<std::string_view> vertex, std::initializer_list<std::string_view> fragment);

  void use() const { glUseProgram(name_.get()); }
  void set(const char* uniform, float value) const { glUniform1f(place(uniform), value); }
  void set(const char* uniform, int value) const { glUniform1i(place(uniform), value); }
  void set(const char* uniform, Vec2 v) const;
  void set(const char* uniform, Vec3 v) const;
  void set(const char* uniform, glm::dvec4 v) const;
  void set(const char* uniform, const glm::dmat3& m) const;
  void set(const char* uniform, const glm::dmat4& m) const;

 private:
  GLint place(const char* uniform) const { return glGetUniformLocation(name_.get(), uniform); }
  GlName<free_program> name_;
};

/// Texture units: what is drawn with lies in the first, photos of wood in the second.
inline constexpr int kPhotoUnit = 1;

/// What a picture is drawn into.
class Canvas {
 public:
  struct Format {
    int samples = 0;  ///< 0: a texture, else as many as the system has up to this
    bool depth = true;
    GLenum colour = GL_RGBA8;  ///< GL_NONE: depth only, as a texture to compare with
    GLenum filter = GL_LINEAR;
  };
  Canvas() = default;
  /// Makes it fit; keeps what is there when it does.
  void fit(int width, int height, const Format& format);
  /// Makes this the rows from `bottom` up of a picture so high; fit() alone makes it a whole picture.
  void show_rows_of(int whole_height, int bottom);
  void bind() const;
  GLuint framebuffer() const { return framebuffer_.get(); }
  GLuint texture() const { return texture_.get(); }
  int width() const { return width_; }
  int height() const { return height_; }

 private:
  void make_textures(const Format& format);
  void make_renderbuffers(const Format& format);

  int width_ = 0;
  int height_ = 0;
  int bottom_ = 0;
  int whole_height_ = 0;
  GlFramebuffer framebuffer_;
  GlTexture texture_;
  GlRenderbuffer colour_;
  GlRenderbuffer depth_;
};

/// Puts back all that drawing here changes: bindings, viewport, program, switches, blending, masks, stencil,
/// culling, polygon offset, clearing colour and how pixels are packed.
class StateKeeper {
 public:
  StateKeeper();
  ~StateKeeper();
  StateKeeper(const StateKeeper&) = delete;
  StateKeeper& operator=(const StateKeeper&) = delete;

 private:
  GLint draw_framebuffer_ = 0;
  GLint read_framebuffer_ = 0;
  GLint viewport_[4] = {};
  GLint program_ = 0;
  GLint vertex_array_ = 0;
  GLint active_texture_ = 0;
  GLint texture_ = 0;
  GLint array_buffer_ = 0;
  GLint renderbuffer_ = 0;
  GLint blend_[6] = {};  // source, destination (colour, alpha), equations (colour, alpha)
  GLint cull_face_ = 0;
  GLfloat polygon_offset_[2] = {};
  GLfloat clear_colour_[4] = {};
  GLboolean depth_mask_ = GL_TRUE;
  GLboolean colour_mask_[4] = {};
  struct Stencil {
    GLint function, reference, mask, fail, depth_fail, pass;
  };
  Stencil stencil_[2] = {};  // front, back
  GLint pack_alignment_ = 0;
  GLint photo_ = 0;       // bound to kPhotoUnit
  GLint unpack_[5] = {};  // alignment, row length, rows, pixels and buffer to begin at
  std::vector<std::pair<GLenum, GLboolean>> switches_;
};

}  // namespace haftwright::render
