#include "window.hpp"

// epoxy before GLFW, so that GLFW takes its GL declarations.
#include <epoxy/gl.h>
// clang-format off
#include <GLFW/glfw3.h>
// clang-format on
#include <backends/imgui_impl_glfw.h>
#include <backends/imgui_impl_opengl3.h>
#include <imgui.h>
#include <imgui_freetype.h>

#include <algorithm>
#include <atomic>
#include <optional>
#include <utility>

#include "key_queue.hpp"
#include "places.hpp"

namespace haftwright::app {
namespace {

/// An immediate-mode interface needs a few frames after an event until everything stands where it belongs.
constexpr int kSettlingFrames = 3;
constexpr float kTextSize = 16;
constexpr const char* kFont = "/usr/share/fonts/truetype/dejavu/DejaVuSans.ttf";
constexpr const char* kBoldFont = "/usr/share/fonts/truetype/dejavu/DejaVuSans-Bold.ttf";

std::string last_error;  // GLFW reports through a callback without a user pointer

void keep_error(int, const char* what) {
  last_error = what;
}

void add_font(const char* file, float pixels) {
  static const ImWchar ranges[] = {0x0020, 0x024F, 0x0370, 0x052F, 0x2010, 0x2044, 0x2190,
                                   0x21FF, 0x2200, 0x22FF, 0x25A0, 0x27BF, 0};
  ImGuiIO& io = ImGui::GetIO();
  if (std::filesystem::exists(file))
    io.Fonts->AddFontFromFileTTF(file, pixels, nullptr, ranges);
  else
    io.Fonts->AddFontDefault();
}

}  // namespace

struct Window::Impl {
  GLFWwindow* handle = nullptr;
  Window* owner = nullptr;
  int frames_left = kSettlingFrames;
  KeyQueue keys;
  double text_scale = 1;
  float screen_scale = 1;
  bool fonts_stale = true;
  std::atomic<bool> woken = false;
  ImVec2 pointer{0, 0};              ///< at the last event
  std::optional<ImVec2> clicked_at;  ///< where a button was pressed or let go since the last frame
  bool pressed = false;              ///< since the last frame

  static Impl& of(GLFWwindow* window) { return *static_cast<Impl*>(glfwGetWindowUserPointer(window)); }

  void touched() { frames_left = kSettlingFrames; }

  /// A frame may come late, and the pointer be elsewhere by then: a click counts where it was made. A button
  /// that was pressed and let go between two frames is let go for Dear ImGui in the next one, at the same
  /// place.
  void put_clicks_in_place() {
    if (!clicked_at) return;
    ImGuiIO& io = ImGui::GetIO();
    io.MousePos = *clicked_at;
    const bool up = glfwGetMouseButton(handle, GLFW_MOUSE_BUTTON_LEFT) == GLFW_RELEASE &&
                    glfwGetMouseButton(handle, GLFW_MOUSE_BUTTON_RIGHT) == GLFW_RELEASE;
    if (!std::exchange(pressed, false) || !up) clicked_at.reset();
  }

  /// Whatever the person does is worth drawing. Dear ImGui's own callbacks, which come later, call these too.
  void notice_touches() {
    glfwSetWindowUserPointer(handle, this);
    glfwSetCursorPosCallback(handle, [](GLFWwindow* window, double x, double y) {
      of(window).pointer = {static_cast<float>(x), static_cast<float>(y)};
      of(window).touched();
    });
    glfwSetMouseButtonCallback(handle, [](GLFWwindow* window, int, int action, int) {
      of(window).clicked_at = of(window).pointer;
      if (action == GLFW_PRESS) of(window).pressed = true;
      of(window).touched();
    });
    glfwSetScrollCallback(handle, [](GLFWwindow* window, double, double) { of(window).touched(); });
    glfwSetCursorEnterCallback(handle, [](GLFWwindow* window, int) { of(window).touched(); });
    glfwSetWindowFocusCallback(handle, [](GLFWwindow* window, int) { of(window).touched(); });
    glfwSetFramebufferSizeCallback(handle, [](GLFWwindow* window, int, int) { of(window).touched(); });
    glfwSetWindowRefreshCallback(handle, [](GLFWwindow* window) { of(window).touched(); });
  }

  void listen() {
    glfwSetKeyCallback(handle, [](GLFWwindow* window, int key, int scancode, int action, int mods) {
      of(window).keys.key(key, scancode, action, mods);
      of(window).touched();
    });
    glfwSetCharCallback(handle, [](GLFWwindow* window, unsigned code) {
      of(window).keys.letter(code);
      of(window).touched();
    });
    glfwSetDropCallback(handle, [](GLFWwindow* window, int count, const char** paths) {
      std::vector<std::filesystem::path> files(paths, paths + count);
      if (of(window).owner->dropped) of(window).owner->dropped(files);
      of(window).touched();
    });
    glfwSetWindowCloseCallback(handle, [](GLFWwindow* window) {
      if (!of(window).owner->may_close()) glfwSetWindowShouldClose(window, GLFW_FALSE);
      of(window).touched();
    });
  }

