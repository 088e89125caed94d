// Choosing a file to open or to write, in a window of our own.
#pragma once

#include <filesystem>
#include <functional>
#include <string>
#include <vector>

namespace haftwright::app {

class FileChooser {
 public:
  struct Request {
    std::string title;   ///< also the popup's name
    std::string action;  ///< on the button: "Open", "Save"
    std::string ending;  ///< ".json": only such files are listed, and it is added when missing
    bool must_exist = false;
    std::filesystem::path start;  ///< folder, or a file to begin with
    std::function<void(const std::filesystem::path&)> chosen;
    std::function<void()> given_up = [] {};
  };

  void ask(Request request);
  bool open() const { return open_; }
  /// One frame of it, when it is open.
  void draw();

 private:
  struct Entry {
    std::string name;
    bool folder;
  };
  void go_to(const std::filesystem::path& folder);
  void list();
  void finish(bool take);

  Request request_;
  bool open_ = false;
  bool fresh_ = false;
  std::filesystem::path folder_;
  std::string name_;
  std::vector<Entry> entries_;
  std::string trouble_;
};

}  // namespace haftwright::app
