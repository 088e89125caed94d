// The window: GLFW, the GL context and Dear ImGui, and a loop that sleeps until something happens.
#pragma once

#include <filesystem>
#include <functional>
#include <memory>
#include <stdexcept>
#include <string>
#include <vector>

namespace haftwright::app {

/// No window can be opened; what() says why and what works without one.
class WindowError : public std::runtime_error {
 public:
  using std::runtime_error::runtime_error;
};

struct WindowSettings {
  int width = 1280;
  int height = 800;
  double text_scale = 1;  ///< on top of what the screen asks for
};

class Window {
 public:
  explicit Window(const WindowSettings& settings);
  ~Window();
  Window(const Window&) = delete;
  Window& operator=(const Window&) = delete;

  std::function<void()> draw = [] {};                                      ///< one frame of Dear ImGui
  std::function<void(const std::vector<std::filesystem::path>&)> dropped;  ///< files let go over the window
  std::function<bool()> may_close = [] { return true; };        ///< asked when the person closes the window
  std::function<double()> next_wake_s = [] { return 3600.0; };  ///< longest sleep until due() is asked
  std::function<bool()> due = [] { return true; };              ///< after it: is there anything new to draw?

  /// Until closed. Draws only after an event, a wake, or when due() says so.
  void run();
  /// Wakes the loop; may be called from any thread.
  void wake();
  /// Asks for at least one more frame: something on the screen has to settle.
  void redraw();
  void close();
  void set_title(const std::string& title);
  void set_text_scale(double scale);
  /// Framebuffer pixels to one unit of the interface's layout.
  float interface_scale() const;
  int width() const;
  int height() const;

 private:
  struct Impl;
  std::unique_ptr<Impl> impl_;
};

}  // namespace haftwright::app
