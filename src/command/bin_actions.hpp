// What the verb bin can do, one function an action.
#pragma once

#include <filesystem>
#include <nlohmann/json.hpp>
#include <string>
#include <vector>

#include "bin.hpp"
#include "haftwright/offcuts/bin.hpp"
#include "haftwright/offcuts/bin_edits.hpp"

namespace haftwright::command {

/// Which bin is in force.
struct BinPlace {
  std::filesystem::path path;
  bool there = false;
};

// They look.
int bin_list(const BinOptions& options, const BinPlace& place);
int bin_show(const BinOptions& options, const BinPlace& place);
int bin_check(const BinOptions& options, const BinPlace& place);
/// Writes the frame to be printed; needs no bin.
int bin_frame(const BinOptions& options, const BinPlace& place);

// They change the bin in one turn (files/bin_file.hpp), or throw and leave it as it is.
int bin_add(const BinOptions& options, const BinPlace& place);
int bin_add_sheet(const BinOptions& options, const BinPlace& place);
int bin_add_rod(const BinOptions& options, const BinPlace& place);
int bin_change(const BinOptions& options, const BinPlace& place);
int bin_defect(const BinOptions& options, const BinPlace& place);
int bin_photo(const BinOptions& options, const BinPlace& place);
/// Changes it only where it is said which offcut the outline is of.
int bin_trace(const BinOptions& options, const BinPlace& place);
int bin_units(const BinOptions& options, const BinPlace& place);
int bin_remove(const BinOptions& options, const BinPlace& place);
int bin_cut(const BinOptions& options, const BinPlace& place);
int bin_reserve(const BinOptions& options, const BinPlace& place);
int bin_release(const BinOptions& options, const BinPlace& place);

/// Throws InputError for an id that nothing has, with the nearest one.
void require_there(const Bin& bin, const std::string& id);
/// The one name that the action is about.
const std::string& only_name(const BinOptions& options);

/// What came of an edit, or its refusal as an error.
Bin made(EditedBin edited);
/// One line, or JSON with what these ids are now (null for one that is gone), and `more` beside it.
int report(const BinOptions& options, const BinPlace& place, const Bin& bin, const std::string& words,
           const std::vector<std::string>& ids,
           const nlohmann::ordered_json& more = nlohmann::ordered_json::object());
/// Where the picture that was named lies: there, or by its name alone among those that the bin keeps.
std::filesystem::path picture_place(const std::filesystem::path& given, const BinPlace& place);
/// The name of a picture in the bin's folder, copied there if it is not there yet.
std::string kept_picture(const std::filesystem::path& given, const BinPlace& place);
/// Throws InputError where an option that is needed was not typed.
void require(const std::optional<std::string>& typed, const char* option, const char* what);
/// Index of defect 1, photo 1 and so on.
std::size_t index_typed(const std::optional<std::string>& typed, const char* option, LengthUnit unit);

}  // namespace haftwright::command
