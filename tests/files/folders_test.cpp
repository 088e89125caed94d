#include "haftwright/files/folders.hpp"

#include <catch2/catch.hpp>
#include <cstdlib>
#include <optional>
#include <string>

#include "haftwright/files/shop_file.hpp"

using namespace haftwright;

namespace {

/// An environment variable that is put back.
class Variable {
 public:
  explicit Variable(const char* name) : name_(name) {
    if (const char* value = std::getenv(name)) before_ = value;
  }
  ~Variable() { set(before_ ? before_->c_str() : nullptr); }
  void set(const char* value) { value ? setenv(name_, value, 1) : unsetenv(name_); }

 private:
  const char* name_;
  std::optional<std::string> before_;
};

struct Place {
  const char* variable;
  std::filesystem::path (*folder)();
  const char* usual;
};

}  // namespace

TEST_CASE("a person's folders follow the XDG Base Directory Specification") {
  const Place places[] = {{"XDG_CONFIG_HOME", config_folder, "/home/maker/.config/haftwright"},
                          {"XDG_DATA_HOME", data_folder, "/home/maker/.local/share/haftwright"}};
  for (const Place& place : places) {
    CAPTURE(place.variable);
    Variable named(place.variable);
    Variable home("HOME");
    home.set("/home/maker");
    named.set("/elsewhere");
    CHECK(place.folder() == "/elsewhere/haftwright");
    for (const char* ignored : {"relative/is/ignored", "", static_cast<const char*>(nullptr)}) {
      named.set(ignored);
      CHECK(place.folder() == place.usual);
    }
    home.set(nullptr);
    CHECK(place.folder().is_absolute());
    CHECK(place.folder().filename() == "haftwright");
  }
}

TEST_CASE("the shop file lies in the folder for data") {
  Variable data("XDG_DATA_HOME");
  data.set("/elsewhere");
  CHECK(shop_file() == "/elsewhere/haftwright/shop.json");
}
