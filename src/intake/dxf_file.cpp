#include "dxf_file.hpp"

#include "numbers.hpp"
#include "path_maker.hpp"

namespace haftwright::intake {
namespace {

constexpr std::size_t kMostTags = 8'000'000;
constexpr int kMostCode = 1071;
constexpr int kComment = 999;
/// Of another program's own data, which may hold anything.
constexpr int kExtendedData = 1000;
constexpr double kMostReal = 1e12;

class Pairs {
 public:
  explicit Pairs(std::string_view bytes) : rest_(bytes) {}

  /// The next pair that is no comment.
  Tag next() {
    for (;;) {
      const std::string_view code_text = trimmed(line());
      const auto code = number_of(code_text);
      if (!code || *code != std::floor(*code) || *code < -5 || *code > kMostCode)
        throw IntakeError(at_line(line_), "expected a group code of DXF, a whole number from 0 to " +
                                              std::to_string(kMostCode) + ", but found \"" +
                                              std::string(code_text.substr(0, 40)) + "\"");
      const std::string_view value = line();
      if (*code == kComment) continue;
      return {value, static_cast<std::uint32_t>(line_), static_cast<std::int32_t>(*code)};
    }
  }

 private:
  std::string_view line() {
    if (rest_.empty())
      throw IntakeError(at_line(line_),
                        "the file ends here without its mark EOF: it has been cut off; save it again");
    ++line_;
    const std::size_t end = std::min(rest_.find('\n'), rest_.size());
    std::string_view text = rest_.substr(0, end);
    rest_.remove_prefix(std::min(end + 1, rest_.size()));
    if (text.ends_with('\r')) text.remove_suffix(1);
    return text;
  }

  std::string_view rest_;
  std::size_t line_ = 0;
};

class FileReader {
 public:
  explicit FileReader(std::string_view bytes) : pairs_(bytes) {}

  DxfFile read() {
    for (bool first = true;; first = false) {
      const Tag tag = pairs_.next();
      const std::string_view what = trimmed(tag.value);
      if (tag.code == 0 && what == "EOF" && !first) break;
      if (tag.code != 0 || what != "SECTION")
        throw IntakeError(at_line(tag.line), first ? "this is no DXF file: it begins with no section"
                                                   : "expected a section or the mark EOF");
      const Tag name = pairs_.next();
      if (name.code != 2) throw IntakeError(at_line(name.line), "expected the section's name");
      section(trimmed(name.value));
    }
    return std::move(file_);
  }

 private:
  void section(std::string_view name) {
    if (name == "HEADER") return header();
    if (name == "TABLES") return tables();
    if (name == "BLOCKS") return blocks();
    if (name == "ENTITIES") {
      file_.entities = records();
      return;
    }
    while (!is_end(pairs_.next())) {
    }
  }

  static bool is_end(const Tag& tag) { return tag.code == 0 && trimmed(tag.value) == "ENDSEC"; }

  void header() {
    std::string_view variable;
    for (Tag tag = pairs_.next(); !is_end(tag); tag = pairs_.next()) {
      if (tag.code == 9) variable = trimmed(tag.value);
      if (tag.code == 70 && variable == "$INSUNITS") file_.ins_units = whole_of(tag);
      if (tag.code == 70 && variable == "$MEASUREMENT") file_.measurement = whole_of(tag);
    }
  }

  /// All records up to the section's end.
  RecordRange records() {
    RecordRange range{file_.records.size(), 0};
    for (Tag tag = pairs_.next(); !is_end(tag); tag = pairs_.next()) {
      const auto here = static_cast<std::uint32_t>(file_.tags.size());
      if (tag.code == 0) {
        file_.records.push_back({trimmed(tag.value), tag.line, here, here});
        continue;
      }
      if (file_.records.size() == range.first)
        throw IntakeError(at_line(tag.line), "expected the beginning of an entity, a group 0");
      if (tag.code >= kExtendedData) continue;
      if (here >= kMostTags) throw IntakeError(at_line(tag.line), "the drawing is too large");
      file_.tags.push_back(tag);
      file_.records.back().last = here + 1;
    }
    range.last = file_.records.size();
    return range;
  }

  void tables() {
    const RecordRange range = records();
    for (std::size_t i = range.first; i < range.last; ++i) {
      const Record& record = file_.records[i];
      if (record.type != "LAYER") continue;
      const auto tags = file_.tags_of(record);
      file_.layers.push_back({std::string(trimmed(text_in(tags, 2, ""))), whole_in(tags, 62, 7) < 0,
                              (whole_in(tags, 70, 0) & 1) != 0});
    }
  }

  void blocks() {
    const RecordRange range = records();
    for (std::size_t i = range.first; i < range.last; ++i) {
      const Record& record = file_.records[i];
      if (record.type != "BLOCK") continue;
      const auto tags = file_.tags_of(record);
      DxfBlock block;
      block.base = {real_in(tags, 10, 0), real_in(tags, 20, 0)};
      block.records.first = i + 1;
      while (i + 1 < range.last && file_.records[i + 1].type != "ENDBLK") ++i;
      block.records.last = i + 1;
      file_.blocks.emplace(lower_case(trimmed(text_in(tags, 2, ""))), block);
    }
  }

  Pairs pairs_;
  DxfFile file_;
};

const Tag* find(std::span<const Tag> tags, int code) {
  for (const Tag& tag : tags)
    if (tag.code == code) return &tag;
  return nullptr;
}

}  // namespace

DxfFile read_dxf_file(std::string_view bytes) {
  return FileReader(bytes).read();
}

double real_of(const Tag& tag) {
  const auto value = number_of(tag.value);
  if (!value || std::abs(*value) > kMostReal)
    throw IntakeError(at_line(tag.line), "expected a number of a sensible size, but found \"" +
                                             std::string(trimmed(tag.value).substr(0, 40)) + "\"");
  return *value;
}

int whole_of(const Tag& tag) {
  const double value = real_of(tag);
  if (value != std::floor(value) || std::abs(value) > 2147483647)
    throw IntakeError(at_line(tag.line), "expected a whole number, but found \"" +
                                             std::string(trimmed(tag.value).substr(0, 40)) + "\"");
  return static_cast<int>(value);
}

double real_in(std::span<const Tag> tags, int code, double fallback) {
  const Tag* tag = find(tags, code);
  return tag ? real_of(*tag) : fallback;
}

int whole_in(std::span<const Tag> tags, int code, int fallback) {
  const Tag* tag = find(tags, code);
  return tag ? whole_of(*tag) : fallback;
}

std::string_view text_in(std::span<const Tag> tags, int code, std::string_view fallback) {
  const Tag* tag = find(tags, code);
  return tag ? tag->value : fallback;
}

double real_needed(std::span<const Tag> tags, int code, const Record& record) {
  const Tag* tag = find(tags, code);
  if (!tag)
    throw IntakeError(at_line(record.line),
                      std::string(record.type.substr(0, 40)) + " lacks its group " + std::to_string(code));
  return real_of(*tag);
}

Vec2 place_needed(std::span<const Tag> tags, int code, const Record& record) {
  return {real_needed(tags, code, record), real_needed(tags, code + 10, record)};
}

}  // namespace haftwright::intake
