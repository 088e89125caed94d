#include "haftwright/render/offscreen.hpp"

#include <dlfcn.h>
#include <epoxy/egl.h>
#include <sys/mman.h>

#include <algorithm>
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

namespace {

/// Rows drawn at a time: four samples a pixel of so many pixels take some 60 MB.
constexpr int kPixelsAtATime = 2'000'000;
/// Address space that a software driver takes besides the pixels, with its compiler and threads: some 780 MB
/// measured with Mesa 22.3 on two cores. It does not survive a failed allocation.
constexpr std::size_t kDriverBytes = 850'000'000;

/// Asks for the memory that drawing will take, and gives it back: refused here in words rather than inside
/// the driver.
void require_memory(PictureSize size) {
  const auto pixels = static_cast<std::size_t>(size.width) * static_cast<std::size_t>(size.height);
  const std::size_t bytes = kDriverBytes + 12 * pixels;
  void* const asked =
      mmap(nullptr, bytes, PROT_READ | PROT_WRITE, MAP_PRIVATE | MAP_ANONYMOUS | MAP_NORESERVE, -1, 0);
  if (asked == MAP_FAILED)
    throw RenderError("a picture of " + std::to_string(size.width) + " by " + std::to_string(size.height) +
                      " pixels takes about " + std::to_string(bytes / 1'000'000) +
                      " MB of memory, which is not there; ask for a smaller one with --size");
  munmap(asked, bytes);
}

/// Even, so that the backdrop's grain falls the same in every picture.
int rows_at_a_time(PictureSize size) {
  return std::clamp(kPixelsAtATime / size.width / 2 * 2, 2, std::max(2, size.height));
}

}  // namespace

Picture draw_picture(const Preview& preview, std::vector<LinePair> joint_lines, const Camera& camera,
                     const SceneOptions& options, PictureSize size, std::vector<WoodPicture> woods) {
  require_memory(size);
  const OffscreenContext context;
  SceneView view;
  view.set_preview(preview, std::move(joint_lines));
  view.set_woods(std::move(woods));
  const auto row_bytes = static_cast<std::size_t>(size.width) * 4;
  Picture picture{size.width, size.height, {}};
  picture.rgba.resize(row_bytes * static_cast<std::size_t>(size.height));
  const int step = rows_at_a_time(size);
  for (int bottom = 0; bottom < size.height; bottom += step) {
    const PictureRows rows{bottom, std::min(step, size.height - bottom)};
    view.draw_rows(camera, options, size, rows);
    const Picture part = view.read();
    const auto top = static_cast<std::size_t>(size.height - rows.bottom - rows.height);
    std::ranges::copy(part.rgba, picture.rgba.begin() + static_cast<std::ptrdiff_t>(top * row_bytes));
  }
  return picture;
}

}  // namespace haftwright
