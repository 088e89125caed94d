// What stands there before a project is open: unsaved work to take up again, recent files, samples, a new
// tang.
#pragma once

#include <functional>
#include <string>
#include <vector>

#include "haftwright/design/starters.hpp"
#include "haftwright/session/session.hpp"

namespace haftwright::app {

class StartPage {
 public:
  /// Draws it and does what is clicked. `ask_open` asks for a file to open.
  void show(Session& session, const std::function<void()>& ask_open);

 private:
  void offers(Session& session);
  void new_form(Session& session);
  void outline_picture(LengthUnit unit);
  std::vector<Node> outline() const;

  // What is typed for a new project.
  int shape_ = 0;  ///< straight, bowed
  StraightTang straight_;
  BowedTang bowed_;
  double thickness_mm_ = 4;
  std::string trouble_;
  float picture_height_ = 0;  ///< of the tang as drawn last, pixels
};

}  // namespace haftwright::app
