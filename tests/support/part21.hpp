// A small reader of ISO 10303-21 clear text, independent of the solid modelling kernel.
//
// It reads syntax, not schemas: header, instances and their parameters. On top of that it measures what a
// wrong file would get wrong: references, shells, cylinders, units.
#pragma once

#include <map>
#include <stdexcept>
#include <string>
#include <string_view>
#include <vector>

#include "haftwright/geometry/vec.hpp"

namespace haftwright::test::part21 {

/// The text breaks the syntax, or says something that can't be; what() names the line.
class SyntaxError : public std::runtime_error {
 public:
  using std::runtime_error::runtime_error;
};

struct Value {
  enum class Kind { integer, real, text, enumeration, reference, list, typed, omitted, derived };
  Kind kind = Kind::omitted;
  double number = 0;   ///< integer, real
  long reference = 0;  ///< #n
  std::string text;    ///< text (as it stands between the quotes), enumeration, keyword of a typed value
  std::vector<Value> items;  ///< list, typed
};

struct Record {
  std::string keyword;
  std::vector<Value> parameters;
};

/// One entity: one record, or several when it is a complex instance.
using Instance = std::vector<Record>;

struct File {
  std::vector<Record> header;
  std::map<long, Instance> data;

  /// The record of that keyword of instance `id`; throws SyntaxError when it is missing.
  const Record& record(long id, std::string_view keyword) const;
  /// The instances that hold a record of that keyword, by rising number.
  std::vector<long> all(std::string_view keyword) const;
};

/// Throws SyntaxError: bytes outside printable ASCII and line ends, an instance number used twice, a
/// reference to none, a header that lacks one of its three records, a string whose directives are malformed.
File parse(std::string_view text);

/// UTF-8 of a string as it stands between the quotes (clause 6.3.3).
std::string decoded(std::string_view encoded);
/// Of the only entry in FILE_SCHEMA.
std::string schema(const File& file);
/// Every context's length unit is the millimetre and its plane angle unit the radian.
bool all_millimetres_and_radians(const File& file);

struct Shell {
  long id = 0;
  bool closed = false;  ///< every edge used exactly once in each direction
  long vertices = 0;
  long edges = 0;
  long faces = 0;
  long inner_loops = 0;  ///< bounds of faces beyond each face's first
  /// Holes through the solid, by Euler and Poincare: V - E + F - inner loops = 2 (1 - genus).
  double genus() const { return 1 - static_cast<double>(vertices - edges + faces - inner_loops) / 2; }
};
/// The closed shells, by rising number.
std::vector<Shell> shells(const File& file);

struct Cylinder {
  Vec3 point{0, 0, 0};
  Vec3 axis{0, 0, 1};
  double radius_mm = 0;
};
/// The cylindrical surfaces that `shell` uses.
std::vector<Cylinder> cylinders(const File& file, const Shell& shell);

/// Names of the products, by rising number, decoded.
std::vector<std::string> product_names(const File& file);
/// Every placement of a part in an assembly leaves it where it is.
bool all_parts_in_place(const File& file);

}  // namespace haftwright::test::part21
