#include <fstream>

#include "numbers.hpp"
#include "readers.hpp"

namespace haftwright::intake {
namespace {

struct NamedUnit {
  const char* word;
  double mm;
};
constexpr NamedUnit kUnits[] = {{"mm", 1},     {"cm", 10},          {"m", 1000},         {"in", 25.4},
                                {"ft", 304.8}, {"px96", 25.4 / 96}, {"px90", 25.4 / 90}, {"px72", 25.4 / 72}};

void require_sound(const ReadOptions& options) {
  const auto above_0 = [](double value) { return value > 0 && std::isfinite(value); };
  if (!above_0(options.tolerance_mm) || !above_0(options.mm_per_unit.value_or(1)))
    throw std::invalid_argument("the tolerance and the unit of a drawing must be above 0");
}

std::string megabytes(std::size_t bytes) {
  return std::to_string(bytes >> 20) + " MB";
}

}  // namespace

std::optional<double> unit_named(std::string_view word) {
  for (const NamedUnit& unit : kUnits)
    if (word == unit.word) return unit.mm;
  return {};
}

std::vector<std::string> unit_words() {
  std::vector<std::string> words;
  for (const NamedUnit& unit : kUnits) words.emplace_back(unit.word);
  return words;
}

Sketch read_drawing(std::string_view bytes, const ReadOptions& options) {
  require_sound(options);
  if (bytes.size() > options.limits.file_bytes)
    throw IntakeError("", "the file is larger than the " + megabytes(options.limits.file_bytes) +
                              " that a drawing may have");
  if (bytes.starts_with("AutoCAD Binary DXF"))
    throw IntakeError("", "this is a binary DXF, which is not read; save it as an ASCII DXF");
  if (bytes.starts_with("AC10") && bytes.substr(0, 6).find_first_of("\r\n") == std::string_view::npos)
    throw IntakeError("", "this is a DWG, which is not read; save it as an ASCII DXF");
  std::string_view text = bytes;
  if (text.starts_with("\xEF\xBB\xBF")) text.remove_prefix(3);
  const std::string_view begin = trimmed(text.substr(0, 1000));
  if (begin.empty()) throw IntakeError("", "the file is empty");
  if (begin.starts_with('<')) return read_svg(bytes, options);
  if (is_digit(begin.front())) return read_dxf(text, options);
  throw IntakeError("", "this is neither a DXF nor an SVG file");
}

Sketch read_drawing_file(const std::filesystem::path& path, const ReadOptions& options) {
  std::error_code failed;
  if (std::filesystem::is_directory(path, failed)) throw IntakeError("", "this is a folder, not a drawing");
  if (!std::filesystem::exists(path, failed)) throw IntakeError("", "there is no such file");
  if (!std::filesystem::is_regular_file(path, failed)) throw IntakeError("", "this is no plain file");
  std::ifstream file(path, std::ios::binary);
  std::string bytes(options.limits.file_bytes + 1, '\0');
  if (!file.read(bytes.data(), static_cast<std::streamsize>(bytes.size())) && !file.eof())
    throw IntakeError("", "the file can't be read");
  bytes.resize(static_cast<std::size_t>(file.gcount()));
  return read_drawing(bytes, options);
}

}  // namespace haftwright::intake
