#include "key_queue.hpp"

#include <GLFW/glfw3.h>
#include <backends/imgui_impl_glfw.h>

#include <algorithm>
#include <vector>

namespace haftwright::app {
namespace {

bool is_modifier(int key) {
  return key >= GLFW_KEY_LEFT_SHIFT && key <= GLFW_KEY_RIGHT_SUPER;
}

bool contains(const std::vector<int>& keys, int key) {
  return std::find(keys.begin(), keys.end(), key) != keys.end();
}

}  // namespace

void KeyQueue::key(int key, int scancode, int action, int mods) {
  // Dear ImGui repeats held keys itself; a key that GLFW has no name for means nothing to it.
  if (action != GLFW_REPEAT && key > 0) waiting_.push_back({key, scancode, action, mods, 0});
}

void KeyQueue::letter(unsigned code) {
  waiting_.push_back({.letter = code});
}

void KeyQueue::hand_on(GLFWwindow* window, bool typing) {
  std::vector<int> pressed;  // in this frame, and to be seen by it
  std::vector<int> let_go;
  // While a field takes letters, the keys that make them mean nothing of their own.
  const auto makes_letter = [typing](const Event& event) {
    return typing && event.key < GLFW_KEY_ESCAPE && !(event.mods & (GLFW_MOD_CONTROL | GLFW_MOD_ALT));
  };
  const auto must_wait = [&](const Event& event) {
    if (event.key == 0) return typing && !pressed.empty();
    if (event.action == GLFW_PRESS) return contains(let_go, event.key);
    return contains(pressed, event.key) || (is_modifier(event.key) && !pressed.empty());
  };
  for (; !waiting_.empty() && !must_wait(waiting_.front()); waiting_.pop_front()) {
    const Event& event = waiting_.front();
    if (event.key == 0) {
      ImGui_ImplGlfw_CharCallback(window, event.letter);
      continue;
    }
    ImGui_ImplGlfw_KeyCallback(window, event.key, event.scancode, event.action, event.mods);
    if (event.action == GLFW_RELEASE)
      let_go.push_back(event.key);
    else if (!is_modifier(event.key) && !makes_letter(event))
      pressed.push_back(event.key);
  }
}

}  // namespace haftwright::app
