// What the verb bin can do, one function an action.
#pragma once

#include <filesystem>

#include "bin.hpp"
#include "haftwright/offcuts/bin.hpp"

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

// They change the bin in one turn (files/bin_file.hpp), or throw and leave it as it is.
int bin_add(const BinOptions& options, const BinPlace& place);
int bin_add_sheet(const BinOptions& options, const BinPlace& place);
int bin_add_rod(const BinOptions& options, const BinPlace& place);
int bin_change(const BinOptions& options, const BinPlace& place);
int bin_defect(const BinOptions& options, const BinPlace& place);
int bin_photo(const BinOptions& options, const BinPlace& place);
int bin_units(const BinOptions& options, const BinPlace& place);
int bin_remove(const BinOptions& options, const BinPlace& place);
int bin_cut(const BinOptions& options, const BinPlace& place);
int bin_reserve(const BinOptions& options, const BinPlace& place);
int bin_release(const BinOptions& options, const BinPlace& place);

/// Throws InputError for an id that nothing has, with the nearest one.
void require_there(const Bin& bin, const std::string& id);
/// The one name that the action is about.
const std::string& only_name(const BinOptions& options);

}  // namespace haftwright::command
