// Reading what was typed for the verb bin. Everything throws InputError with the option that it was typed
// for.
#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "bin.hpp"
#include "haftwright/offcuts/bin.hpp"

namespace haftwright::command {

/// Numbers without a unit are in the bin's.
class TypedReader {
 public:
  TypedReader(std::string option, LengthUnit unit) : option_(std::move(option)), unit_(unit) {}

  double length_mm(std::string_view text) const;
  double number(std::string_view text) const;
  int whole(std::string_view text) const;
  /// "120x40", "5 in x 40 mm x 22": so many lengths.
  std::vector<double> lengths_mm(std::string_view text, std::size_t least, std::size_t most) const;
  Vec2 point_mm(std::string_view text) const;
  /// "X,Y; X,Y,BULGE; X,Y", or the name of a file with one such point in a line.
  std::vector<Node> chain(const std::string& text) const;
  /// "X,Y,DIAMETER".
  std::vector<Node> circle(std::string_view text) const;
  /// "PX,PY=X,Y".
  PhotoMark mark(std::string_view text) const;
  template <class Names>
  auto named(const std::string& text, const Names& names) const {
    std::string known;
    for (const auto& entry : names) {
      if (entry.name == text) return entry.value;
      known += (known.empty() ? "" : ", ") + std::string(entry.name);
    }
    refuse("must be one of " + known + ", but is \"" + text + "\"");
  }
  [[noreturn]] void refuse(std::string what) const;

 private:
  std::string option_;
  LengthUnit unit_;
};

/// The text's parts between separators, without the room around them; an empty text has none.
std::vector<std::string_view> parted(std::string_view text, char separator);

/// Sets the fields that were typed on an offcut, a sheet or a rod of that bin. Throws InputError for an
/// option that is about another kind of thing.
void set_fields(const BinOptions& options, const Bin& bin, Offcut& offcut);
void set_fields(const BinOptions& options, const Bin& bin, SheetStock& sheet);
void set_fields(const BinOptions& options, const Bin& bin, RodStock& rod);
/// What was typed of a photo, all else as it is in `photo`.
OffcutPhoto photo_typed(const BinOptions& options, LengthUnit unit, OffcutPhoto photo);
/// Whether any field was typed.
bool any_field(const BinOptions& options);

/// The key of the one material that was meant, or the text itself for validate() to refuse.
std::string material_key(const Bin& bin, const std::string& text);

}  // namespace haftwright::command