  void load_fonts() {
    ImGuiIO& io = ImGui::GetIO();
    const float pixels = kTextSize * static_cast<float>(text_scale) * screen_scale;
    io.Fonts->Clear();
    io.Fonts->FontBuilderIO = ImGuiFreeType::GetBuilderForFreeType();
    add_font(kFont, pixels);
    add_font(kBoldFont, pixels);
    add_font(kBoldFont, pixels * 1.6F);
    ImGui_ImplOpenGL3_DestroyFontsTexture();
    ImGui_ImplOpenGL3_CreateFontsTexture();
    fonts_stale = false;
  }

  void frame() {
    if (fonts_stale) load_fonts();
    keys.hand_on(handle, ImGui::GetIO().WantTextInput);
    if (!keys.empty()) frames_left = kSettlingFrames;
    ImGui_ImplOpenGL3_NewFrame();
    ImGui_ImplGlfw_NewFrame();
    put_clicks_in_place();
    ImGui::NewFrame();
    owner->draw();
    ImGui::Render();
    int width = 0;
    int height = 0;
    glfwGetFramebufferSize(handle, &width, &height);
    glViewport(0, 0, width, height);
    const ImVec4& ground = ImGui::GetStyle().Colors[ImGuiCol_WindowBg];
    glClearColor(ground.x, ground.y, ground.z, 1);
    glClear(GL_COLOR_BUFFER_BIT);
    ImGui_ImplOpenGL3_RenderDrawData(ImGui::GetDrawData());
    glfwSwapBuffers(handle);
    places::write(frames_left <= 0);
  }
};

Window::Window(const WindowSettings& settings) : impl_(std::make_unique<Impl>()) {
  impl_->owner = this;
  impl_->text_scale = settings.text_scale;
  glfwSetErrorCallback(keep_error);
  if (!glfwInit())
    throw WindowError("no window can be opened here (" + last_error +
                      "); the verbs check, jig, handle, glue and picture work without a display");
  glfwWindowHint(GLFW_CONTEXT_VERSION_MAJOR, 3);
  glfwWindowHint(GLFW_CONTEXT_VERSION_MINOR, 3);
  glfwWindowHint(GLFW_OPENGL_PROFILE, GLFW_OPENGL_CORE_PROFILE);
  glfwWindowHint(GLFW_OPENGL_FORWARD_COMPAT, GLFW_TRUE);
  glfwWindowHint(GLFW_SCALE_TO_MONITOR, GLFW_TRUE);
  impl_->handle = glfwCreateWindow(settings.width, settings.height, "Haftwright", nullptr, nullptr);
  if (!impl_->handle) {
    glfwTerminate();
    throw WindowError("no window can be opened here (" + last_error + "); OpenGL 3.3 is wanted");
  }
  glfwMakeContextCurrent(impl_->handle);
  glfwSwapInterval(1);
  float x_scale = 1;
  float y_scale = 1;
  glfwGetWindowContentScale(impl_->handle, &x_scale, &y_scale);
  impl_->screen_scale = std::max(1.0F, x_scale);
  ImGui::CreateContext();
  ImGui::GetIO().IniFilename = nullptr;
  impl_->notice_touches();
  ImGui_ImplGlfw_InitForOpenGL(impl_->handle, true);
  ImGui_ImplOpenGL3_Init("#version 330 core");
  impl_->listen();
}

Window::~Window() {
  ImGui_ImplOpenGL3_Shutdown();
  ImGui_ImplGlfw_Shutdown();
  ImGui::DestroyContext();
  glfwDestroyWindow(impl_->handle);
  glfwTerminate();
}

void Window::run() {
  while (!glfwWindowShouldClose(impl_->handle)) {
    int& frames_left = impl_->frames_left;
    if (impl_->woken.exchange(false)) impl_->touched();
    if (frames_left > 0) {
      glfwPollEvents();
    } else {
      glfwWaitEventsTimeout(std::max(0.001, next_wake_s()));
      if (impl_->woken.exchange(false)) impl_->touched();
      if (frames_left == 0) {
        if (!due()) continue;
        impl_->touched();
      }
    }
    frames_left = std::max(0, frames_left - 1);
    impl_->frame();
  }
}

void Window::wake() {
  impl_->woken = true;
  glfwPostEmptyEvent();
}
void Window::redraw() {
  impl_->frames_left = std::max(impl_->frames_left, 1);
}
void Window::close() {
  glfwSetWindowShouldClose(impl_->handle, GLFW_TRUE);
}
void Window::set_title(const std::string& title) {
  glfwSetWindowTitle(impl_->handle, title.c_str());
}

void Window::set_text_scale(double scale) {
  impl_->text_scale = scale;
  impl_->fonts_stale = true;
}

float Window::interface_scale() const {
  return impl_->screen_scale * static_cast<float>(impl_->text_scale);
}

int Window::width() const {
  int width = 0;
  glfwGetWindowSize(impl_->handle, &width, nullptr);
  return width;
}

int Window::height() const {
  int height = 0;
  glfwGetWindowSize(impl_->handle, nullptr, &height);
  return height;
}

}  // namespace haftwright::app
