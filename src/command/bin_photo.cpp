// Photos of offcuts that the bin keeps, and the frame that is printed for them.
#include <nlohmann/json.hpp>

#include "bin_actions.hpp"
#include "bin_typed.hpp"
#include "haftwright/design/ids.hpp"
#include "haftwright/design/quantities.hpp"
#include "haftwright/design/validate.hpp"
#include "haftwright/files/bin_file.hpp"
#include "haftwright/files/safe_write.hpp"
#include "haftwright/photos/squared.hpp"
#include "haftwright/pictures/frame.hpp"
#include "haftwright/pictures/read_picture.hpp"
#include "reports.hpp"
#include "terminal.hpp"
#include "verbs.hpp"

namespace haftwright::command {
namespace {

using Json = nlohmann::ordered_json;
namespace fs = std::filesystem;

// Enough to have every byte of the file decoded; the picture itself is not needed.
constexpr int kLooked_at_px = 512;
// Fine enough for round dots, and for the smallest words of the sheet.
constexpr double kFrame_dpi = 300;

constexpr const char* kHowToUseFrame =
    "Print it at true size (100 %, not fitted to the page) and measure its line of 100 mm; where that is\n"
    "longer or shorter, give its length with --printed-line. Lay the frame flat round the offcut, with its\n"
    "middle cut out and raised to the height of the offcut's face if you can, and nothing on its band. Take\n"
    "the picture with the main lens from straight above the offcut, rather from farther away, in light from\n"
    "two sides. Then: haftwright bin trace --frame --file PICTURE --above LENGTH, where LENGTH is how far\n"
    "the face lies above the frame, 0 if it does not.\n";

/// One that is there already under that name is marked anew; else it is new.
void set_photo(const BinOptions& options, LengthUnit unit, const std::string& file, Offcut& offcut) {
  for (OffcutPhoto& photo : offcut.photos)
    if (photo.file == file) {
      photo = photo_typed(options, unit, photo);
      return;
    }
  OffcutPhoto fresh;
  fresh.file = file;
  offcut.photos.push_back(photo_typed(options, unit, std::move(fresh)));
}

void remove_photo(const BinOptions& options, LengthUnit unit, Offcut& offcut) {
  const std::size_t at = index_typed(options.remove, "--remove", unit);
  if (at >= offcut.photos.size())
    throw InputError("--remove", schema::quoted(offcut.id) + " has no photo " + std::to_string(at + 1));
  offcut.photos.erase(offcut.photos.begin() + static_cast<std::ptrdiff_t>(at));
}

/// Reads the whole picture, as a damaged one may show it only at its end.
PictureFacts looked_at(const fs::path& picture) {
  try {
    read_picture(picture, {}, kLooked_at_px);
    return picture_facts(picture);
  } catch (const PictureError& error) {
    throw InputError("--file", schema::quoted(picture.string()) + ": " + error.what());
  }
}

/// What the marks are worth, in words and as JSON; empty for a photo without any.
std::string squared_words(const Offcut& offcut, const std::string& file, const PictureFacts& facts,
                          LengthUnit unit, Json& json) {
  for (const OffcutPhoto& photo : offcut.photos) {
    if (photo.file != file || photo.marks.empty()) continue;
    try {
      const Squaring squaring = squaring_of(photo, facts);
      const PlaceBound bound = largest_bound(squaring, photo.face, offcut.outline);
      const auto residual = squaring.largest_residual_mm();
      json["residual_mm"] = residual ? Json(*residual) : Json(nullptr);
      json["bound_mm"] = bound.total_mm();
      return "; " +
             (residual ? "the marks agree within " + format_length(*residual, unit)
                       : "four marks always agree, a fifth would show a slip") +
             "; a place on the wood may be off by at most " + bound_words(bound, unit);
    } catch (const SquaringError& error) {
      throw InputError("--mark", error.what());
    }
  }
  return "";
}

FrameSize paper_typed(const std::string& name) {
  constexpr schema::Named<FrameSize> kPapers[] = {
      {"a5", FrameSize::a5}, {"a4", FrameSize::a4}, {"a3", FrameSize::a3}, {"letter", FrameSize::letter}};
  return TypedReader("--paper", LengthUnit::millimetre).named(name, kPapers);
}

}  // namespace

fs::path picture_place(const fs::path& given, const BinPlace& place) {
  std::error_code ignored;
  const fs::path kept = picture_folder(place.path) / given.filename();
  return !fs::exists(given, ignored) && fs::exists(kept, ignored) ? kept : given;
}

std::string kept_picture(const fs::path& given, const BinPlace& place) {
  const fs::path found = picture_place(given, place);
  return found == given ? keep_picture(given, place.path) : found.filename().string();
}

int bin_photo(const BinOptions& options, const BinPlace& place) {
  const std::string& id = only_name(options);
  if (options.file.has_value() == options.remove.has_value())
    throw InputError("--file", "give --file, the picture, or --remove");
  std::string file = options.file ? fs::path(*options.file).filename().string() : "";
  const auto edit = [&](const Bin& before) {
    require_there(before, id);
    return made(change_offcut(before, id, [&](Offcut& offcut) {
      if (options.file)
        set_photo(options, before.shown_unit, file, offcut);
      else
        remove_photo(options, before.shown_unit, offcut);
    }));
  };
  std::string words;
  Json json = Json::object();
  if (options.file) {
    // No picture is kept for marks that are refused.
    const Bin tried = edit(read_bin(place.path));
    bin_text(tried);
    const PictureFacts facts = looked_at(picture_place(*options.file, place));
    words = squared_words(tried.offcuts[index_of(tried.offcuts, id)], file, facts, tried.shown_unit, json);
    file = kept_picture(*options.file, place);
  }
  const Bin bin = change_bin(place.path, edit);
  const std::size_t count = bin.offcuts[index_of(bin.offcuts, id)].photos.size();
  return report(
      options, place, bin,
      "Changed: " + id + " has " + std::to_string(count) + (count == 1 ? " photo" : " photos") + words, {id},
      json);
}

int bin_frame(const BinOptions& options, const BinPlace&) {
  const std::string paper = options.paper.value_or("a4");
  const FrameSize size = paper_typed(paper);
  const std::string ending = options.output.extension().string();
  std::string bytes;
  if (ending == ".pdf")
    bytes = frame_pdf(size);
  else if (ending == ".svg")
    bytes = frame_svg(size);
  else if (ending == ".png")
    bytes = png_bytes(frame_photo(size, kFrame_dpi), kFrame_dpi);
  else
    throw InputError("--output",
                     "must end in .pdf, .svg or .png, but is " + schema::quoted(options.output.string()));
  write_file_safely(options.output, bytes);
  if (options.json) {
    print_json({{"program", "haftwright"},
                {"version", HAFTWRIGHT_VERSION},
                {"written", options.output.string()},
                {"paper", paper}});
    return good;
  }
  print("Written: " + options.output.string() + "\n" + kHowToUseFrame);
  return good;
}

}  // namespace haftwright::command
