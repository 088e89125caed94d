// As much of style as says what is seen at all.
#pragma once

#include <pugixml.hpp>
#include <set>
#include <string>
#include <string_view>

namespace haftwright::intake {

/// The value of a property: of the attribute of that name, or in style="...", which comes first; empty where
/// neither says.
std::string style_value(const pugi::xml_node& element, std::string_view property);

/// The classes that a style sheet hides: rules of single classes with display: none.
class HiddenClasses {
 public:
  void add_sheet(std::string_view css);
  bool hide(const pugi::xml_node& element) const;

 private:
  std::set<std::string, std::less<>> classes_;
};

}  // namespace haftwright::intake
