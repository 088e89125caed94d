// What the shape entities of a Part 21 file say (ISO 10303-42: topology; ISO 10303-41: units).
#include <algorithm>
#include <cmath>
#include <set>

#include "part21.hpp"

namespace haftwright::test::part21 {

namespace {

bool has(const File& file, long id, std::string_view keyword) {
  const Instance& instance = file.data.at(id);
  return std::any_of(instance.begin(), instance.end(), [&](const Record& r) { return r.keyword == keyword; });
}

bool is_true(const Value& value) {
  if (value.kind != Value::Kind::enumeration || (value.text != "T" && value.text != "F")) {
    throw SyntaxError("expected .T. or .F.");
  }
  return value.text == "T";
}

Vec3 triple(const Record& record) {
  const auto& numbers = record.parameters.at(1).items;
  if (numbers.size() != 3) throw SyntaxError("expected three numbers");
  return {numbers[0].number, numbers[1].number, numbers[2].number};
}

/// The faces' ids of a shell; the bounds of a face.
const std::vector<Value>& faces_of(const File& file, long shell) {
  return file.record(shell, "CLOSED_SHELL").parameters.at(1).items;
}

struct Uses {
  std::map<long, int> forward;
  std::map<long, int> reversed;
  std::set<long> vertices;
};

/// Counts the edges of one bound, following its orientation flags.
void count_bound(const File& file, long bound, Uses& uses) {
  const bool outer = has(file, bound, "FACE_OUTER_BOUND");
  const Record& record = file.record(bound, outer ? "FACE_OUTER_BOUND" : "FACE_BOUND");
  const bool ahead = is_true(record.parameters.at(2));
  const long loop = record.parameters.at(1).reference;
  if (has(file, loop, "VERTEX_LOOP")) {
    uses.vertices.insert(file.record(loop, "VERTEX_LOOP").parameters.at(1).reference);
    return;
  }
  for (const Value& oriented : file.record(loop, "EDGE_LOOP").parameters.at(1).items) {
    const Record& use = file.record(oriented.reference, "ORIENTED_EDGE");
    const long edge = use.parameters.at(3).reference;
    const bool same = is_true(use.parameters.at(4)) == ahead;
    ++(same ? uses.forward : uses.reversed)[edge];
    const Record& curve = file.record(edge, "EDGE_CURVE");
    uses.vertices.insert(curve.parameters.at(1).reference);
    uses.vertices.insert(curve.parameters.at(2).reference);
  }
}

}  // namespace

std::vector<Shell> shells(const File& file) {
  std::vector<Shell> result;
  for (const long id : file.all("CLOSED_SHELL")) {
    Shell shell;
    shell.id = id;
    Uses uses;
    for (const Value& face : faces_of(file, id)) {
      ++shell.faces;
      const auto& bounds = file.record(face.reference, "ADVANCED_FACE").parameters.at(1).items;
      if (bounds.empty()) throw SyntaxError("a face without bounds");
      shell.inner_loops += static_cast<long>(bounds.size()) - 1;
      for (const Value& bound : bounds) count_bound(file, bound.reference, uses);
    }
    const auto once = [](const auto& use) { return use.second == 1; };
    shell.closed = !uses.forward.empty() && uses.forward == uses.reversed &&
                   std::all_of(uses.forward.begin(), uses.forward.end(), once);
    std::set<long> edges;
    for (const auto& [edge, count] : uses.forward) edges.insert(edge);
    for (const auto& [edge, count] : uses.reversed) edges.insert(edge);
    shell.edges = static_cast<long>(edges.size());
    shell.vertices = static_cast<long>(uses.vertices.size());
    result.push_back(shell);
  }
  return result;
}

std::vector<Cylinder> cylinders(const File& file, const Shell& shell) {
  std::vector<Cylinder> result;
  for (const Value& face : faces_of(file, shell.id)) {
    const long surface = file.record(face.reference, "ADVANCED_FACE").parameters.at(2).reference;
    if (!has(file, surface, "CYLINDRICAL_SURFACE")) continue;
    const Record& cylinder = file.record(surface, "CYLINDRICAL_SURFACE");
    const Record& placement = file.record(cylinder.parameters.at(1).reference, "AXIS2_PLACEMENT_3D");
    result.push_back({triple(file.record(placement.parameters.at(1).reference, "CARTESIAN_POINT")),
                      triple(file.record(placement.parameters.at(2).reference, "DIRECTION")),
                      cylinder.parameters.at(2).number});
  }
  return result;
}

bool all_millimetres_and_radians(const File& file) {
  const auto contexts = file.all("GLOBAL_UNIT_ASSIGNED_CONTEXT");
  for (const long context : contexts) {
    bool millimetre = false;
    bool radian = false;
    for (const Value& unit : file.record(context, "GLOBAL_UNIT_ASSIGNED_CONTEXT").parameters.at(0).items) {
      if (!has(file, unit.reference, "SI_UNIT")) return false;
      const Record& si = file.record(unit.reference, "SI_UNIT");
      const std::string& prefix = si.parameters.at(0).text;
      const std::string& name = si.parameters.at(1).text;
      if (has(file, unit.reference, "LENGTH_UNIT")) millimetre = prefix == "MILLI" && name == "METRE";
      if (has(file, unit.reference, "PLANE_ANGLE_UNIT")) radian = prefix.empty() && name == "RADIAN";
    }
    if (!millimetre || !radian) return false;
  }
  return !contexts.empty();
}

std::vector<std::string> product_names(const File& file) {
  std::vector<std::string> names;
  for (const long id : file.all("PRODUCT")) {
    names.push_back(decoded(file.record(id, "PRODUCT").parameters.at(1).text));
  }
  return names;
}

bool all_parts_in_place(const File& file) {
  const auto origin_frame = [&](long placement) {
    const Record& record = file.record(placement, "AXIS2_PLACEMENT_3D");
    const auto at = [&](std::size_t i, const char* keyword) {
      return triple(file.record(record.parameters.at(i).reference, keyword));
    };
    return at(1, "CARTESIAN_POINT") == Vec3(0, 0, 0) && at(2, "DIRECTION") == Vec3(0, 0, 1) &&
           at(3, "DIRECTION") == Vec3(1, 0, 0);
  };
  for (const long id : file.all("ITEM_DEFINED_TRANSFORMATION")) {
    const auto& parameters = file.record(id, "ITEM_DEFINED_TRANSFORMATION").parameters;
    if (!origin_frame(parameters.at(2).reference) || !origin_frame(parameters.at(3).reference)) return false;
  }
  return true;
}

}  // namespace haftwright::test::part21
