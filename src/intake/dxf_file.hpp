// A DXF file cut into its records: pairs of a group code and a value, each on a line of its own.
#pragma once

#include <cstdint>
#include <map>
#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "haftwright/intake/sketch.hpp"

namespace haftwright::intake {

struct Tag {
  std::string_view value;
  std::uint32_t line = 0;  ///< of the value
  std::int32_t code = 0;
};

/// What begins with a group 0.
struct Record {
  std::string_view type;
  std::uint32_t line = 0;
  std::uint32_t first = 0;  ///< of its tags
  std::uint32_t last = 0;
};

/// The records of a file or a block, a range of DxfFile::records.
struct RecordRange {
  std::size_t first = 0;
  std::size_t last = 0;
};

struct DxfBlock {
  Vec2 base{0, 0};
  RecordRange records;
};

struct DxfLayer {
  std::string name;
  bool off = false;
  bool frozen = false;
};

struct DxfFile {
  std::vector<Tag> tags;
  std::vector<Record> records;
  RecordRange entities;
  std::vector<DxfLayer> layers;
  std::map<std::string, DxfBlock> blocks;  ///< by their names in lower case
  std::optional<int> ins_units;            ///< $INSUNITS
  std::optional<int> measurement;          ///< $MEASUREMENT

  std::span<const Tag> tags_of(const Record& record) const {
    return {tags.data() + record.first, record.last - record.first};
  }
};

/// `bytes` must outlive the file.
DxfFile read_dxf_file(std::string_view bytes);

/// Finite and of a size that a length can have.
double real_of(const Tag& tag);
int whole_of(const Tag& tag);
/// The first tag of that code as a number, or `fallback` where there is none.
double real_in(std::span<const Tag> tags, int code, double fallback);
int whole_in(std::span<const Tag> tags, int code, int fallback);
std::string_view text_in(std::span<const Tag> tags, int code, std::string_view fallback);
/// The same where it must be there.
double real_needed(std::span<const Tag> tags, int code, const Record& record);
/// The place whose x has that code, and y the code 10 further on.
Vec2 place_needed(std::span<const Tag> tags, int code, const Record& record);

}  // namespace haftwright::intake
