#include "haftwright/render/offscreen.hpp"

#include <dlfcn.h>
#include <epoxy/egl.h>

#include <array>
#include <string>
#include <string_view>

namespace haftwright {
namespace {

constexpr const char* kWhatHelps =
    "; a picture needs EGL and a Mesa driver (Debian packages libegl1 and libgl1-mesa-dri)";

/// The loader ends the program when it misses the library; ask for it first.
void require_egl() {
  static void* const library = dlopen("libEGL.so.1", RTLD_LAZY | RTLD_LOCAL);
  if (!library) throw RenderError(std::string("EGL is not installed") + kWhatHelps);
}

bool has_word(const char* list, std::string_view word) {
  if (!list) return false;
  const std::string padded = " " + std::string(list) + " ";
  return padded.find(" " + std::string(word) + " ") != std::string::npos;
}

/// A display that stands for no screen: Mesa's, else the first device's.
EGLDisplay open_display() {
  const char* offered = eglQueryString(EGL_NO_DISPLAY, EGL_EXTENSIONS);
  if (!has_word(offered, "EGL_EXT_platform_base")) return EGL_NO_DISPLAY;
  if (has_word(offered, "EGL_MESA_platform_surfaceless")) {
    const EGLDisplay display =
        eglGetPlatformDisplayEXT(EGL_PLATFORM_SURFACELESS_MESA, EGL_DEFAULT_DISPLAY, nullptr);
    if (display != EGL_NO_DISPLAY && eglInitialize(display, nullptr, nullptr)) return display;
  }
  if (has_word(offered, "EGL_EXT_platform_device") && has_word(offered, "EGL_EXT_device_enumeration")) {
    std::array<EGLDeviceEXT, 8> devices{};
    EGLint count = 0;
    eglQueryDevicesEXT(static_cast<EGLint>(devices.size()), devices.data(), &count);
    for (EGLint i = 0; i < count; ++i) {
      const EGLDisplay display =
          eglGetPlatformDisplayEXT(EGL_PLATFORM_DEVICE_EXT, devices[static_cast<std::size_t>(i)], nullptr);
      if (display != EGL_NO_DISPLAY && eglInitialize(display, nullptr, nullptr)) return display;
    }
  }
  return EGL_NO_DISPLAY;
}

EGLContext make_context(EGLDisplay display) {
  if (!eglBindAPI(EGL_OPENGL_API)) return EGL_NO_CONTEXT;
  constexpr EGLint wanted[] = {EGL_RENDERABLE_TYPE, EGL_OPENGL_BIT, EGL_SURFACE_TYPE, 0, EGL_NONE};
  EGLConfig config = nullptr;
  EGLint count = 0;
  if (!eglChooseConfig(display, wanted, &config, 1, &count) || count == 0) return EGL_NO_CONTEXT;
  constexpr EGLint version[] = {EGL_CONTEXT_MAJOR_VERSION,
                                3,
                                EGL_CONTEXT_MINOR_VERSION,
                                3,
                                EGL_CONTEXT_OPENGL_PROFILE_MASK,
                                EGL_CONTEXT_OPENGL_CORE_PROFILE_BIT,
                                EGL_NONE};
  return eglCreateContext(display, config, EGL_NO_CONTEXT, version);
}

}  // namespace

struct OffscreenContext::Impl {
  EGLDisplay display = EGL_NO_DISPLAY;
  EGLContext context = EGL_NO_CONTEXT;
  ~Impl() {
    if (display == EGL_NO_DISPLAY) return;
    eglMakeCurrent(display, EGL_NO_SURFACE, EGL_NO_SURFACE, EGL_NO_CONTEXT);
    if (context != EGL_NO_CONTEXT) eglDestroyContext(display, context);
    eglTerminate(display);
  }
};

OffscreenContext::OffscreenContext() : impl_(std::make_unique<Impl>()) {
  require_egl();
  impl_->display = open_display();
  if (impl_->display == EGL_NO_DISPLAY)
    throw RenderError(std::string("EGL can't draw without a display here") + kWhatHelps);
  impl_->context = make_context(impl_->display);
  if (impl_->context == EGL_NO_CONTEXT ||
      !eglMakeCurrent(impl_->display, EGL_NO_SURFACE, EGL_NO_SURFACE, impl_->context))
    throw RenderError(std::string("the graphics driver does not offer OpenGL 3.3") + kWhatHelps);
}
OffscreenContext::~OffscreenContext() = default;

Picture draw_picture(const Preview& preview, std::vector<LinePair> joint_lines, const Camera& camera,
                     const SceneOptions& options, PictureSize size) {
  const OffscreenContext context;
  SceneView view;
  view.set_preview(preview, std::move(joint_lines));
  view.draw(camera, options, size);
  return view.read();
}

}  // namespace haftwright
