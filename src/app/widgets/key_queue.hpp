// Keys and letters as they came, handed on as many a frame as Dear ImGui can tell apart.
//
// Dear ImGui looks at the keyboard once a frame. Of what comes within one frame it would lose a key that was
// pressed and let go, take Ctrl+Z for Z when Ctrl was let go as well, and read letters before the keys that
// came before them. What would be mistaken waits for the next frame, and all that came after it.
#pragma once

#include <deque>

struct GLFWwindow;

namespace haftwright::app {

class KeyQueue {
 public:
  /// As GLFW's callbacks tell it.
  void key(int key, int scancode, int action, int mods);
  void letter(unsigned code);
  bool empty() const { return waiting_.empty(); }
  /// Before a frame; `typing`: a text field had the keyboard in the last one.
  void hand_on(GLFWwindow* window, bool typing);

 private:
  struct Event {
    int key = 0;  ///< 0: a letter
    int scancode = 0;
    int action = 0;
    int mods = 0;
    unsigned letter = 0;
  };
  std::deque<Event> waiting_;
};

}  // namespace haftwright::app
