#include "bin_typed.hpp"

#include <charconv>
#include <cmath>
#include <fstream>
#include <sstream>

#include "haftwright/design/quantities.hpp"
#include "haftwright/design/validate.hpp"
#include "haftwright/offcuts/bin_schema.hpp"
#include "haftwright/offcuts/find.hpp"

namespace haftwright::command {
namespace {

constexpr std::string_view kRoom = " \t\r\n";
constexpr std::size_t kLongestFile = 1u << 20;

std::string_view trimmed(std::string_view text) {
  const std::size_t first = text.find_first_not_of(kRoom);
  if (first == std::string_view::npos) return {};
  return text.substr(first, text.find_last_not_of(kRoom) - first + 1);
}

template <class Number>
std::optional<Number> parsed(std::string_view text) {
  Number number{};
  const auto end = text.data() + text.size();
  const auto [at, error] = std::from_chars(text.data(), end, number);
  if (error != std::errc() || at != end) return std::nullopt;
  return number;
}

}  // namespace

std::vector<std::string_view> parted(std::string_view text, char separator) {
  std::vector<std::string_view> parts;
  if (trimmed(text).empty()) return parts;
  for (std::size_t at = 0; at <= text.size();) {
    const std::size_t end = std::min(text.find(separator, at), text.size());
    parts.push_back(trimmed(text.substr(at, end - at)));
    at = end + 1;
  }
  return parts;
}

void TypedReader::refuse(std::string what) const {
  throw InputError(option_, std::move(what));
}

double TypedReader::length_mm(std::string_view text) const {
  try {
    return parse_length_mm(text, unit_);
  } catch (const std::invalid_argument& error) {
    refuse(error.what());
  }
}

double TypedReader::number(std::string_view text) const {
  const auto value = parsed<double>(trimmed(text));
  if (!value || !std::isfinite(*value))
    refuse("must be a number with a decimal point, but is " + schema::quoted(std::string(text)));
  return *value;
}

int TypedReader::whole(std::string_view text) const {
  const auto value = parsed<int>(trimmed(text));
  if (!value) refuse("must be a whole number, but is " + schema::quoted(std::string(text)));
  return *value;
}

std::vector<double> TypedReader::lengths_mm(std::string_view text, std::size_t least,
                                            std::size_t most) const {
  const auto parts = parted(text, 'x');
  if (parts.size() < least || parts.size() > most)
    refuse("must be lengths with x between them, such as " +
           std::string(most == 2 ? "\"120 x 40\"" : "\"120 x 40 x 22\"") + ", but is " +
           schema::quoted(std::string(text)));
  std::vector<double> lengths;
  lengths.reserve(parts.size());
  for (const std::string_view part : parts) lengths.push_back(length_mm(part));
  return lengths;
}

Vec2 TypedReader::point_mm(std::string_view text) const {
  const auto parts = parted(text, ',');
  if (parts.size() != 2)
    refuse("must be two lengths with a comma between them, such as \"12.5,8\", but is " +
           schema::quoted(std::string(text)));
  return {length_mm(parts[0]), length_mm(parts[1])};
}

std::vector<Node> TypedReader::chain(const std::string& text) const {
  std::string points = text;
  if (text.find(',') == std::string::npos) {
    std::ifstream file(text, std::ios::binary);
    if (!file)
      refuse(
          "must be points such as \"0,0; 120,0; 110,40\", or a file with one in a line; there is no file " +
          schema::quoted(text));
    points.assign(kLongestFile + 1, '\0');
    file.read(points.data(), static_cast<std::streamsize>(points.size()));
    points.resize(static_cast<std::size_t>(file.gcount()));
    if (points.size() > kLongestFile)
      refuse("the file " + schema::quoted(text) + " is too long for an outline");
    for (char& c : points)
      if (c == '\n') c = ';';
  }
  std::vector<Node> nodes;
  for (const std::string_view point : parted(points, ';')) {
    if (point.empty()) continue;
    const auto parts = parted(point, ',');
    if (parts.size() != 2 && parts.size() != 3)
      refuse("a point is \"X,Y\", or \"X,Y,BULGE\" where an arc begins, but one is " +
             schema::quoted(std::string(point)));
    nodes.push_back({{length_mm(parts[0]), length_mm(parts[1])}, parts.size() == 3 ? number(parts[2]) : 0});
  }
  return nodes;
}

std::vector<Node> TypedReader::circle(std::string_view text) const {
  const auto parts = parted(text, ',');
  if (parts.size() != 3)
    refuse("must be \"X,Y,DIAMETER\", such as \"60,20,8\", but is " + schema::quoted(std::string(text)));
  const Vec2 middle{length_mm(parts[0]), length_mm(parts[1])};
  const double radius = length_mm(parts[2]) / 2;
  if (!(radius > 0)) refuse("the diameter must be more than 0");
  return {{middle - Vec2{radius, 0}, 1}, {middle + Vec2{radius, 0}, 1}};
}

PhotoMark TypedReader::mark(std::string_view text) const {
  const auto sides = parted(text, '=');
  const auto pixels = sides.size() == 2 ? parted(sides[0], ',') : std::vector<std::string_view>();
  if (pixels.size() != 2)
    refuse("must be \"PX,PY=X,Y\", a place in the picture in pixels and where it is on the offcut, but is " +
           schema::quoted(std::string(text)));
  return {{number(pixels[0]), number(pixels[1])}, point_mm(sides[1])};
}

OffcutPhoto photo_typed(const BinOptions& options, LengthUnit unit, OffcutPhoto photo) {
  if (options.face) photo.face = TypedReader("--face", unit).named(*options.face, schema::kFaceNames);
  if (!options.marks.empty()) photo.marks.clear();
  for (const std::string& mark : options.marks) photo.marks.push_back(TypedReader("--mark", unit).mark(mark));
  if (options.above) photo.face_above_marks_mm = TypedReader("--above", unit).length_mm(*options.above);
  if (options.lens_k1) photo.lens_k1 = TypedReader("--lens-k1", unit).number(*options.lens_k1);
  if (options.camera_height)
    photo.camera_height_mm = TypedReader("--camera-height", unit).length_mm(*options.camera_height);
  return photo;
}

std::string material_key(const Bin& bin, const std::string& text) {
  const std::vector<std::string> keys = materials_of_word(bin, text);
  return keys.size() == 1 ? keys.front() : text;
}

}  // namespace haftwright::command
