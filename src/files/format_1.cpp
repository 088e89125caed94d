#include "format_1.hpp"

#include <algorithm>
#include <cmath>
#include <map>

#include "haftwright/design/ids.hpp"
#include "haftwright/design/quantities.hpp"

namespace haftwright::files {
namespace {

using IdOfName = std::map<std::string, std::string>;

constexpr schema::Quantity kJointNumber{"", 1, static_cast<double>(limits::kPieces - 1)};

/// The list there, when it is one and no longer than it may be.
Json* list_at(Json& root, const char* pointer, std::size_t most) {
  const Json::json_pointer place(pointer);
  if (!root.contains(place)) return nullptr;
  Json& list = root[place];
  return list.is_array() && list.size() <= most ? &list : nullptr;
}

/// The text under `key`; none where the entry is no object or the value no text.
std::string* text_in(Json& entry, const char* key) {
  if (!entry.is_object() || !entry.contains(key)) return nullptr;
  return entry[key].get_ptr<std::string*>();
}

class Conversion {
 public:
  Conversion(Json& root, std::vector<Problem>& problems) : root_(root), problems_(problems) {}

  void convert() {
    const IdOfName holes = name_all("/tang/holes", "tang.holes", limits::kTangHoles, "hole");
    const IdOfName pins = name_all("/pins", "pins", limits::kPins, "pin");
    for (const char* side : {"left", "right"}) {
      number_all(side, "pieces", limits::kPieces, "piece");
      number_all(side, "joints", limits::kPieces - 1, "joint");
    }
    if (Json* list = list_at(root_, "/pins", limits::kPins))
      for (std::size_t i = 0; i < list->size(); ++i) refer_to_hole((*list)[i], i, holes);
    if (Json* list = list_at(root_, "/dry_fit", limits::kReadings))
      for (std::size_t i = 0; i < list->size(); ++i) {
        refer_to_joint((*list)[i], field("dry_fit", i) + ".joint");
        refer_to_pin((*list)[i], pins);
      }
  }

 private:
  static std::string field(const std::string& list, std::size_t i) {
    return list + '[' + std::to_string(i) + ']';
  }

  /// A key that was unknown to format 1 must not slip in with the conversion.
  void give_id(Json& entry, const std::string& path, const std::string& id) {
    if (!entry.is_object()) return;
    if (entry.contains("id"))
      problems_.push_back({path + ".id", "is known from format 2 on; write \"haftwright\": 2"});
    entry["id"] = id;
  }

  IdOfName name_all(const char* pointer, const std::string& path, std::size_t most, const char* noun) {
    IdOfName by_name;
    Json* list = list_at(root_, pointer, most);
    if (!list) return by_name;
    std::vector<std::string> names;
    for (Json& entry : *list) {
      const std::string* name = text_in(entry, "name");
      names.push_back(name ? *name : "");
    }
    const std::vector<std::string> ids = ids_from_names(names, noun);
    for (std::size_t i = 0; i < ids.size(); ++i) {
      give_id((*list)[i], field(path, i), ids[i]);
      if (!names[i].empty() && !by_name.emplace(names[i], ids[i]).second)
        problems_.push_back({field(path, i) + ".name",
                             "a second " + std::string(noun) + " called " + schema::quoted(names[i])});
    }
    return by_name;
  }

  void number_all(const std::string& side, const std::string& key, std::size_t most,
                  const std::string& noun) {
    Json* list = list_at(root_, ("/sides/" + side + "/" + key).c_str(), most);
    if (!list) return;
    for (std::size_t i = 0; i < list->size(); ++i)
      give_id((*list)[i], field("sides." + side + "." + key, i), noun + "_" + std::to_string(i + 1));
  }

  void refer_to_hole(Json& pin, std::size_t i, const IdOfName& holes) {
    std::string* name = text_in(pin, "existing_tang_hole");
    if (!name) return;
    if (const auto found = holes.find(*name); found != holes.end()) {
      *name = found->second;
      return;
    }
    if (!name->empty())
      problems_.push_back({field("pins", i) + ".existing_tang_hole", no_hole(*name, holes)});
    pin.erase("existing_tang_hole");
  }

  static std::string no_hole(const std::string& name, const IdOfName& holes) {
    std::vector<std::string> known;
    for (const auto& [hole, id] : holes) known.push_back(hole);
    return "the tang has no hole called " + schema::quoted(name) +
           schema::did_you_mean(nearest_word(name, known));
  }

  /// A joint that is not there stays one that is not there: a reading of it is named when it is used.
  void refer_to_joint(Json& reading, const std::string& path) {
    if (!reading.is_object() || !reading.contains("joint")) return;
    Json& joint = reading["joint"];
    std::string problem = "must be the joint's number, front to rear";
    if (joint.is_number()) {
      const double number = joint.get<double>();
      problem = schema::range_problem(kJointNumber, number);
      if (problem.empty() && number != std::floor(number))
        problem = "must be a whole number, but is " + shortest_number(number);
      if (problem.empty()) {
        joint = "joint_" + std::to_string(static_cast<int>(number));
        return;
      }
    }
    problems_.push_back({path, problem});
    joint = "joint_1";
  }

  /// As with a joint, a pin that is not there must not turn into one that is.
  static void refer_to_pin(Json& reading, const IdOfName& pins) {
    std::string* name = text_in(reading, "from_pin");
    if (!name) return;
    if (name->empty()) {
      reading.erase("from_pin");
      return;
    }
    if (const auto found = pins.find(*name); found != pins.end()) {
      *name = found->second;
      return;
    }
    std::vector<std::string> taken;
    for (const auto& [pin, id] : pins) taken.push_back(id);
    *name = ids_from_names({*name}, "pin", std::move(taken)).front();
  }

  Json& root_;
  std::vector<Problem>& problems_;
};

}  // namespace

void convert_from_1(Json& root, std::vector<Problem>& problems) {
  Conversion(root, problems).convert();
}

}  // namespace haftwright::files
